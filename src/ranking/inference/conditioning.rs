//! The sum over all sets of a part whose evidence ties too many causes together for a sweep.
//!
//! From the empty set outward: some causes are decided, the others open. The sum over the open ones is
//! taken as if none of them heeded the others, which is right where few of them are likely or they bear
//! on different evidence. Where pairs of them say otherwise, the branch is split at the cause that pairs
//! worst, until what they could change is small everywhere. Searching outward from the sets of few
//! causes is Henrion's (Search-based methods to bound diagnostic probabilities in very large belief
//! nets, 1991).

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::branch::{Branch, Frame};
use super::component::Part;
use super::weighted_sets::Draft;

/// How far to go.
pub(super) struct Limits {
    /// Share of the sum that may stay in doubt.
    pub(super) doubt: f64,
    /// Most branches to weigh.
    pub(super) most: usize,
}

/// The sum over all sets of a part, as far as it is known.
pub(super) struct Outward {
    /// Its natural logarithm.
    pub(super) log: f64,
    /// Share of it that pairs of causes taken together might change.
    pub(super) doubt: f64,
    /// The chances of each variable's states.
    pub(super) states: Vec<Vec<f64>>,
    /// The likeliest sets.
    pub(super) sets: Draft,
}

/// Share of the sum below which a set is not worth a place in the list.
const NEGLIGIBLE: f64 = 1e-9;

/// So many branches are weighed between two looks at the whole sum.
const BETWEEN: usize = 24;

/// Sums; nothing where no set has a weight.
pub(super) fn outward(part: &Part, limits: &Limits) -> Option<Outward> {
    let frame = Frame::new(part);
    let mut open = BinaryHeap::from([Open::new(Branch::root(&frame))]);
    let mut closed: Vec<Branch> = Vec::new();
    let (mut weighed, mut next_look) = (1, 1);
    while weighed < limits.most {
        if weighed >= next_look {
            if in_doubt(&open, &closed) <= limits.doubt {
                break;
            }
            next_look = weighed + BETWEEN;
        }
        let Some(Open { branch, .. }) = open.pop() else { break };
        let Some(variable) = branch.split else {
            closed.push(branch);
            continue;
        };
        for child in branch.split_at(&frame, variable) {
            weighed += 1;
            if child.log > f64::NEG_INFINITY {
                open.push(Open::new(child));
            }
        }
    }
    let doubt = in_doubt(&open, &closed);
    closed.extend(open.into_iter().map(|open| open.branch));
    gather(&frame, part, &closed, doubt)
}

/// Share of the sum that is in doubt. Summed anew each time: the first sums may be far too large, and
/// what is small beside them would be lost.
fn in_doubt(open: &BinaryHeap<Open>, closed: &[Branch]) -> f64 {
    let branches = || open.iter().map(|open| &open.branch).chain(closed);
    let scale = branches().map(|branch| branch.log).fold(f64::NEG_INFINITY, f64::max);
    let (mut sum, mut doubt) = (0.0, 0.0);
    for branch in branches() {
        let own = (branch.log - scale).exp();
        sum += own;
        doubt += own * branch.doubt;
    }
    if sum > 0.0 { doubt / sum } else { 0.0 }
}

/// Adds up the branches.
fn gather(frame: &Frame<'_>, part: &Part, branches: &[Branch], doubt: f64) -> Option<Outward> {
    let scale = branches.iter().map(|branch| branch.log).fold(f64::NEG_INFINITY, f64::max);
    if scale == f64::NEG_INFINITY {
        return None;
    }
    let mut sum = 0.0;
    let mut states: Vec<Vec<f64>> =
        part.variables.iter().map(|variable| vec![0.0; variable.states.len()]).collect();
    let mut sets = Draft::default();
    for branch in branches {
        let own = (branch.log - scale).exp();
        sum += own;
        for (sum, share) in states.iter_mut().flatten().zip(&branch.shares) {
            *sum += own * share;
        }
    }
    let log = scale + sum.ln();
    for branch in branches {
        branch.list(frame, log + NEGLIGIBLE.ln(), &mut sets);
    }
    states.iter_mut().flatten().for_each(|chance| *chance /= sum);
    Some(Outward { log, doubt, states, sets })
}

/// A branch to split, the one that leaves most in doubt first.
struct Open {
    /// Logarithm of what is in doubt.
    doubt: f64,
    branch: Branch,
}

impl Open {
    fn new(branch: Branch) -> Self {
        Self { doubt: branch.log + branch.doubt.ln(), branch }
    }
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.doubt.total_cmp(&other.doubt)
    }
}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Open {}
