//! What is said after an answer: how it was understood, what it means, what could be worked out,
//! how the ranking moved, what must not be done from now on.

use crate::formula::{Node, VarId};
use crate::interview::{Answer, Origin, State, origin};
use crate::quantity::{print_chance, print_value};
use crate::rules::{AnswerForm, FindingId, QuestionId, SourceId, WorkingId};

use crate::terminal::dialogue::announced::Announced;
use crate::terminal::dialogue::cautions::cautions;
use crate::terminal::dialogue::lead_words::moved;
use crate::terminal::screen::page::{Page, Voice};

/// More would bury what matters; the conclusion has them all.
const MAX_FINDINGS: usize = 2;
const MAX_WORKINGS: usize = 2;
/// A finding this likely needs no word about its chance.
const SURE: f64 = 0.9;

/// All that is said once an answer is kept.
#[must_use]
pub(in crate::terminal) fn after(
    before: &State<'_>,
    now: &State<'_>,
    question: QuestionId,
    announced: &mut Announced,
) -> Page {
    let mut page = Page::default();
    page.add(Voice::Plain, understood(now, question));
    page.extend(implied(before, now, question));
    page.extend(meanings(before, now, question));
    page.extend(workings(before, now, question));
    page.add(Voice::Lead, moved(before, now));
    page.extend(cautions(now.pack, &announced.new_ones(&now.danger.in_force)));
    page
}

/// A reading with its uncertainty, or the typical value that stands in for it.
fn understood(now: &State<'_>, question: QuestionId) -> String {
    let asked = &now.pack.questions[question];
    let answer = now.facts.held.get(&question).map(|held| &held.answer);
    match (answer, &asked.answer) {
        (Some(Answer::Number(_)), _) => now
            .facts
            .shown_answer(question)
            .map_or_else(String::new, |shown| format!("Taken as {shown}.")),
        (Some(Answer::CantSay), AnswerForm::Measure(measure)) => match measure.typical {
            Some((value, uncertainty)) => format!(
                "Assumed: {}, a typical value. Unmeasured, it counts neither for nor against any \
                 cause.",
                print_value(value, uncertainty, &measure.unit, measure.kind)
            ),
            None => String::new(),
        },
        _ => String::new(),
    }
}

/// What this answer tells of other questions, which are not asked for that: each with the way to say
/// otherwise.
fn implied(before: &State<'_>, now: &State<'_>, question: QuestionId) -> Page {
    let (pack, held) = (now.pack, &now.facts.held);
    let news = held.keys().filter(|own| {
        **own != question
            && pack.questions[**own].list.is_none_or(|list| !held.contains_key(&list))
            && now.facts.answered(**own)
            && !before.facts.answered(**own)
    });
    let mut page = Page::default();
    for own in news {
        let Some(shown) = now.facts.shown_answer(*own) else { continue };
        let text = &pack.questions[*own].text;
        let says = format!("So that is told, too: {text} {shown}. If not, m lets you say so.");
        page.add(Voice::Quiet, says);
    }
    page
}

/// The findings that this answer made likely; where there are none, one that it ruled out.
fn meanings(before: &State<'_>, now: &State<'_>, question: QuestionId) -> Page {
    let pack = now.pack;
    let slots = slots(now, question);
    let chance = |state: &State<'_>, finding: FindingId| {
        state.facts.weigh(&pack.findings[finding].when).and_then(|weight| weight.decided())
    };
    let (mut likely, mut ruled_out) = (Vec::new(), None);
    for finding in pack.findings.indices() {
        let below = now.facts.evaluator.below(&pack.findings[finding].when.node);
        if !slots.iter().any(|slot| below.contains(slot)) {
            continue;
        }
        match (chance(before, finding), chance(now, finding)) {
            (old, Some(new)) if new > 0.5 && old.is_none_or(|old| old <= 0.5) => {
                likely.push(finding);
            }
            (None, Some(new)) if new < 1.0 - SURE => ruled_out = ruled_out.or(Some(finding)),
            _ => {}
        }
    }
    let mut page = Page::default();
    for finding in likely.iter().take(MAX_FINDINGS.max(picked(now, question))) {
        page.add(Voice::Plain, meaning(now, *finding));
    }
    if let Some(finding) = ruled_out.filter(|_| likely.is_empty()) {
        let says = now.facts.filled(&pack.findings[finding].says);
        page.add(Voice::Plain, format!("Ruled out: {says}"));
    }
    page
}

/// The slots of a question and of its options.
fn slots(now: &State<'_>, question: QuestionId) -> Vec<VarId> {
    let own = std::iter::once(&question).chain(now.pack.options_of(question));
    own.map(|own| now.pack.question_slot(*own)).collect()
}

/// How many options of a list were picked.
fn picked(now: &State<'_>, question: QuestionId) -> usize {
    match now.facts.held.get(&question).map(|held| &held.answer) {
        Some(Answer::Picked(picked)) => picked.len(),
        _ => 0,
    }
}

fn meaning(now: &State<'_>, finding: FindingId) -> String {
    let written = &now.pack.findings[finding];
    let says = now.facts.filled(&written.says);
    match now.facts.weigh(&written.when) {
        Some(weight) if weight.probability < SURE => {
            format!("{says} ({} likely)", print_chance(weight.probability))
        }
        _ => says,
    }
}

/// The workings that this answer made known or changed: those that the steps walked name first.
fn workings(before: &State<'_>, now: &State<'_>, question: QuestionId) -> Page {
    let pack = now.pack;
    let slots = slots(now, question);
    let mut found: Vec<WorkingId> = pack
        .workings
        .indices()
        .filter(|working| {
            let below = now.facts.evaluator.below(&pack.workings[*working].formula.node);
            slots.iter().any(|slot| below.contains(slot))
        })
        .filter(|working| is_new(before, now, *working))
        .filter(|working| !hands_on(now, *working, question))
        .collect();
    found.sort_by_key(|working| !now.walk.named.contains(working));
    let more = found.len().saturating_sub(MAX_WORKINGS);
    found.truncate(MAX_WORKINGS);
    let mut page = Page::default();
    for working in found {
        page.extend(working_lines(now, working));
    }
    if more > 0 {
        page.add(Voice::Quiet, format!("{more} more results; the conclusion lists them."));
    }
    page
}

fn is_new(before: &State<'_>, now: &State<'_>, working: WorkingId) -> bool {
    match (before.facts.worked(working), now.facts.worked(working)) {
        (_, None) => false,
        (None, Some(_)) => true,
        (Some(old), Some(new)) => old.band.value != new.band.value,
    }
}

/// A working that only hands an answer on says nothing new.
fn hands_on(now: &State<'_>, working: WorkingId, question: QuestionId) -> bool {
    let reading = match now.facts.held.get(&question).map(|held| &held.answer) {
        Some(Answer::Number(reading)) => reading.value,
        _ => return false,
    };
    now.facts.worked(working).is_some_and(|worked| worked.band.value == reading)
}

/// What it is, then how it came about, what was assumed, and the source.
fn working_lines(now: &State<'_>, working: WorkingId) -> Page {
    let (pack, facts) = (now.pack, &now.facts);
    let written = &pack.workings[working];
    let Some(shown) = facts.shown_working(working) else { return Page::default() };
    let mut page = Page::default();
    match facts.working_text(working, |own| own.value.clone()) {
        Some(says) => page.add(Voice::Plain, says),
        None => page.add(Voice::Plain, format!("{}: {shown}.", pack.working_title(working))),
    }
    let assumed = match facts.assumed(&written.formula.node).len() {
        0 => String::new(),
        1 => ", with one typical value assumed".to_owned(),
        count => format!(", with {count} typical values assumed"),
    };
    let source = source(now, &written.formula.node, &written.sources);
    let came_about = match origin(facts, &written.formula) {
        Some(Origin::Sum { numbers, .. }) => format!("= {numbers}"),
        Some(Origin::Values(values)) => format!("From {values}"),
        None => "From the answers".to_owned(),
    };
    page.add(Voice::Quiet, format!("{came_about}{assumed} [{source}]"));
    page
}

/// The titles of the sources, else of the functions' books.
fn source(now: &State<'_>, node: &Node, sources: &[SourceId]) -> String {
    let mut titles: Vec<&str> =
        sources.iter().map(|source| now.pack.sources[*source].title.as_str()).collect();
    if titles.is_empty() {
        node.walk(&mut |part| {
            if let Node::Call { function, .. } = part
                && !titles.contains(&function.source)
            {
                titles.push(function.source);
            }
        });
    }
    if titles.is_empty() { "arithmetic".to_owned() } else { titles.join("; ") }
}
