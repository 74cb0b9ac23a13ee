//! How likely something is still wrong after some repairs.

use std::collections::HashMap;

use super::posterior::Posterior;
use crate::ranking::distinct::distinct;
use crate::ranking::inference::count_to_cover;
use crate::ranking::model::Repair;

/// Share of the probability of a component whose sets need not be looked at.
const NEGLIGIBLE: f64 = 1e-7;

/// Most different sets of a component to tell apart; the least likely go first.
const MAX_SETS: usize = 512;

/// A posterior reduced to the causes that matter for the work: the relevant ones.
pub(super) struct Remaining {
    /// For each component its sets, with weights that sum to 1.
    components: Vec<Vec<Set>>,
    /// The components that some repair touches.
    touched: Vec<usize>,
    /// Probability that no relevant cause is present in the other components.
    untouched_right: f64,
    /// For each cause the repairs that mend it, and how surely.
    mended_by: Vec<Vec<(usize, f64)>>,
    /// For each repair the causes it mends, and the components these are in.
    mends: Vec<(Vec<usize>, Vec<usize>)>,
    probabilities: Vec<f64>,
}

/// Sets of relevant causes that no repair tells apart.
struct Set {
    mendable: Vec<usize>,
    /// Whether there is also a cause that no repair mends.
    stuck: bool,
    weight: f64,
}

/// Where a car stands after some repairs.
pub(super) struct After {
    /// Probability of each cause, if present before, to be present still.
    survives: Vec<f64>,
    /// Probability that any relevant cause is present.
    pub(super) not_right: f64,
}

impl Remaining {
    /// Reduces a posterior; causes out of range must have been refused before.
    pub(super) fn new(posterior: &Posterior, relevant: &[usize], repairs: &[Repair]) -> Self {
        let mut is_relevant = vec![false; posterior.probabilities().len()];
        relevant.iter().for_each(|cause| is_relevant[*cause] = true);
        let mut mended_by = vec![Vec::new(); is_relevant.len()];
        let mut mends = Vec::with_capacity(repairs.len());
        for (index, repair) in repairs.iter().enumerate() {
            let own = distinct(repair.mends.iter().copied().filter(|cause| is_relevant[*cause]));
            own.iter().for_each(|cause| mended_by[*cause].push((index, repair.succeeds)));
            let components = distinct(own.iter().map(|cause| posterior.component_of[*cause]));
            mends.push((own, components));
        }
        let reduce = |component| reduce(posterior, component, &is_relevant, &mended_by);
        let components: Vec<Vec<Set>> = (0..posterior.components.len()).map(reduce).collect();
        let touched = distinct(mends.iter().flat_map(|(_, components)| components).copied());
        let others = components
            .iter()
            .enumerate()
            .filter(|(component, _)| touched.binary_search(component).is_err());
        let right =
            |sets: &[Set]| sets.iter().filter(|set| !set.stuck).map(|set| set.weight).sum::<f64>();
        let untouched_right = others.map(|(_, sets)| right(sets)).product();
        Self {
            components,
            touched,
            untouched_right,
            mended_by,
            mends,
            probabilities: posterior.probabilities().to_vec(),
        }
    }

    /// Where the car stands after these repairs.
    pub(super) fn after(&self, done: &[usize]) -> After {
        let survives = |by: &Vec<(usize, f64)>| {
            by.iter()
                .filter(|(repair, _)| done.contains(repair))
                .map(|(_, succeeds)| 1.0 - succeeds)
                .product()
        };
        let survives: Vec<f64> = self.mended_by.iter().map(survives).collect();
        let right = |component: &usize| -> f64 {
            let sets = self.components[*component].iter().filter(|set| !set.stuck);
            sets.map(|set| {
                set.weight * set.mendable.iter().map(|c| 1.0 - survives[*c]).product::<f64>()
            })
            .sum()
        };
        let not_right =
            1.0 - self.untouched_right * self.touched.iter().map(right).product::<f64>();
        After { survives, not_right }
    }

    /// How many causes a repair is expected to mend.
    pub(super) fn mended(&self, after: &After, repair: usize) -> f64 {
        let left = |cause: &usize| {
            let by = self.mended_by[*cause].iter().find(|(by, _)| *by == repair);
            self.probabilities[*cause]
                * after.survives[*cause]
                * by.map_or(0.0, |(_, succeeds)| *succeeds)
        };
        self.mends[repair].0.iter().map(left).sum()
    }

    /// Probability that any relevant cause that `repair` mends is present.
    pub(super) fn present(&self, after: &After, repair: usize) -> f64 {
        let (causes, components) = &self.mends[repair];
        let none = |component: &usize| -> f64 {
            let gone = |set: &Set| -> f64 {
                let own = causes.iter().filter(|cause| set.mendable.binary_search(cause).is_ok());
                own.map(|cause| 1.0 - after.survives[*cause]).product()
            };
            self.components[*component].iter().map(|set| set.weight * gone(set)).sum()
        };
        1.0 - components.iter().map(none).product::<f64>()
    }
}

/// The sets of a component with the irrelevant causes dropped, alike ones put together.
fn reduce(
    posterior: &Posterior,
    component: usize,
    is_relevant: &[bool],
    mended_by: &[Vec<(usize, f64)>],
) -> Vec<Set> {
    let mut merged: HashMap<(Vec<usize>, bool), f64> = HashMap::new();
    for (members, weight) in posterior.components[component].sets.iter() {
        let here =
            members.iter().filter(|m| m.is_present_in(posterior.now) && is_relevant[m.cause]);
        let (mut mendable, stuck): (Vec<usize>, Vec<usize>) =
            here.map(|m| m.cause).partition(|cause| !mended_by[*cause].is_empty());
        mendable.sort_unstable();
        *merged.entry((mendable, !stuck.is_empty())).or_default() += weight;
    }
    let mut sets: Vec<Set> = merged
        .into_iter()
        .map(|((mendable, stuck), weight)| Set { mendable, stuck, weight })
        .collect();
    sets.sort_by(|a, b| {
        b.weight
            .total_cmp(&a.weight)
            .then_with(|| a.mendable.cmp(&b.mendable))
            .then_with(|| a.stuck.cmp(&b.stuck))
    });
    let kept = count_to_cover(sets.iter().map(|set| set.weight), NEGLIGIBLE);
    sets.truncate(kept.min(MAX_SETS));
    let total: f64 = sets.iter().map(|set| set.weight).sum();
    sets.iter_mut().for_each(|set| set.weight /= total);
    sets
}
