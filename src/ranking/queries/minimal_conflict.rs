//! Which pieces of evidence cannot all be true.

use crate::ranking::inference::{components, is_possible};
use crate::ranking::model::{Belief, Factor, Network};
use crate::ranking::refusal::FactorAt;

/// A smallest clashing subset, by deletion filter (Chinneck & Dravnieks, "Locating minimal infeasible
/// constraint sets in linear programs", *ORSA Journal on Computing* 3, 1991): each factor is left out
/// for good where the rest clash without it. Past rounds are tried first, so that what stays is what
/// the person can still answer anew.
pub(super) fn minimal_conflict(
    network: &Network,
    belief: &Belief,
    evidence: Vec<(FactorAt, &Factor)>,
) -> Vec<FactorAt> {
    let fits = |evidence: &[(FactorAt, &Factor)]| {
        let components = components(network, evidence, belief);
        components.is_some_and(|components| components.iter().all(is_possible))
    };
    let mut kept = evidence;
    let mut index = 0;
    while index < kept.len() {
        let one = kept.remove(index);
        if fits(&kept) {
            kept.insert(index, one);
            index += 1;
        }
    }
    kept.into_iter().map(|(at, _)| at).collect()
}
