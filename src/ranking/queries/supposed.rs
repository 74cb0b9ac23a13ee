//! What would be believed if one thing more were seen.

use rayon::prelude::*;

use super::posterior::Posterior;
use super::what_if::WhatIf;
use crate::ranking::model::{Belief, Factor, Network};
use crate::ranking::refusal::Refusal;

/// Each cause's probability with each of these pieces of evidence seen beside the rest, one at a time;
/// nothing for one that is impossible beside the rest. `believed` must come from the same evidence.
/// Where that counts every set so does this; elsewhere its listed sets are weighed anew, and what more
/// evidence does to the odds is taken from them.
///
/// ```
/// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, with_each};
/// # let link = |cause, strength| Link { cause, strength };
/// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
/// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
/// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
/// let (start, evidence) = (Belief::start(), [Factor::yes(0)]);
/// let believed = posterior(&network, &start, &evidence)?;
/// let supposed = with_each(&network, &start, &evidence, &believed, &[Factor::yes(1)])?;
/// // Just what is believed once it has been seen.
/// let seen = posterior(&network, &start, &[Factor::yes(0), Factor::yes(1)])?;
/// let first = supposed[0].as_ref().map(|chances| chances[0]);
/// assert!(first.is_some_and(|chance| (chance - seen.probabilities()[0]).abs() < 1e-12));
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
///
/// # Errors
/// [`Refusal`] where an index or a number of the new evidence is out of range.
pub fn with_each(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
    believed: &Posterior,
    more: &[Factor],
) -> Result<Vec<Option<Vec<f64>>>, Refusal> {
    more.iter().try_for_each(|factor| factor.check(network))?;
    let what_if = WhatIf::new(network, belief, factors, believed);
    Ok(more.par_iter().map(|factor| what_if.with_one_more(factor)).collect())
}
