//! What the causes do to a few findings that could be looked at: the predictive distribution, as a
//! mixture over all likely sets of causes. Given the set the findings are independent, each false with
//! a probability of its own.

use std::collections::BTreeMap;

use super::alike::{Alike, Linked};
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
    /// For each component the weights of the sets to look at.
    weights: Vec<Vec<f64>>,
    /// For each cause the sets of its component that hold it now.
    holding: Vec<Vec<usize>>,
}

impl<'a> Predictor<'a> {
    pub(super) fn new(network: &'a Network, posterior: &'a Posterior) -> Self {
        let mut holding = vec![Vec::new(); posterior.component_of.len()];
        let mut weights = Vec::with_capacity(posterior.components.len());
        for component in &posterior.components {
            let looked_at = component.sets.likeliest(SHORT, NEGLIGIBLE, MAX_SETS);
            let mut own = Vec::with_capacity(looked_at);
            for (set, (members, weight)) in component.sets.iter().take(looked_at).enumerate() {
                own.push(weight);
                for member in members.iter().filter(|member| member.is_present_in(posterior.now)) {
                    holding[member.cause].push(set);
                }
            }
            weights.push(own);
        }
        Self { network, posterior, weights, holding }
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
        let mut inhibitions: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
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
        inhibitions: &BTreeMap<usize, Vec<f64>>,
        findings: usize,
    ) -> Mixture {
        let weights = &self.weights[component];
        let own = |(cause, _): &(&usize, &Vec<f64>)| {
            self.posterior.component_of.get(**cause) == Some(&component)
        };
        let linked = inhibitions.iter().filter(own).map(|(cause, inhibitions)| Linked {
            sets: self.holding[*cause].iter().copied(),
            inhibitions,
        });
        let alike = Alike::new(weights.len(), findings, linked);
        let mut of_class = vec![0.0; alike.classes().count()];
        for (class, weight) in alike.class_of().iter().zip(weights) {
            of_class[*class] += weight;
        }
        let mut mixture = Mixture::new(findings, of_class.len());
        for (p_false, weight) in alike.classes().zip(of_class).filter(|(_, weight)| *weight > 0.0) {
            mixture.push(p_false.iter().copied(), weight);
        }
        mixture
    }
}
