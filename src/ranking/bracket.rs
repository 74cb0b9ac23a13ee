//! Branch and bound for a part whose evidence ties too many causes together for a sweep.
//!
//! Some causes are decided, the others open. What the open ones can add is bracketed in closed form:
//! each multiplies the weight of a set by a factor within known ends, whatever others come along, so
//! the sum over all their combinations lies between two products. The bracket that is widest is split
//! at the cause that makes it wide, until all of them together are narrow enough. Searching sets
//! outward with bounds on the rest is Henrion's (Search-based methods to bound diagnostic
//! probabilities in very large belief nets, 1991); what one more cause can change is bounded in the
//! same spirit.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::branch::{Branch, Frame};
use super::part::Part;
use super::reach::Range;

/// How far to go.
pub(super) struct Limits {
    /// Share of the sum that may stay unknown.
    pub(super) unknown: f64,
    /// Most branches to weigh.
    pub(super) most: usize,
}

/// The sum over all sets of a part, as far as it is known.
pub(super) struct Bracket {
    /// Natural logarithms of the ends of the sum.
    pub(super) log: Range,
    /// Natural logarithm of what it is taken for, between them.
    pub(super) log_best: f64,
    /// The chances of each variable's states by that.
    pub(super) states: Vec<Vec<f64>>,
}

/// Brackets the sum; nothing where no set has a weight.
pub(super) fn bracket(part: &Part, limits: &Limits) -> Option<Bracket> {
    let frame = Frame::new(part);
    let root = Branch::root(&frame);
    // Sums are kept relative to this, so that small ones are not lost.
    let scale = root.log.high;
    if scale == f64::NEG_INFINITY {
        return None;
    }
    let mut open = BinaryHeap::new();
    let mut closed: Vec<Branch> = Vec::new();
    let mut weighed = 1;
    let mut sums = root.sums(scale);
    open.push(Open { gap: sums.high - sums.low, branch: root });
    while sums.high - sums.low > limits.unknown * sums.high && weighed < limits.most {
        let Some(Open { branch, .. }) = open.pop() else { break };
        let Some(variable) = branch.split else {
            closed.push(branch);
            continue;
        };
        let own = branch.sums(scale);
        sums = Range { low: sums.low - own.low, high: sums.high - own.high };
        for child in branch.split_at(&frame, variable) {
            weighed += 1;
            let own = child.sums(scale);
            if own.high > 0.0 {
                sums = Range { low: sums.low + own.low, high: sums.high + own.high };
                open.push(Open { gap: own.high - own.low, branch: child });
            }
        }
    }
    closed.extend(open.into_iter().map(|open| open.branch));
    gather(part, &closed, scale)
}

/// Adds up the branches.
fn gather(part: &Part, branches: &[Branch], scale: f64) -> Option<Bracket> {
    let mut sums = Range { low: 0.0, high: 0.0 };
    let mut best = 0.0;
    let mut states: Vec<Vec<f64>> =
        part.variables.iter().map(|variable| vec![0.0; variable.states.len()]).collect();
    for branch in branches {
        let own = branch.sums(scale);
        sums = Range { low: sums.low + own.low, high: sums.high + own.high };
        let weight = (branch.best - scale).exp();
        best += weight;
        for (sum, share) in states.iter_mut().flatten().zip(&branch.shares) {
            *sum += weight * share;
        }
    }
    if sums.high <= 0.0 {
        return None;
    }
    for chances in &mut states {
        let total: f64 = chances.iter().sum();
        chances.iter_mut().for_each(|chance| *chance /= total.max(f64::MIN_POSITIVE));
    }
    let log = Range { low: scale + sums.low.ln(), high: scale + sums.high.max(sums.low).ln() };
    Some(Bracket { log, log_best: scale + best.ln(), states })
}

/// A branch to split, the widest first.
struct Open {
    gap: f64,
    branch: Branch,
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.gap.total_cmp(&other.gap)
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
