//! What earlier rounds leave behind: their evidence, and the repair done after each.
//!
//! A belief keeps the evidence itself rather than a list of the sets that were likely at the time.
//! A set that was negligible in round one may be all that is left in round two; nothing is lost here,
//! and the update is exactly the one a belief over sets would have made.

use super::factor::Factor;
use super::network::Network;
use super::probability::check_probability;
use crate::ranking::distinct::distinct;
use crate::ranking::refusal::{FactorAt, Refusal};

/// One round that is over, and the repair that ended it.
#[derive(Debug, Clone, PartialEq)]
struct PastRound {
    factors: Vec<Factor>,
    mended: Vec<usize>,
    succeeds: f64,
}

/// What is believed about the causes as a round begins.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Belief {
    past: Vec<PastRound>,
    /// Causes that this car can't have, sorted.
    ruled_out: Vec<usize>,
}

impl Belief {
    /// Nothing seen yet: the network's priors.
    ///
    /// ```
    /// use boostwright::ranking::{Belief, Network, posterior};
    ///
    /// let network = Network::new(vec![0.02], Vec::new())?;
    /// let seen = posterior(&network, &Belief::start(), &[])?;
    /// assert!((seen.probabilities()[0] - 0.02).abs() < 1e-12);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn start() -> Self {
        Self::default()
    }

    /// The belief after one more round: its evidence `factors`, then a repair that mends each of the
    /// causes `mended`, where present, with the probability `succeeds` (0 to 1), each on its own. A
    /// cause not named stays as it was. With no cause named, the round just adds its evidence.
    ///
    /// ```
    /// use boostwright::ranking::{Belief, Network, posterior};
    ///
    /// let network = Network::new(vec![0.02], Vec::new())?;
    /// // Mended with a chance of 3 in 4, so that a quarter of it is left.
    /// let belief = Belief::start().after_repair(&[], &[0], 0.75)?;
    /// let seen = posterior(&network, &belief, &[])?;
    /// assert!((seen.probabilities()[0] - 0.005).abs() < 1e-12);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    ///
    /// # Errors
    /// [`Refusal::NotAChance`] where `succeeds` is no probability.
    pub fn after_repair(
        &self,
        factors: &[Factor],
        mended: &[usize],
        succeeds: f64,
    ) -> Result<Self, Refusal> {
        check_probability(succeeds, || "chance that the repair succeeds".to_owned())?;
        let mended = distinct(mended.iter().copied());
        let round = PastRound { factors: factors.to_vec(), mended, succeeds };
        let past = [self.past.as_slice(), &[round]].concat();
        Ok(Self { past, ruled_out: self.ruled_out.clone() })
    }

    /// The same belief about a car that can't have these causes: their priors are 0, in every round.
    /// They take the place of those ruled out before.
    ///
    /// ```
    /// use boostwright::ranking::{Belief, Network, posterior};
    ///
    /// let network = Network::new(vec![0.02, 0.1], Vec::new())?;
    /// let seen = posterior(&network, &Belief::start().ruling_out(vec![0]), &[])?;
    /// assert_eq!(seen.probabilities()[0], 0.0);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    #[must_use]
    pub fn ruling_out(self, causes: Vec<usize>) -> Self {
        Self { ruled_out: distinct(causes), ..self }
    }

    /// Whether the car can have a cause.
    pub(in crate::ranking) fn allows(&self, cause: usize) -> bool {
        self.ruled_out.binary_search(&cause).is_err()
    }

    /// How many rounds are over; also the number of the present round, counted from 0.
    ///
    /// ```
    /// use boostwright::ranking::Belief;
    ///
    /// assert_eq!(Belief::start().after_repair(&[], &[0], 0.9)?.rounds(), 1);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn rounds(&self) -> usize {
        self.past.len()
    }

    /// For each round that is over, the probability that its repair mended the cause, if present.
    pub(in crate::ranking) fn p_mended(&self, cause: usize) -> impl Iterator<Item = f64> {
        self.past.iter().map(move |round| match round.mended.binary_search(&cause) {
            Ok(_) => round.succeeds,
            Err(_) => 0.0,
        })
    }

    /// All evidence, the past rounds' before the `factors` of the present round.
    pub(in crate::ranking) fn evidence<'a>(
        &'a self,
        factors: &'a [Factor],
    ) -> Vec<(FactorAt, &'a Factor)> {
        let past = self.past.iter().map(|round| round.factors.as_slice());
        past.chain(std::iter::once(factors))
            .enumerate()
            .flat_map(|(round, list)| {
                let at = move |index| FactorAt { round, index };
                list.iter().enumerate().map(move |(index, factor)| (at(index), factor))
            })
            .collect()
    }

    pub(in crate::ranking) fn check(&self, network: &Network) -> Result<(), Refusal> {
        for round in &self.past {
            if let Some(cause) = round.mended.iter().find(|cause| **cause >= network.priors().len())
            {
                return Err(Refusal::UnknownCause { cause: *cause });
            }
            round.factors.iter().try_for_each(|factor| factor.check(network))?;
        }
        Ok(())
    }
}
