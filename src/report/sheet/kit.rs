//! The kit to fetch.

use super::doubles::ANY_OF;
use super::plan::Plan;
use crate::rules::{AnswerForm, Pack};

/// The tools and instruments that the plan needs, as they are first needed.
pub(super) fn kit(plan: &Plan, pack: &Pack) -> Vec<String> {
    let mut kit: Vec<String> = Vec::new();
    for question in plan.questions().map(|question| &pack.questions[question]) {
        let instruments = match &question.answer {
            AnswerForm::Measure(measure) => measure.read_with.as_slice(),
            _ => &[],
        };
        // Any one of the instruments that a reading may be taken with will do.
        let titles: Vec<&str> = instruments
            .iter()
            .map(|instrument| pack.instruments[*instrument].title.as_str())
            .collect();
        let instrument = (!titles.is_empty()).then(|| titles.join(ANY_OF));
        kit.extend(question.tools.iter().cloned().chain(instrument));
    }
    kit
}
