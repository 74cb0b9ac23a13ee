//! What the causes do to a few findings that could be looked at: the predictive distribution, as a
//! mixture over all likely sets of causes. Given the set the findings are independent, each false with
//! a probability of its own.

use std::collections::HashMap;

use super::posterior::Posterior;
use crate::ranking::distinct::distinct;
use crate::ranking::model::{Network, Observable};

/// Up to so many sets of a component are all looked at.
const SHORT: usize = 512;

/// Share of the probability of a longer list whose sets need not be looked at.
const NEGLIGIBLE: f64 = 1e-6;

/// Most sets of a component to look at.
const MAX_SETS: usize = 1_024;

/// Most parts of a mixture to tell apart; the least likely go first.
const MAX_PARTS: usize = 512;

/// Parts with a weight each: in each part every finding is false with a probability of its own.
pub(super) struct Mixture {
    findings: usize,
    /// For each part the probability of each finding being false, one part after the other.
    p_false: Vec<f64>,
    pub(super) weights: Vec<f64>,
}

impl Mixture {
    fn new(findings: usize, parts: usize) -> Self {
        let p_false = Vec::with_capacity(findings * parts);
        Self { findings, p_false, weights: Vec::with_capacity(parts) }
    }

    fn push(&mut self, p_false: impl Iterator<Item = f64>, weight: f64) {
        self.p_false.extend(p_false);
        self.weights.push(weight);
    }

    /// Each part: the probabilities of the findings being false, and its weight.
    pub(super) fn iter(&self) -> impl Iterator<Item = (&[f64], f64)> {
        self.p_false.chunks_exact(self.findings.max(1)).zip(self.weights.iter().copied())
    }

    /// Every part of one with every part of the other, the likeliest of them.
    fn times(&self, other: &Self) -> Self {
        let mut product = Self::new(self.findings, self.weights.len() * other.weights.len());
        for (a, weight) in self.iter() {
            for (b, share) in other.iter() {
                product.push(a.iter().zip(b).map(|(a, b)| a * b), weight * share);
            }
        }
        product.likeliest()
    }

    fn likeliest(self) -> Self {
        if self.weights.len() <= MAX_PARTS {
            return self;
        }
        let mut order: Vec<usize> = (0..self.weights.len()).collect();
        let heavier = |a: &usize, b: &usize| self.weights[*b].total_cmp(&self.weights[*a]);
        order.select_nth_unstable_by(MAX_PARTS, heavier);
        let mut kept = Self::new(self.findings, MAX_PARTS);
        for index in order.into_iter().take(MAX_PARTS) {
            let p_false = &self.p_false[index * self.findings..][..self.findings];
            kept.push(p_false.iter().copied(), self.weights[index]);
        }
        kept
    }
}

/// A posterior made ready for many observations.
pub(super) struct Predictor<'a> {
    network: &'a Network,
    posterior: &'a Posterior,
    /// How many sets of each component to look at.
    looked_at: Vec<usize>,
}

impl<'a> Predictor<'a> {
    pub(super) fn new(network: &'a Network, posterior: &'a Posterior) -> Self {
        let components = posterior.components.iter();
        let looked_at =
            components.map(|one| one.sets.likeliest(SHORT, NEGLIGIBLE, MAX_SETS)).collect();
        Self { network, posterior, looked_at }
    }

    /// The observations in groups that share no component with each other, and thus are independent.
    pub(super) fn dependent<'b>(&self, bundle: &'b [Observable]) -> Vec<Vec<&'b Observable>> {
        let mut groups: Vec<(Vec<&Observable>, Vec<usize>)> = Vec::new();
        for observable in bundle {
            let mut group = (vec![observable], self.components(observable.findings()));
            let shares = |others: &Vec<usize>| others.iter().any(|one| group.1.contains(one));
            let (joined, apart): (Vec<_>, Vec<_>) =
                groups.into_iter().partition(|(_, components)| shares(components));
            for (observables, components) in joined {
                group.0.extend(observables);
                group.1.extend(components);
            }
            groups = apart;
            groups.push(group);
        }
        groups.into_iter().map(|(observables, _)| observables).collect()
    }

    /// The components with a cause that brings any of these findings.
    fn components(&self, findings: &[usize]) -> Vec<usize> {
        let links = self.network.findings_at(findings).flat_map(|finding| &finding.links);
        let links = links.filter(|link| link.strength > 0.0);
        distinct(links.map(|link| self.posterior.component_of[link.cause]))
    }

    /// What the findings of these observations can be.
    pub(super) fn mixture(&self, together: &[&Observable]) -> Mixture {
        let findings: Vec<usize> =
            together.iter().flat_map(|observable| observable.findings()).copied().collect();
        let known = self.network.findings_at(&findings);
        let mut all = Mixture::new(findings.len(), 1);
        all.push(known.clone().map(|finding| finding.p_false_by_leak()), 1.0);
        let mut inhibitions: HashMap<usize, Vec<f64>> = HashMap::new();
        for (place, finding) in known.enumerate() {
            for link in finding.links.iter().filter(|link| link.strength > 0.0) {
                let own = inhibitions.entry(link.cause);
                own.or_insert_with(|| vec![1.0; findings.len()])[place] = link.inhibition();
            }
        }
        for component in self.components(&findings) {
            all = all.times(&self.project(component, &inhibitions, findings.len()));
        }
        all
    }

    /// What the sets of one component do to the findings, sets that do the same put together.
    fn project(
        &self,
        component: usize,
        inhibitions: &HashMap<usize, Vec<f64>>,
        findings: usize,
    ) -> Mixture {
        let Posterior { components, component_of, now, .. } = self.posterior;
        let causes = components[component].probabilities.iter().map(|(cause, _)| *cause);
        let mut linked: Vec<&Vec<f64>> = Vec::new();
        let mut bit_of = vec![None; component_of.len()];
        for cause in causes {
            if let Some(own) = inhibitions.get(&cause) {
                bit_of[cause] = Some(linked.len());
                linked.push(own);
            }
        }
        let mut merged: HashMap<Vec<usize>, usize> = HashMap::new();
        let mut mixture = Mixture::new(findings, 0);
        let mut bits = Vec::new();
        for (members, weight) in components[component].sets.iter().take(self.looked_at[component]) {
            let present = members.iter().filter(|member| member.is_present_in(*now));
            bits.clear();
            bits.extend(present.filter_map(|member| bit_of[member.cause]));
            bits.sort_unstable();
            if let Some(known) = merged.get(bits.as_slice()) {
                mixture.weights[*known] += weight;
                continue;
            }
            let product =
                |place: usize| bits.iter().map(|bit: &usize| linked[*bit][place]).product();
            mixture.push((0..findings).map(product), weight);
            merged.insert(bits.clone(), mixture.weights.len() - 1);
        }
        mixture
    }
}
