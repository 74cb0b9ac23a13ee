//! What earlier rounds leave behind: their evidence, and the repair done after each.
//!
//! A belief keeps the evidence itself rather than a list of the sets that were likely at the time.
//! A set that was negligible in round one may be all that is left in round two; nothing is lost here,
//! and the update is exactly the one a belief over sets would have made.

use super::factor::Factor;
use super::network::{Network, chance};
use crate::ranking::refusal::Refusal;

/// One round that is over, and the repair that ended it.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::ranking) struct PastRound {
    pub(in crate::ranking) factors: Vec<Factor>,
    pub(in crate::ranking) mended: Vec<usize>,
    pub(in crate::ranking) succeeds: f64,
}

/// What is believed about the causes as a round begins.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Belief {
    past: Vec<PastRound>,
}

impl Belief {
    /// Nothing seen yet: the network's priors.
    pub fn start() -> Self {
        Self::default()
    }

    /// The belief after one more round: its evidence `factors`, then a repair that mends each of the
    /// causes `mended`, where present, with the chance `succeeds` (0 to 1), each on its own. A cause
    /// not named stays as it was. With no cause named, the round just adds its evidence.
    pub fn after_repair(
        &self,
        factors: &[Factor],
        mended: &[usize],
        succeeds: f64,
    ) -> Result<Self, Refusal> {
        chance(succeeds, || "chance that the repair succeeds".to_owned())?;
        let mut past = self.past.clone();
        let mut mended = mended.to_vec();
        mended.sort_unstable();
        mended.dedup();
        past.push(PastRound { factors: factors.to_vec(), mended, succeeds });
        Ok(Self { past })
    }

    /// How many rounds are over; also the number of the present round, counted from 0.
    pub fn rounds(&self) -> usize {
        self.past.len()
    }

    pub(in crate::ranking) fn past(&self) -> &[PastRound] {
        &self.past
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
