//! Which single answer, were it wrong, would put another cause in the lead.

use std::borrow::Cow;

use rayon::prelude::*;

use super::leave_one_out::Without;
use super::posterior::{Posterior, lead};
use super::what_if::WhatIf;
use crate::ranking::model::{Belief, Factor, Network};
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
    /// That cause's probability then.
    pub probability: f64,
}

/// Each way in which one piece of evidence could be wrong and the lead be another; `posterior` and
/// what [`without_each`](crate::ranking::without_each) gives must come from the same evidence. A way
/// that would make the rest impossible is no way to be wrong.
///
/// ```
/// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, overturns, without_each};
/// # let link = |cause, strength| Link { cause, strength };
/// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
/// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
/// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
/// let evidence = [Factor::yes(0), Factor::yes(1)];
/// let seen = posterior(&network, &Belief::start(), &evidence)?;
/// let without = without_each(&network, &Belief::start(), &evidence, &seen);
/// let overturns = overturns(&network, &Belief::start(), &evidence, &seen, &without);
/// // The other cause would lead, were the second finding false.
/// assert!(overturns.iter().any(|one| one.at.index == 1 && one.lead == 1));
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
pub fn overturns(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
    posterior: &Posterior,
    without: &[Without],
) -> Vec<Overturn> {
    let what_if = WhatIf::new(network, belief, factors, posterior);
    let evidence = what_if.evidence();
    let worthless = |index: usize| {
        let (at, factor) = evidence[index];
        // Evidence on a single finding is worthless where that finding is left out.
        let is_single = matches!(factor, Factor::Single { .. });
        let known = without.iter().find(|known| is_single && known.at == at);
        match known {
            Some(known) => Some(Cow::Borrowed(&known.probabilities)),
            None => what_if.probabilities(index, None).map(Cow::Owned),
        }
    };
    let turned_round = |index: usize| {
        let turned = turned_round(evidence[index].1)?;
        what_if.probabilities(index, Some(&turned)).map(Cow::Owned)
    };
    let overturned = |index: usize| {
        let ways =
            [(Wrong::Worthless, worthless(index)), (Wrong::TurnedRound, turned_round(index))];
        ways.into_iter().filter_map(move |(wrong, probabilities)| {
            let probabilities = probabilities?;
            let lead = lead(&probabilities).filter(|lead| Some(*lead) != posterior.lead())?;
            let at = evidence[index].0;
            Some(Overturn { at, wrong, lead, probability: probabilities[lead] })
        })
    };
    (0..evidence.len()).into_par_iter().flat_map_iter(overturned).collect()
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
