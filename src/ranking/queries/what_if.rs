//! The causes' chances with one piece of evidence otherwise: left out, thinned or turned round.
//!
//! Only the parts that the evidence speaks of are weighed again; the rest stands. Where a part was not
//! weighed exactly in the first place, its listed sets are reweighed instead.

use super::posterior::{Posterior, evidence};
use super::reweight::{Change, Listed, listed, relist};
use crate::ranking::inference::component::parts;
use crate::ranking::inference::solve::chances;
use crate::ranking::model::belief::Belief;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::Network;
use crate::ranking::refusal::FactorAt;

/// A posterior together with what it was made from.
pub(super) struct Supposing<'a> {
    network: &'a Network,
    belief: &'a Belief,
    posterior: &'a Posterior,
    evidence: Vec<(FactorAt, &'a Factor)>,
    /// The block of each cause.
    block_of: Vec<usize>,
    /// The sets of blocks that were not weighed exactly, by cause.
    listed: Vec<Option<Listed>>,
}

impl<'a> Supposing<'a> {
    pub(super) fn new(
        network: &'a Network,
        belief: &'a Belief,
        factors: &'a [Factor],
        posterior: &'a Posterior,
    ) -> Self {
        Self {
            network,
            belief,
            posterior,
            evidence: evidence(belief, factors),
            block_of: posterior.block_of(),
            listed: listed(network, posterior),
        }
    }

    /// All evidence, the past rounds' first.
    pub(super) fn evidence(&self) -> &[(FactorAt, &'a Factor)] {
        &self.evidence
    }

    /// Each cause's chance with the piece of evidence at `index` replaced, or left out; nothing where
    /// that is impossible.
    pub(super) fn chances(&self, index: usize, replacement: Option<&Factor>) -> Option<Vec<f64>> {
        let (at, replaced) = *self.evidence.get(index)?;
        let mut evidence = self.evidence.clone();
        match replacement {
            Some(factor) => *evidence.get_mut(index)? = (at, factor),
            None => drop(evidence.remove(index)),
        }
        let touched = self.touched(replaced);
        let mut probabilities = self.posterior.probabilities.clone();
        let blocks: Vec<usize> = (0..touched.len()).filter(|block| touched[*block]).collect();
        if blocks.iter().any(|block| !self.posterior.blocks[*block].exact) {
            let change = Change { round: at.round, old: replaced, new: replacement };
            let listed = &self.listed;
            relist(self.network, self.posterior, listed, &blocks, &change, &mut probabilities);
            return Some(probabilities);
        }
        for part in parts(self.network, &evidence, self.belief)? {
            let block = part.variables.first().and_then(|v| self.block_of.get(v.cause));
            if block.is_some_and(|block| touched.get(*block) == Some(&true)) {
                for (cause, chance) in chances(&part, self.posterior.now)? {
                    *probabilities.get_mut(cause)? = chance;
                }
            }
        }
        Some(probabilities)
    }

    /// For each block, whether the factor speaks of a cause in it.
    fn touched(&self, factor: &Factor) -> Vec<bool> {
        let mut touched = vec![false; self.posterior.blocks.len()];
        for finding in factor.findings() {
            for link in self.network.findings().get(*finding).into_iter().flat_map(|f| &f.links) {
                let slot = self.block_of.get(link.cause).and_then(|block| touched.get_mut(*block));
                if let Some(slot) = slot {
                    *slot = true;
                }
            }
        }
        touched
    }
}
