//! What speaks for and against a cause: its probability with each finding taken away again.

use rayon::prelude::*;

use super::posterior::Posterior;
use super::what_if::WhatIf;
use crate::ranking::model::{Belief, Factor, Network, Pattern, odds};
use crate::ranking::refusal::FactorAt;

/// The causes with one finding left out of the evidence.
#[derive(Debug, Clone, PartialEq)]
pub struct Without {
    /// The piece of evidence the finding belongs to.
    pub at: FactorAt,
    /// The finding left out.
    pub finding: usize,
    /// Each cause's probability without it.
    pub probabilities: Vec<f64>,
}

impl Without {
    /// The odds of a cause with the finding over its odds without it (the Bayes factor of the finding
    /// beside all else): above 1 the finding speaks for the cause, below 1 against it. Infinite where
    /// the finding makes it certain, 0 where it rules it out, 1 where it changes nothing. Nothing for
    /// an unknown cause.
    ///
    /// ```
    /// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, without_each};
    /// # let link = |cause, strength| Link { cause, strength };
    /// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
    /// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
    /// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
    /// let evidence = [Factor::yes(0), Factor::yes(1)];
    /// let seen = posterior(&network, &Belief::start(), &evidence)?;
    /// let without = without_each(&network, &Belief::start(), &evidence, &seen);
    /// // The second finding speaks for the cause that brings it.
    /// assert!(without[1].times(&seen, 0) > Some(5.0));
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn times(&self, posterior: &Posterior, cause: usize) -> Option<f64> {
        let with = *posterior.probabilities().get(cause)?;
        let without = *self.probabilities.get(cause)?;
        // Equal probabilities first: 0 against 0 and 1 against 1 have no quotient.
        if with == without { Some(1.0) } else { Some(odds(with) / odds(without)) }
    }
}

/// Leaves out each finding in turn, in all rounds; `posterior` must come from the same evidence. Of a
/// group just the finding's part of the patterns goes: patterns that were told apart by it alone
/// become one, with the sum of their weights, as if the finding had never been in the group.
///
/// ```
/// # use boostwright::ranking::{Belief, Factor, Finding, Link, Network, posterior, without_each};
/// # let link = |cause, strength| Link { cause, strength };
/// # let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
/// # let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
/// # let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
/// let evidence = [Factor::yes(0), Factor::yes(1)];
/// let seen = posterior(&network, &Belief::start(), &evidence)?;
/// let without = without_each(&network, &Belief::start(), &evidence, &seen);
/// assert_eq!(without[1].finding, 1);
/// // Without it both causes are as likely as each other.
/// let left = &without[1].probabilities;
/// assert!((left[0] - left[1]).abs() < 1e-12);
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
pub fn without_each(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
    posterior: &Posterior,
) -> Vec<Without> {
    let what_if = WhatIf::new(network, belief, factors, posterior);
    let evidence = what_if.evidence();
    let places: Vec<(usize, usize)> = evidence
        .iter()
        .enumerate()
        .flat_map(|(index, (_, factor))| (0..factor.findings().len()).map(move |at| (index, at)))
        .collect();
    let without = |(index, place): (usize, usize)| {
        let (at, factor) = evidence[index];
        let thinner = thin(factor, place);
        // Less evidence is never impossible where more was not.
        let probabilities = what_if.probabilities(index, thinner.as_ref())?;
        Some(Without { at, finding: factor.findings()[place], probabilities })
    };
    places.into_par_iter().filter_map(without).collect()
}

/// The factor without the finding at `place`; nothing where no other finding is left.
fn thin(factor: &Factor, place: usize) -> Option<Factor> {
    let Factor::Group { findings, patterns } = factor else { return None };
    let mut left = findings.clone();
    left.remove(place);
    let mut fewer: Vec<Pattern> = Vec::new();
    for pattern in patterns {
        let mut truths = pattern.truths.clone();
        truths.remove(place);
        match fewer.iter_mut().find(|known| known.truths == truths) {
            Some(known) => known.weight += pattern.weight,
            None => fewer.push(Pattern { truths, weight: pattern.weight }),
        }
    }
    (!left.is_empty()).then_some(Factor::Group { findings: left, patterns: fewer })
}
