//! The causes' probabilities with one piece of evidence otherwise, from the sets already listed.
//!
//! Used where a component was not weighed exactly: its sets were hard to find, and looking for them
//! again for each answer would take too long. Each set's old factor is taken off and the new one put
//! on (importance weights). A set that the old evidence ruled out was not listed and stays out.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::alike::{Alike, Linked};
use super::posterior::Posterior;
use crate::ranking::inference::ComponentPosterior;
use crate::ranking::model::{Factor, Finding, Network, odds, probability_from_odds};

/// Most sets of a component that are reweighted, the likeliest of them.
const MAX_SETS: usize = 2_000;

/// The likeliest sets of a component by cause: evidence speaks of few causes, and each is in few sets.
#[derive(Clone)]
pub(super) struct SetsByCause {
    /// By cause of the network: the sets that hold it, and the round before which it is present in
    /// each.
    holding: Vec<Vec<(usize, usize)>>,
    /// Of each set.
    weights: Vec<f64>,
    before: Sums,
}

/// Weights added up.
#[derive(Clone, Default)]
struct Sums {
    /// For each cause of the network those of the sets that hold it now.
    by_cause: Vec<f64>,
    all: f64,
}

/// The sets of a posterior by component; nothing for those that were weighed exactly.
pub(super) fn sets_by_cause(posterior: &Posterior) -> Vec<Option<SetsByCause>> {
    let by_cause = |component| SetsByCause::new(posterior, component, MAX_SETS);
    let components = posterior.components.iter();
    components.map(|component| (!component.is_exact()).then(|| by_cause(component))).collect()
}

impl SetsByCause {
    fn new(posterior: &Posterior, component: &ComponentPosterior, max_sets: usize) -> Self {
        let mut holding = vec![Vec::new(); posterior.probabilities.len()];
        let mut weights = Vec::new();
        for (set, (members, weight)) in component.sets.iter().take(max_sets).enumerate() {
            weights.push(weight);
            for member in members {
                holding[member.cause].push((set, member.present_until));
            }
        }
        let mut sets = Self { holding, weights, before: Sums::default() };
        sets.before = sets.sums(&sets.weights, posterior.now);
        sets
    }

    /// The sets added up with these weights.
    fn sums(&self, weights: &[f64], now: usize) -> Sums {
        let sum = |holding: &Vec<(usize, usize)>| {
            let present = holding.iter().filter(|(_, present_until)| now < *present_until);
            present.map(|(set, _)| weights[*set]).sum()
        };
        Sums { by_cause: self.holding.iter().map(sum).collect(), all: weights.iter().sum() }
    }
}

/// Puts the probabilities of the causes of `components` with `new` in the place of `old` into
/// `probabilities`; they must be all the components the evidence speaks of. `sets` is what
/// [`sets_by_cause`] gives.
pub(super) fn reweight(
    posterior: &Posterior,
    sets: &[Option<SetsByCause>],
    components: &[usize],
    old: Evidence<'_>,
    new: Option<Evidence<'_>>,
    probabilities: &mut [f64],
) {
    // Of a component that was weighed exactly, all sets.
    let whole = |one: &usize| SetsByCause::new(posterior, &posterior.components[*one], usize::MAX);
    let sets: Vec<Cow<'_, SetsByCause>> = components
        .iter()
        .map(|one| sets[*one].as_ref().map_or_else(|| Cow::Owned(whole(one)), Cow::Borrowed))
        .collect();
    let without: Vec<Vec<f64>> = sets.iter().map(|sets| old.taken_off(sets)).collect();
    // Evidence that speaks of several components without coupling them is a single finding surely
    // false.
    let mean_inhibitions: Vec<f64> = match components {
        [_] => vec![1.0],
        _ => sets.iter().zip(&without).map(|(sets, own)| old.mean_inhibition(sets, own)).collect(),
    };
    for (place, (sets, without)) in sets.iter().zip(without).enumerate() {
        let others = mean_inhibitions.iter().enumerate().filter(|(other, _)| *other != place);
        let others = others.map(|(_, mean)| mean).product();
        let weights = match &new {
            Some(new) => {
                let values = new.values(sets, others).into_iter();
                without.iter().zip(values).map(|(weight, value)| weight * value).collect()
            }
            None => without,
        };
        let after = sets.sums(&weights, posterior.now);
        let component = &posterior.components[components[place]];
        put_probabilities(component, &sets.before, &after, probabilities);
    }
}

/// Evidence given in a round.
#[derive(Clone, Copy)]
pub(super) struct Evidence<'a> {
    pub(super) network: &'a Network,
    pub(super) factor: &'a Factor,
    pub(super) round: usize,
}

impl Evidence<'_> {
    /// The weights of the sets without this evidence.
    fn taken_off(&self, sets: &SetsByCause) -> Vec<f64> {
        let values = self.values(sets, 1.0);
        sets.weights.iter().zip(values).map(|(weight, value)| weight * inverse(value)).collect()
    }

    /// Its value with the causes of each set present, and with the causes of other components bringing
    /// none of its findings with the probability `others`.
    fn values(&self, sets: &SetsByCause, others: f64) -> Vec<f64> {
        let by_leak: Vec<f64> =
            self.findings().map(|finding| finding.p_false_by_leak() * others).collect();
        let alike = self.alike(sets);
        let value = |inhibited: &[f64]| {
            let p_false = inhibited.iter().zip(&by_leak).map(|(inhibited, leak)| inhibited * leak);
            self.factor.value(&p_false.collect::<Vec<f64>>())
        };
        let values: Vec<f64> = alike.classes().map(value).collect();
        alike.class_of().iter().map(|class| values[*class]).collect()
    }

    /// Mean over the sets of the probability that none of the causes of a set brings the first finding.
    fn mean_inhibition(&self, sets: &SetsByCause, weights: &[f64]) -> f64 {
        let alike = self.alike(sets);
        let first: Vec<f64> =
            alike.classes().map(|class| class.first().copied().unwrap_or(1.0)).collect();
        let of_sets = alike.class_of().iter().zip(weights);
        let inhibited: f64 = of_sets.map(|(class, weight)| weight * first[*class]).sum();
        inhibited * inverse(weights.iter().sum())
    }

    /// The sets by what they do to its findings.
    fn alike(&self, sets: &SetsByCause) -> Alike {
        let findings = self.findings().count();
        let mut inhibitions: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for (place, finding) in self.findings().enumerate() {
            for link in &finding.links {
                inhibitions.entry(link.cause).or_insert_with(|| vec![1.0; findings])[place] =
                    link.inhibition();
            }
        }
        let linked = inhibitions.iter().map(|(cause, inhibitions)| {
            let present = |(_, present_until): &&(usize, usize)| self.round < *present_until;
            let holding = sets.holding[*cause].iter().filter(present);
            Linked { sets: holding.map(|(set, _)| *set), inhibitions }
        });
        Alike::new(sets.weights.len(), findings, linked)
    }

    fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.network.findings_at(self.factor.findings())
    }
}

/// The listed sets don't hold all the probability, so only what the change does to the odds is taken
/// from them.
fn put_probabilities(
    component: &ComponentPosterior,
    before: &Sums,
    after: &Sums,
    probabilities: &mut [f64],
) {
    if after.all <= 0.0 {
        return;
    }
    for (cause, probability) in &component.probabilities {
        // A cause that is in none of the sets: they say nothing of it.
        if before.by_cause[*cause] <= 0.0 {
            continue;
        }
        let before = before.by_cause[*cause] / before.all;
        let after = after.by_cause[*cause] / after.all;
        let change = odds(after) / odds(before);
        let changed = odds(*probability) * change;
        let changed = if changed.is_finite() { probability_from_odds(changed) } else { after };
        probabilities[*cause] = changed.clamp(0.0, 1.0);
    }
}

/// 1 over a number above 0; 0 for what the old evidence ruled out.
fn inverse(value: f64) -> f64 {
    if value > 0.0 { 1.0 / value } else { 0.0 }
}
