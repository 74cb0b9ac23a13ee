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
        if let [component] = touched.as_slice()
            && let Some(branches) = &self.branches[*component]
        {
            let mut probabilities = self.posterior.probabilities.clone();
            self.put_by_branches(branches, at.round, replaced, replacement, &mut probabilities);
            return Some(probabilities);
        }
        self.changed(at, touched, replaced, replacement)
    }

    /// Each cause's probability with one piece of evidence more, given in the present round; nothing
    /// where that is impossible.
    pub(super) fn with_one_more(&self, factor: &Factor) -> Option<Vec<f64>> {
        // It stands where the same finding told nothing. The branches decide the causes of what was seen,
        // not of what may be: the listed sets tell better what more evidence does.
        let nothing = Factor::Single { finding: *factor.findings().first()?, yes: 1.0, no: 1.0 };
        let round = self.posterior.now;
        let index = self.evidence.iter().filter(|(at, _)| at.round == round).count();
        let at = FactorAt { round, index };
        let touched = touched(self.network, self.posterior, factor);
        self.changed(at, &touched, &nothing, Some(factor))
    }

    /// Each cause's probability with what stands at `at`, and speaks of the components `touched`,
    /// replaced or left out, by the listed sets of components that were not weighed exactly.
    fn changed(
        &self,
        at: FactorAt,
        touched: &[usize],
        old: &Factor,
        new: Option<&Factor>,
    ) -> Option<Vec<f64>> {
        let mut probabilities = self.posterior.probabilities.clone();
        if touched.iter().any(|component| !self.posterior.components[*component].is_exact()) {
            let old = Evidence { network: self.network, factor: old, round: at.round };
            let new = new.map(|factor| Evidence { factor, ..old });
            reweight(self.posterior, &self.sets, touched, old, new, &mut probabilities);
            return Some(probabilities);
        }
        let evidence = self.evidence_on(touched, at, new);
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
        old: &Factor,
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

    /// The evidence on these components, with `new` for what stands at `at`, if anything does.
    fn evidence_on<'e>(
        &'e self,
        components: &[usize],
        at: FactorAt,
        new: Option<&'e Factor>,
    ) -> Vec<(FactorAt, &'e Factor)> {
        let on = |other: &usize| components.binary_search(other).is_ok();
        let others = self.evidence.iter().zip(&self.touched);
        let others = others.filter(|((other, _), touched)| *other != at && touched.iter().any(on));
        others.map(|(other, _)| *other).chain(new.map(|new| (at, new))).collect()
    }
}

/// The components with a cause that the factor speaks of, ascending.
fn touched(network: &Network, posterior: &Posterior, factor: &Factor) -> Vec<usize> {
    let links = network.findings_at(factor.findings()).flat_map(|finding| &finding.links);
    distinct(links.map(|link| posterior.component_of[link.cause]))
}
