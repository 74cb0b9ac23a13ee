//! The other ways out that a person has beside a repair.

use crate::interview::state::State;
use crate::rules::{CauseId, RepairId};

/// The other ways out that stand with a repair: those that mend the likeliest of its causes, and those
/// that mend nothing and leave the fault as it is. None that is forbidden.
#[must_use]
pub fn alternatives(state: &State<'_>, repair: RepairId) -> Vec<RepairId> {
    let pack = state.pack;
    let chance = |cause: &CauseId| state.ranked.probability(*cause);
    let mends = pack.repairs[repair].mends.iter().copied();
    let likeliest = mends.max_by(|a, b| chance(a).total_cmp(&chance(b)));
    let is_way_out = |other: &RepairId| {
        let other_mends = &pack.repairs[*other].mends;
        other_mends.is_empty() || likeliest.is_some_and(|cause| other_mends.contains(&cause))
    };
    let named = pack.repairs[repair].alternatives.iter().copied();
    named.filter(is_way_out).filter(|other| !state.danger.forbids_repair(*other)).collect()
}
