//! The sum over all sets of a component whose evidence couples too many causes for variable
//! elimination.
//!
//! Conditioning (Koller & Friedman 2009, §9.5): some causes are decided, the others open. The sum over
//! the open ones is taken as if none of them interacted, which is right where few of them are likely or
//! they act on different evidence. Where pairs of them say otherwise, the branch with the largest error
//! is split at the cause that pairs worst, best-first as in branch and bound, until the error is small
//! altogether. Deciding the instances that matter and estimating the rest is Horvitz, Suermondt &
//! Cooper's bounded conditioning (*Uncertainty in Artificial Intelligence* 5, 1989), and going outward
//! from the sets of few causes Henrion's (Search-based methods to bound diagnostic probabilities in
//! very large belief nets, 1991); the error here is an estimate from pairs where theirs is a bound.

use super::branch::Branch;
use super::component::Component;
use super::effects::Effects;
use super::priority_queue::PriorityQueue;
use super::weighted_sets::WeightedSetsBuilder;

/// The sum over all sets of a component, as far as it is known.
pub(super) struct EstimatedSum {
    /// Its natural logarithm.
    pub(super) log_total: f64,
    /// Share of it that pairs of causes taken together might change.
    pub(super) error: f64,
    /// The probabilities of each variable's states.
    pub(super) states: Vec<Vec<f64>>,
    /// The likeliest sets.
    pub(super) sets: WeightedSetsBuilder,
}

/// No more of the sum than this stays uncertain: nobody acts on so little.
const MAX_ERROR: f64 = 2e-3;

/// Most branches weighed for that.
const MAX_BRANCHES: usize = 600;

/// Share of the sum below which a set is not worth a place in the list.
const NEGLIGIBLE: f64 = 1e-9;

/// So many branches are weighed between two looks at the whole sum.
const BETWEEN_LOOKS: usize = 24;

/// Sums; nothing where no set has a weight.
pub(super) fn estimated_sum(component: &Component) -> Option<EstimatedSum> {
    let effects = Effects::new(component);
    let mut open = PriorityQueue::new();
    let queue = |open: &mut PriorityQueue<Branch>, branch: Branch| {
        open.push(branch.log_sum + branch.error.ln(), branch);
    };
    queue(&mut open, Branch::root(&effects));
    let mut closed: Vec<Branch> = Vec::new();
    let (mut weighed, mut next_look) = (1, 1);
    while weighed < MAX_BRANCHES {
        if weighed >= next_look {
            if error(|| open.iter().chain(&closed)) <= MAX_ERROR {
                break;
            }
            next_look = weighed + BETWEEN_LOOKS;
        }
        let Some(branch) = open.pop() else { break };
        let Some(variable) = branch.split_on else {
            closed.push(branch);
            continue;
        };
        for child in branch.split(&effects, variable) {
            weighed += 1;
            if child.log_sum > f64::NEG_INFINITY {
                queue(&mut open, child);
            }
        }
    }
    let error = error(|| open.iter().chain(&closed));
    closed.extend(open.into_items());
    total(&effects, &closed, error)
}

/// Share of the sum that is uncertain. Summed anew each time: the first sums may be far too large, and
/// what is small beside them would be lost.
fn error<'b, I: Iterator<Item = &'b Branch>>(branches: impl Fn() -> I) -> f64 {
    let scale = branches().map(|branch| branch.log_sum).fold(f64::NEG_INFINITY, f64::max);
    let (mut sum, mut error) = (0.0, 0.0);
    for branch in branches() {
        let own = (branch.log_sum - scale).exp();
        sum += own;
        error += own * branch.error;
    }
    if sum > 0.0 { error / sum } else { 0.0 }
}

/// Adds up the branches.
fn total(effects: &Effects<'_>, branches: &[Branch], error: f64) -> Option<EstimatedSum> {
    let scale = branches.iter().map(|branch| branch.log_sum).fold(f64::NEG_INFINITY, f64::max);
    if scale == f64::NEG_INFINITY {
        return None;
    }
    let mut sum = 0.0;
    let variables = effects.component.variables.iter();
    let mut states: Vec<Vec<f64>> =
        variables.map(|variable| vec![0.0; variable.states.len()]).collect();
    for branch in branches {
        let own = (branch.log_sum - scale).exp();
        sum += own;
        for (sum, marginal) in states.iter_mut().flatten().zip(&branch.marginals) {
            *sum += own * marginal;
        }
    }
    states.iter_mut().flatten().for_each(|probability| *probability /= sum);
    let log_total = scale + sum.ln();
    let mut sets = WeightedSetsBuilder::default();
    for branch in branches {
        branch.list(effects, log_total + NEGLIGIBLE.ln(), &mut sets);
    }
    Some(EstimatedSum { log_total, error, states, sets })
}
