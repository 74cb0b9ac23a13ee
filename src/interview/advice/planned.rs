//! Work that a person asked to have planned, with or without a fault, and what must be measured first.

use crate::interview::state::State;
use crate::rules::{QuestionId, RepairId};

/// The work whose plan was asked for and that nothing forbids; none once the complaint is gone.
#[must_use]
pub fn planned_work(state: &State<'_>) -> Vec<RepairId> {
    let pack = state.pack;
    let is_planned = |repair: &RepairId| {
        let when = pack.repairs[*repair].planned_when.as_ref();
        when.is_some_and(|when| state.facts.holds(when)) && !state.danger.forbids_repair(*repair)
    };
    if state.cured { Vec::new() } else { pack.repairs.indices().filter(is_planned).collect() }
}

/// What must be answered before this work is done and is not, as far as it is known to fit the car.
#[must_use]
pub fn open_needs(state: &State<'_>, repair: RepairId) -> Vec<QuestionId> {
    let pack = state.pack;
    let fits = |question: &QuestionId| {
        let fits = pack.questions[*question].fits.as_ref();
        fits.is_none_or(|fits| state.facts.holds(fits))
    };
    let needs = pack.repairs[repair].needs.iter().copied();
    needs.filter(|question| !state.facts.answered(*question)).filter(fits).collect()
}
