//! Why a cause is ranked where it is: each finding with what it does to the odds.

use crate::ranking::without_each;
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

/// For each cause, by place: the findings that speak for it or against it, the strongest first.
#[must_use]
pub fn reasons(state: &State<'_>) -> Vec<Vec<Reason>> {
    let pack = state.pack;
    let mut found = vec![Vec::new(); pack.causes.len()];
    let Some(posterior) = state.ranked.posterior() else { return found };
    let factors: Vec<_> = state.evidence.iter().map(|evidence| evidence.factor.clone()).collect();
    for without in without_each(&pack.network, &state.belief, &factors, posterior) {
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
