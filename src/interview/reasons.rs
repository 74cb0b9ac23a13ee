//! Why a cause is ranked where it is: each finding with what it does to the odds.

use crate::ranking::{Without, without_each};
use crate::rules::{FindingId, Place};

use super::fold::State;

/// Odds that differ by less than this share are the same.
const NOTICED: f64 = 1e-6;

/// A finding, and the odds of a cause with it over the odds without it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reason {
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

/// For each cause, by place: the findings that speak for it or against it, the strongest first.
/// `without` as the function of that name gives it.
#[must_use]
pub fn reasons(state: &State<'_>, without: &[Without]) -> Vec<Vec<Reason>> {
    let mut found = vec![Vec::new(); state.pack.causes.len()];
    let Some(posterior) = state.ranked.posterior() else { return found };
    for without in without {
        for (cause, reasons) in found.iter_mut().enumerate() {
            let Some(times) = without.times(posterior, cause) else { continue };
            if (times - 1.0).abs() > NOTICED {
                reasons.push(Reason { finding: FindingId::from_index(without.finding), times });
            }
        }
    }
    for reasons in &mut found {
        let strength = |reason: &Reason| reason.times.ln().abs();
        reasons.sort_by(|a, b| strength(b).total_cmp(&strength(a)));
    }
    found
}
