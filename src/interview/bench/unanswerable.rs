//! Answers of a pack's own cases that no question takes. How answers are read is known here and not
//! where packs are linked, so that this is looked at on the linked pack.

use crate::interview::answers::round::{Refused, Round};
use crate::rules::yaml::RouteStep;
use crate::rules::{Fault, FaultPlace, Mark, Pack, Severity};

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
            let said = error.to_string();
            let (message, help) = said.split_once(": ").unwrap_or((&said, "look at the question"));
            let route = ["cases", case_id, "answers", &id];
            faults.push(Fault {
                code: "no-answer",
                severity: Severity::Warning,
                message: message.to_owned(),
                place: FaultPlace {
                    file: case.file,
                    route: route.iter().map(|key| RouteStep::Key((*key).to_owned())).collect(),
                    mark: Mark::Value,
                },
                label: String::new(),
                other: None,
                help: help.to_owned(),
            });
        }
    }
    faults
}
