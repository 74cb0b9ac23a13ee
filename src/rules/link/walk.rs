//! Complaints and steps: where the walk starts, what each step asks, where it goes.

use std::collections::HashSet;

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Better, Branch, Complaint, Pack, Step};
use crate::rules::question::AnswerForm;
use crate::rules::table::{QuestionId, StepId, TypedIndex};
use crate::rules::written as w;

/// The reserved last step.
pub(in crate::rules) const CONCLUDE: &str = "conclude";

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    complaints(linker, pack, formulas);
    let stack = linker.stack;
    for (at, written) in entries("steps", &stack.steps) {
        if at.id() == CONCLUDE {
            linker.note(&at.key(), LinkFault::ReservedId { id: CONCLUDE });
        }
        if let Some(until) = written.until.as_deref().filter(|until| *until != "clear") {
            linker.wrong_word(&at.field("until"), until, ["clear"], "end of asking");
        }
        asked_twice(linker, at, written);
        let step = Step {
            title: linker.text(&at.field("title"), written.title.as_ref()),
            ask: linker.places(
                &at.field("ask"),
                written.ask.as_ref(),
                &stack.questions,
                "a question",
            ),
            work: linker.places(
                &at.field("work"),
                written.work.as_ref(),
                &stack.workings,
                "a working",
            ),
            ask_best_of: linker.places(
                &at.field("ask_best_of"),
                written.ask_best_of.as_ref(),
                &stack.questions,
                "a question",
            ),
            until_clear: written.until.is_some(),
            then: branches(linker, at, written, formulas),
        };
        pack.steps.push(at.id().to_owned(), step);
    }
}

/// A question that one step asks more than once is asked only the first time.
fn asked_twice(linker: &mut Linker<'_>, at: At<'_>, written: &w::Step) {
    let mut asked = HashSet::new();
    for (field, named) in [("ask", &written.ask), ("ask_best_of", &written.ask_best_of)] {
        for (index, question) in named.iter().flatten().enumerate() {
            if !asked.insert(question) {
                let fault = LinkFault::AskedTwice { question: question.clone() };
                linker.note(&at.field(field).item(index), fault);
            }
        }
    }
}

fn complaints(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    if stack.complaints.is_empty() && !stack.questions.is_empty() {
        // Nothing to mark: the pack as a whole lacks it.
        linker.no_complaint();
    }
    for (at, written) in entries("complaints", &stack.complaints) {
        if written.start.is_none() {
            linker.missing(at, "start");
        }
        let start = written.start.as_ref().filter(|start| *start != CONCLUDE);
        let judged_by = written.judged_by.as_ref();
        let complaint = Complaint {
            title: linker.required(at, "title", written.title.as_ref()),
            about: linker.text(&at.field("about"), written.about.as_ref()),
            start: linker.place_of(&at.field("start"), start, &stack.steps, "a step"),
            shows: linker.places(
                &at.field("shows"),
                written.shows.as_ref(),
                &stack.findings,
                "a finding",
            ),
            judged_by: judged_by
                .and_then(|name| formulas.number(linker, &at.field("judged_by"), name))
                .map(|(slot, _)| slot),
            better: better(linker, at, written.better.as_deref()),
            comparable_within: comparable_within(linker, pack, at, written),
            gone_when: formulas.condition(
                linker,
                &at.field("gone_when"),
                written.gone_when.as_ref(),
            ),
            told_by: told_by(linker, pack, at, written),
            group: linker.text(&at.field("group"), written.group.as_ref()),
            common: common(linker, at, written),
            also: linker.texts(&at.field("also"), written.also.as_ref()),
        };
        pack.complaints.push(at.id().to_owned(), complaint);
    }
}

/// How many of those who come bring a complaint, 0 to 1.
fn common(linker: &mut Linker<'_>, at: At<'_>, written: &w::Complaint) -> f64 {
    let text = written.common.as_ref();
    text.and_then(|text| linker.chance(&at.field("common"), text)).unwrap_or(0.0)
}

/// A choice, one of whose options is `gone`.
fn told_by(
    linker: &mut Linker<'_>,
    pack: &Pack,
    at: At<'_>,
    written: &w::Complaint,
) -> Option<QuestionId> {
    let (id, spot, stack) = (written.told_by.as_ref(), at.field("told_by"), linker.stack);
    let question = linker.place_of(&spot, id, &stack.questions, "a question")?;
    if let AnswerForm::Choose(options) = &pack.questions[question].answer
        && options.contains_key("gone")
    {
        return Some(question);
    }
    let question = pack.questions.id(question).to_owned();
    linker.note(&spot, LinkFault::NoGone { question });
    None
}

fn better(linker: &mut Linker<'_>, at: At<'_>, word: Option<&str>) -> Option<Better> {
    match word? {
        "lower" => Some(Better::Lower),
        "higher" => Some(Better::Higher),
        other => {
            linker.wrong_word(&at.field("better"), other, ["lower", "higher"], "direction");
            None
        }
    }
}

/// `comparable_within: {air_temperature: 5 K}`.
fn comparable_within(
    linker: &mut Linker<'_>,
    pack: &Pack,
    at: At<'_>,
    written: &w::Complaint,
) -> Vec<(QuestionId, f64)> {
    let mut found = Vec::new();
    for (id, amount) in written.comparable_within.iter().flatten() {
        let spot = at.field("comparable_within").under(id);
        let stack = linker.stack;
        let Some(question) =
            linker.place::<QuestionId, _>(&spot.on_key(), id, &stack.questions, "a question")
        else {
            continue;
        };
        let AnswerForm::Measure(measure) = &pack.questions[question].answer else {
            linker.note(&spot, LinkFault::NotANumber { name: id.clone(), workings: false });
            continue;
        };
        match linker.any_value(&spot, amount) {
            Some((amount, dimension)) if dimension == measure.kind.dimension => {
                found.push((question, amount.abs()));
            }
            Some((_, given)) => {
                linker.note(&spot, LinkFault::AmountDimension { given, wanted: measure.kind });
            }
            None => {}
        }
    }
    found
}

fn branches(
    linker: &mut Linker<'_>,
    at: At<'_>,
    written: &w::Step,
    formulas: &Formulas,
) -> Vec<Branch> {
    let stack = linker.stack;
    let spot = at.field("then");
    let Some(then) = &written.then else {
        linker.missing(at, "then");
        return Vec::new();
    };
    let mut found = Vec::new();
    for (index, branch) in then.iter().enumerate() {
        let spot = spot.item(index);
        let when = formulas.condition(linker, &spot.under("when"), branch.when.as_ref());
        let Some(go) = &branch.go else {
            linker.note(&spot, LinkFault::BranchNowhere);
            continue;
        };
        let place: Option<StepId> = if go == CONCLUDE {
            None
        } else if let Some(index) = stack.steps.get_index_of(go) {
            Some(StepId::from_index(index))
        } else {
            let known = stack.steps.keys().map(String::as_str).chain([CONCLUDE]);
            linker.unknown(&spot.under("go"), go, known, "a step");
            continue;
        };
        found.push(Branch { when, go: place });
    }
    found
}
