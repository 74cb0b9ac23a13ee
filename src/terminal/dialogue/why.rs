//! "Why do you ask": what the step is for, and what the answer could show.

use std::sync::Arc;

use crate::formula::Memo;
use crate::interview::{Answer, Next, Reason, Round, State, fold_with};
use crate::quantity::print_chance;
use crate::rules::{AnswerForm, CauseId, QuestionId, TypedIndex};

use crate::terminal::dialogue::lead_words::{largest, lower};
use crate::terminal::screen::page::{Page, Voice};

/// The most options that are tried out.
const MAX_OPTIONS: usize = 8;
/// The most causes that are named.
const MAX_CAUSES: usize = 4;

/// Why the question is asked now. `rounds` are those that `state` was folded from.
#[must_use]
pub(in crate::terminal) fn why(
    state: &State<'_>,
    rounds: &[Round],
    next: Next,
    memo: &Arc<Memo>,
) -> Page {
    let pack = state.pack;
    let mut page = Page::of(Voice::Heading, "Why this question");
    page.add(Voice::Plain, pack.questions[next.question].why.as_deref().unwrap_or_default());
    page.add(Voice::Plain, reason(state, next));
    let tried = what_if(state, rounds, next.question, memo);
    if tried.is_empty() {
        page.add(Voice::Plain, bears_on(state, next.question));
    } else {
        page.extend(tried);
    }
    page
}

fn reason(state: &State<'_>, next: Next) -> String {
    let pack = state.pack;
    match next.reason {
        Reason::Step(step) => match &pack.steps[step].title {
            Some(title) => format!("Part of: {title}"),
            None => String::new(),
        },
        Reason::Before(question) => {
            format!("Needed before: {}", pack.questions[question].text)
        }
        Reason::Best => "Of the questions left, this one settles most for the time it \
            takes."
            .to_owned(),
        Reason::Volunteered => "You wanted to tell it.".to_owned(),
        Reason::AfterRepair => "The repair may have changed this.".to_owned(),
        Reason::PutOff => "You left it for later, and nothing else remains.".to_owned(),
    }
}

/// The causes that the findings on this question speak for or against, the likeliest first.
fn bears_on(state: &State<'_>, question: QuestionId) -> String {
    let pack = state.pack;
    let own = std::iter::once(&question).chain(pack.options_of(question));
    let slots: Vec<_> = own.map(|own| pack.question_slot(*own)).collect();
    let chance = |cause| state.ranked.probability(cause);
    let mut causes: Vec<CauseId> = pack
        .findings
        .iter()
        .filter(|(_, finding)| {
            let below = state.facts.evaluator.below(&finding.when.node);
            slots.iter().any(|slot| below.contains(slot))
        })
        .filter_map(|(place, _)| pack.network.finding(place.index()).ok())
        .flat_map(|finding| finding.links.iter().map(|link| CauseId::from_index(link.cause)))
        .collect();
    causes.sort_unstable();
    causes.dedup();
    causes.sort_by(|a, b| chance(*b).total_cmp(&chance(*a)));
    let named: Vec<String> = causes
        .iter()
        .take(MAX_CAUSES)
        .map(|cause| {
            format!("{} ({})", lower(&pack.causes[*cause].title), print_chance(chance(*cause)))
        })
        .collect();
    match (named.is_empty(), causes.len().saturating_sub(MAX_CAUSES)) {
        (true, _) => "It shows nothing by itself but is needed for a calculation.".to_owned(),
        (false, 0) => format!("It has a bearing on: {}.", named.join(", ")),
        (false, more) => format!("It has a bearing on: {} and {more} more.", named.join(", ")),
    }
}

/// Each possible answer supposed, with the lead it would bring.
fn what_if(state: &State<'_>, rounds: &[Round], question: QuestionId, memo: &Arc<Memo>) -> Page {
    let pack = state.pack;
    let answers: Vec<(String, Answer)> = match &pack.questions[question].answer {
        AnswerForm::YesOrNo => {
            vec![("yes".to_owned(), Answer::Truth(true)), ("no".to_owned(), Answer::Truth(false))]
        }
        AnswerForm::AnyOf(options) if options.len() <= MAX_OPTIONS => options
            .iter()
            .map(|option| (pack.questions[*option].text.clone(), Answer::Picked(vec![*option])))
            .chain([("none of these".to_owned(), Answer::Picked(Vec::new()))])
            .collect(),
        AnswerForm::Choose(options) if options.len() <= MAX_OPTIONS => options
            .values()
            .enumerate()
            .map(|(index, text)| (text.clone(), Answer::Option(index)))
            .collect(),
        _ => Vec::new(),
    };
    let mut lines = Vec::new();
    let mut moves = false;
    for (text, answer) in answers {
        let mut supposed = rounds.to_vec();
        if let Some(round) = supposed.last_mut() {
            round.give(question, answer);
        }
        let then = fold_with(pack, &supposed, None, memo);
        moves |= moved(state.ranked.probabilities(), then.ranked.probabilities());
        lines.push(format!("If \"{text}\": {}", outcome(state, &then)));
    }
    if !lines.is_empty() && !moves {
        lines = vec!["Whatever the answer, no cause becomes more or less likely.".to_owned()];
    }
    let mut page = Page::default();
    for line in lines {
        page.add(Voice::Plain, line);
    }
    page
}

/// Whether any chance came out otherwise, by more than can be seen.
fn moved(old: &[f64], new: &[f64]) -> bool {
    old.len() != new.len() || old.iter().zip(new).any(|(old, new)| (old - new).abs() > 0.0005)
}

/// The lead there would be, with where it stands now; else what rises most.
fn outcome(now: &State<'_>, then: &State<'_>) -> String {
    let Some(lead) = largest(then.ranked.probabilities()) else {
        return "that would contradict an earlier answer.".to_owned();
    };
    let chance = |state: &State<'_>| print_chance(state.ranked.probability(lead));
    let title = lower(&now.pack.causes[lead].title);
    format!("{title} would lead, {} → {}.", chance(now), chance(then))
}
