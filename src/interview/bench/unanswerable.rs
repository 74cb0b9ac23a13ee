//! Answers of a pack's own cases that no question takes. How answers are read is known here and not
//! where packs are linked, so that this is looked at on the linked pack.

use crate::interview::answers::answer_error::AnswerError;
use crate::interview::answers::round::{Refused, Round};
use crate::rules::yaml::RouteStep;
use crate::rules::{Code, Fault, FaultKind, FaultPlace, Mark, Pack, Severity, Told};

/// Every such answer, with its place in the file of its case. The pack can be used all the same;
/// the case can't.
#[must_use]
pub fn unanswerable(pack: &Pack) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (case_id, case) in &pack.cases {
        let Err(refused) = Round::default().read_answers(pack, &case.answers) else { continue };
        for refused in refused {
            // That a question is unknown was said when the pack was linked.
            let Refused::Answer { id, error } = refused else { continue };
            let route = ["cases", case_id, "answers", &id];
            let place = FaultPlace {
                file: case.file,
                route: route.iter().map(|key| RouteStep::Key((*key).to_owned())).collect(),
                mark: Mark::Value,
            };
            faults.push(Fault { severity: Severity::Warning, ..Fault::new(error, place) });
        }
    }
    faults
}

impl FaultKind for AnswerError {
    fn told(&self) -> Told {
        Told::explained(Code::NoAnswer, self.explained())
    }
}
