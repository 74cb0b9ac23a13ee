//! The causes' probabilities with one piece of evidence otherwise: left out, thinned or turned round
//! (sensitivity to findings).
//!
//! Only the components that the evidence speaks of are weighed again; the rest stands. Where one was
//! not weighed exactly in the first place, its listed sets are reweighted instead.

use super::posterior::Posterior;
use super::reweight::{Evidence, SetsByCause, reweight, sets_by_cause};
use crate::ranking::distinct::distinct;
use crate::ranking::inference::{Change, Changing, ComponentPosterior, components, marginals};
use crate::ranking::model::{Belief, Factor, Finding, Network, odds, probability_from_odds};
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
    /// For each component that was not weighed exactly, the branches of its sum.
    branches: Vec<Option<Changing<'a>>>,
    /// Its sets.
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
        let changing = |one: &'a ComponentPosterior| {
            Some(Changing::new(one.branched.as_deref()?, posterior.now))
        };
        let branches = posterior.components.iter().map(changing).collect();
        Self { network, belief, posterior, evidence, touched, ranks, branches, sets }
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
        if let [component] = touched.as_slice()
            && let Some(branches) = &self.branches[*component]
        {
            self.put_by_branches(branches, at.round, replaced, replacement, &mut probabilities);
            return Some(probabilities);
        }
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

    /// Puts the probabilities of a component's causes after the change: what the change does to the odds
    /// is taken from the branches, which draws may have corrected.
    fn put_by_branches(
        &self,
        branches: &Changing<'_>,
        round: usize,
        old: &'a Factor,
        new: Option<&Factor>,
        probabilities: &mut [f64],
    ) {
        let findings = |factor: &Factor| -> Vec<&Finding> {
            factor.findings().iter().filter_map(|at| self.network.findings().get(*at)).collect()
        };
        let new = new.map(|factor| (factor, findings(factor)));
        let change = Change { round, old: (old, findings(old)), new };
        for (cause, before, after) in branches.changed(&change) {
            let probability = &mut probabilities[cause];
            let changed = odds(*probability) * (odds(after) / odds(before));
            let changed = if changed.is_finite() { probability_from_odds(changed) } else { after };
            *probability = changed.clamp(0.0, 1.0);
        }
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
