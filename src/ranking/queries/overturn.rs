//! Which single answer, were it wrong, would put another cause in the lead.

use std::borrow::Cow;

use super::leave_one_out::Without;
use super::posterior::{Posterior, lead};
use super::what_if::Supposing;
use crate::cores::on_all;
use crate::ranking::model::belief::Belief;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::Network;
use crate::ranking::refusal::FactorAt;

/// How a piece of evidence might be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// It tells nothing at all.
    Worthless,
    /// True was false, and false true.
    TurnedRound,
}

/// A piece of evidence that holds the lead where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Overturn {
    /// The piece of evidence.
    pub at: FactorAt,
    /// How it would have to be wrong.
    pub wrong: Wrong,
    /// The cause that would lead then.
    pub lead: usize,
    /// That cause's chance then.
    pub probability: f64,
}

/// Each way in which one piece of evidence could be wrong and the lead be another; `posterior` and
/// what [`without_each`](crate::ranking::without_each) gives must come from the same evidence. A way that would
/// make the rest impossible is no way to be wrong.
pub fn overturns(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
    posterior: &Posterior,
    without: &[Without],
) -> Vec<Overturn> {
    let supposing = Supposing::new(network, belief, factors, posterior);
    let evidence = supposing.evidence();
    let overturned = |index: usize| {
        let (at, factor) = evidence[index];
        let turned = turned_round(factor);
        let ways = [(Wrong::Worthless, None), (Wrong::TurnedRound, turned.as_ref())];
        let mut found = Vec::new();
        for (wrong, replacement) in ways {
            if wrong == Wrong::TurnedRound && replacement.is_none() {
                continue;
            }
            // Evidence on a single finding is worthless where that finding is left out.
            let known = without.iter().find(|known| {
                replacement.is_none() && known.at == at && matches!(factor, Factor::Single { .. })
            });
            let chances = match known {
                Some(known) => Some(Cow::Borrowed(&known.probabilities)),
                None => supposing.chances(index, replacement).map(Cow::Owned),
            };
            let Some(probabilities) = chances else { continue };
            if let Some(lead) = lead(&probabilities).filter(|lead| Some(*lead) != posterior.lead())
            {
                found.push(Overturn { at, wrong, lead, probability: probabilities[lead] });
            }
        }
        found
    };
    let all = on_all(evidence.len(), |some| some.map(overturned).collect());
    all.into_iter().flatten().collect()
}

/// Evidence on one finding with true and false exchanged. The options of a choice have no opposite.
fn turned_round(factor: &Factor) -> Option<Factor> {
    match factor {
        Factor::Single { finding, yes, no } => {
            Some(Factor::Single { finding: *finding, yes: *no, no: *yes })
        }
        Factor::Group { .. } => None,
    }
}
