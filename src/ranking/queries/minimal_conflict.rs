//! Which pieces of evidence cannot all be true.

use crate::ranking::inference::component::parts;
use crate::ranking::inference::solve;
use crate::ranking::model::belief::Belief;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::Network;
use crate::ranking::refusal::{FactorAt, Refusal};

/// A smallest clashing subset: each factor is left out for good where the rest clash without it.
/// Past rounds are tried first, so that what stays is what the person can still answer anew.
pub(super) fn contradiction(
    network: &Network,
    belief: &Belief,
    evidence: Vec<(FactorAt, &Factor)>,
) -> Refusal {
    let mut kept = evidence;
    let mut index = 0;
    while index < kept.len() {
        let one = kept.remove(index);
        if is_possible(network, belief, &kept) {
            kept.insert(index, one);
            index += 1;
        }
    }
    Refusal::Contradiction { factors: kept.into_iter().map(|(at, _)| at).collect() }
}

fn is_possible(network: &Network, belief: &Belief, evidence: &[(FactorAt, &Factor)]) -> bool {
    parts(network, evidence, belief).is_some_and(|parts| parts.iter().all(solve::is_possible))
}
