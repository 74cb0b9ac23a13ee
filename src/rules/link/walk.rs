//! Complaints and steps: where the walk starts, what each step asks, where it goes.

use super::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker};
use crate::rules::pack::{Branch, Complaint, Pack, Step};
use crate::rules::table::{Place, StepId};
use crate::rules::written as w;

/// The reserved last step.
pub(in crate::rules) const CONCLUDE: &str = "conclude";

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    complaints(linker, pack, formulas);
    let stack = linker.stack;
    for (at, written) in entries("steps", &stack.steps) {
        if at.id() == CONCLUDE {
            linker.error(
                "reserved-id",
                &at.key(),
                "conclude is the reserved last step",
                "give this step another id",
            );
        }
        if written.until.as_deref().is_some_and(|until| until != "clear") {
            linker.error(
                "until",
                &at.field("until"),
                "until knows only one word",
                "write until: clear",
            );
        }
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
            then: branches(linker, at, written, formulas),
        };
        pack.steps.push(at.id().to_owned(), step);
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
            gone_when: formulas.condition(
                linker,
                &at.field("gone_when"),
                written.gone_when.as_ref(),
            ),
        };
        pack.complaints.push(at.id().to_owned(), complaint);
    }
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
            linker.error(
                "missing-field",
                &spot,
                "a branch goes nowhere",
                "add go: with a step, or conclude",
            );
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
