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
    /// For each piece of evidence the components with a cause it speaks of, ascending.
    touched: Vec<Vec<usize>>,
    /// For each cause its place in the order of elimination, where there was one.
    ranks: Vec<Option<usize>>,
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
        let evidence = belief.evidence(factors);
        let touched = evidence.iter().map(|(_, factor)| touched(network, posterior, factor));
        let touched = touched.collect();
        let mut ranks = vec![None; posterior.probabilities.len()];
        let orders = posterior.components.iter().flat_map(|component| &component.order);
        for (rank, cause) in orders.enumerate() {
            ranks[*cause] = Some(rank);
        }
        let sets = sets_by_cause(posterior);
        Self { network, belief, posterior, evidence, touched, ranks, sets }
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
        let touched = self.touched.get(index)?;
        let mut probabilities = self.posterior.probabilities.clone();
        if touched.iter().any(|component| !self.posterior.components[*component].is_exact()) {
            let old = Evidence { network: self.network, factor: replaced, round: at.round };
            let new = replacement.map(|factor| Evidence { factor, ..old });
            reweight(self.posterior, &self.sets, touched, old, new, &mut probabilities);
            return Some(probabilities);
        }
        let evidence = self.evidence_on(touched, index, replacement);
        for component in components(self.network, &evidence, self.belief)? {
            let before = component.causes().next().map(|cause| self.posterior.component_of[cause]);
            if before.is_some_and(|before| touched.binary_search(&before).is_ok()) {
                for (cause, probability) in marginals(&component, self.posterior.now, &self.ranks)?
                {
                    *probabilities.get_mut(cause)? = probability;
                }
            }
        }
        Some(probabilities)
    }

    /// The evidence on these components, with the piece at `index` replaced or left out.
    fn evidence_on<'e>(
        &'e self,
        components: &[usize],
        index: usize,
        replacement: Option<&'e Factor>,
    ) -> Vec<(FactorAt, &'e Factor)> {
        let on = |other: &usize| components.binary_search(other).is_ok();
        let mut evidence = Vec::with_capacity(self.evidence.len());
        for (other, (at, factor)) in self.evidence.iter().enumerate() {
            if other == index {
                evidence.extend(replacement.map(|replacement| (*at, replacement)));
            } else if self.touched[other].iter().any(on) {
                evidence.push((*at, *factor));
            }
        }
        evidence
    }
}

/// The components with a cause that the factor speaks of, ascending.
fn touched(network: &Network, posterior: &Posterior, factor: &Factor) -> Vec<usize> {
    let links = network.findings_at(factor.findings()).flat_map(|finding| &finding.links);
    distinct(links.map(|link| posterior.component_of[link.cause]))
}
