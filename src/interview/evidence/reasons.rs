//! Why a cause is ranked where it is: each finding with what it does to the odds.

use crate::ranking::{Without, without_each};
use crate::rules::{FindingId, TypedIndex};

use crate::interview::state::State;

/// Odds that differ by less than this share are the same to anybody.
const NOTICED: f64 = 0.01;

/// A finding, and the odds of a cause with it over the odds without it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FindingReason {
    pub finding: FindingId,
    pub times: f64,
}

/// The causes' chances with each finding taken away again.
#[must_use]
pub fn without(state: &State<'_>) -> Vec<Without> {
    let Some(posterior) = state.ranked.posterior() else { return Vec::new() };
    let factors: Vec<_> = state.evidence.iter().map(|evidence| evidence.factor.clone()).collect();
    without_each(&state.pack.network, &state.belief, &factors, posterior)
}

/// For each cause, by index: the findings that speak for it or against it, the strongest first, each
/// once: as it spoke in the round where it spoke most.
/// `without` as the function of that name gives it.
#[must_use]
pub fn reasons(state: &State<'_>, without: &[Without]) -> Vec<Vec<FindingReason>> {
    let Some(posterior) = state.ranked.posterior() else {
        return vec![Vec::new(); state.pack.causes.len()];
    };
    // With its strength, since it is sorted by that.
    let reason = |without: &Without, cause: usize| {
        let times = without.times(posterior, cause)?;
        let finding = FindingId::from_index(without.finding);
        let noticed = (times - 1.0).abs() > NOTICED;
        noticed.then(|| (times.ln().abs(), FindingReason { finding, times }))
    };
    let of_cause = |cause: usize| {
        let mut reasons: Vec<(f64, FindingReason)> =
            without.iter().filter_map(|without| reason(without, cause)).collect();
        reasons.sort_by(|(a, _), (b, _)| b.total_cmp(a));
        let mut told = vec![false; state.pack.findings.len()];
        let first = |reason: &FindingReason| {
            told.get_mut(reason.finding.index()).is_none_or(|told| !std::mem::replace(told, true))
        };
        reasons.into_iter().map(|(_, reason)| reason).filter(first).collect()
    };
    (0..state.pack.causes.len()).map(of_cause).collect()
}
