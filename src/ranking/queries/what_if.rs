//! The causes' probabilities with one piece of evidence otherwise: left out, thinned or turned round
//! (sensitivity to findings).
//!
//! Only the components that the evidence speaks of are weighed again; the rest stands. Where one was
//! not weighed exactly in the first place, its listed sets are reweighted instead.

use super::posterior::Posterior;
use super::reweight::{Evidence, SetsByCause, reweight, sets_by_cause};
use crate::ranking::distinct::distinct;
use crate::ranking::inference::{components, marginals};
use crate::ranking::model::{Belief, Factor, Network};
use crate::ranking::refusal::FactorAt;

/// A posterior together with what it was made from.
pub(super) struct WhatIf<'a> {
    network: &'a Network,
    belief: &'a Belief,
    posterior: &'a Posterior,
    evidence: Vec<(FactorAt, &'a Factor)>,
    /// The sets of components that were not weighed exactly.
    sets: Vec<Option<SetsByCause>>,
}

impl<'a> WhatIf<'a> {
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
            evidence: belief.evidence(factors),
            sets: sets_by_cause(posterior),
        }
    }

    /// All evidence, the past rounds' first.
    pub(super) fn evidence(&self) -> &[(FactorAt, &'a Factor)] {
        &self.evidence
    }

    /// Each cause's probability with the piece of evidence at `index` replaced, or left out; nothing
    /// where that is impossible.
    pub(super) fn probabilities(
        &self,
        index: usize,
        replacement: Option<&Factor>,
    ) -> Option<Vec<f64>> {
        let (at, replaced) = *self.evidence.get(index)?;
        let mut evidence = self.evidence.clone();
        match replacement {
            Some(factor) => *evidence.get_mut(index)? = (at, factor),
            None => drop(evidence.remove(index)),
        }
        let touched = self.touched(replaced);
        let mut probabilities = self.posterior.probabilities.clone();
        if touched.iter().any(|component| !self.posterior.components[*component].exact) {
            let old = Evidence { network: self.network, factor: replaced, round: at.round };
            let new = replacement.map(|factor| Evidence { factor, ..old });
            reweight(self.posterior, &self.sets, &touched, old, new, &mut probabilities);
            return Some(probabilities);
        }
        for component in components(self.network, &evidence, self.belief)? {
            let before = component.causes().next().map(|cause| self.posterior.component_of[cause]);
            if before.is_some_and(|before| touched.binary_search(&before).is_ok()) {
                for (cause, probability) in marginals(&component, self.posterior.now)? {
                    *probabilities.get_mut(cause)? = probability;
                }
            }
        }
        Some(probabilities)
    }

    /// The components with a cause that the factor speaks of, ascending.
    fn touched(&self, factor: &Factor) -> Vec<usize> {
        let links = self.network.findings_at(factor.findings()).flat_map(|finding| &finding.links);
        distinct(links.map(|link| self.posterior.component_of[link.cause]))
    }
}
