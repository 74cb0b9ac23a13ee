//! Cases: the pack's own tests.

use super::entries::entries;
use super::linker::Linker;
use crate::rules::pack::{Case, Pack};
use crate::rules::table::CauseId;

const MAX_RANKED: usize = 100;
const MAX_QUESTIONS: usize = 10_000;

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack) {
    let stack = linker.stack;
    for (at, written) in entries("cases", &stack.cases) {
        if written.complaint.is_none() {
            linker.lacking(at, "complaint", "its interview asks nothing of its own");
        }
        if written.then.is_none() {
            linker.lacking(at, "then", "it can't fail");
        }
        let complaints = written.complaint.as_ref().map(|ids| ids.0.clone());
        for id in written.answers.iter().flatten().map(|(id, _)| id) {
            if !stack.questions.contains_key(id) {
                let spot = at.field("answers").under(id).on_key();
                linker.unknown(&spot, id, stack.questions.keys().map(String::as_str), "a question");
            }
        }
        let then = written.then.clone().unwrap_or_default();
        let spot = at.field("then");
        let mut among_first: Vec<(CauseId, usize)> = Vec::new();
        for (cause, count) in then.among_first.iter().flatten() {
            let spot = spot.under("among_first").under(cause);
            let place = linker.place(&spot.on_key(), cause, &stack.causes, "a cause");
            let count = linker.count(&spot, count, 1..=MAX_RANKED);
            among_first.extend(place.zip(count));
        }
        let most = then.questions_at_most.as_ref();
        let case = Case {
            file: at.file(),
            about: linker.text(&at.field("about"), written.about.as_ref()),
            complaints: linker.places(
                &at.field("complaint"),
                complaints.as_ref(),
                &stack.complaints,
                "a complaint",
            ),
            answers: written.answers.clone().unwrap_or_default(),
            first: linker.place_of(
                &spot.under("first"),
                then.first.as_ref(),
                &stack.causes,
                "a cause",
            ),
            among_first,
            cautions: linker.cautions(&spot.under("cautions"), then.cautions.as_ref()),
            no_cautions: linker.cautions(&spot.under("no_cautions"), then.no_cautions.as_ref()),
            repair: linker.place_of(
                &spot.under("repair"),
                then.repair.as_ref(),
                &stack.repairs,
                "a repair",
            ),
            questions_at_most: most.and_then(|most| {
                linker.count(&spot.under("questions_at_most"), most, 1..=MAX_QUESTIONS)
            }),
        };
        linker.sources(&at.field("source"), written.source.as_ref());
        pack.cases.insert(at.id().to_owned(), case);
    }
}
