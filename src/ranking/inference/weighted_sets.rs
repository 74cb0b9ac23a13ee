//! Sets of causes of one component, with how likely each is.

use super::variable::{State, Variable};

/// A cause in a set: it was present in all rounds before `present_until`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::ranking) struct Member {
    pub(in crate::ranking) cause: usize,
    pub(in crate::ranking) present_until: usize,
}

impl Member {
    /// The member that a variable is in this state; none for "never present".
    pub(super) fn of(variable: &Variable, state: State) -> Option<Self> {
        let State { present_until, .. } = state;
        (present_until > 0).then_some(Self { cause: variable.cause, present_until })
    }

    pub(in crate::ranking) fn is_present_in(&self, round: usize) -> bool {
        round < self.present_until
    }
}

/// Sets with weights, likeliest first. Kept flat: a long list is walked far more often than built.
#[derive(Debug, Clone, Default)]
pub(in crate::ranking) struct WeightedSets {
    members: Vec<Member>,
    ends: Vec<usize>,
    weights: Vec<f64>,
    /// Natural logarithm of the sum the weights were divided by.
    pub(super) log_total: f64,
}

/// Sets in the order they were found, by logarithm of weight.
#[derive(Debug, Default)]
pub(super) struct WeightedSetsBuilder {
    members: Vec<Member>,
    ends: Vec<usize>,
    log_weights: Vec<f64>,
}

impl WeightedSetsBuilder {
    pub(super) fn push(&mut self, members: impl IntoIterator<Item = Member>, log_weight: f64) {
        if log_weight > f64::NEG_INFINITY {
            self.members.extend(members);
            self.ends.push(self.members.len());
            self.log_weights.push(log_weight);
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.ends.is_empty()
    }

    /// Sorts, scales to sum 1, and cuts off the end what altogether weighs less than `negligible`.
    /// Nothing where no set has a weight.
    pub(super) fn finish(self, negligible: f64) -> Option<WeightedSets> {
        let top = self.log_weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if top == f64::NEG_INFINITY {
            return None;
        }
        let mut order: Vec<usize> = (0..self.ends.len()).collect();
        order.sort_unstable_by(|a, b| self.log_weights[*b].total_cmp(&self.log_weights[*a]));
        let weights: Vec<f64> = order.iter().map(|i| (self.log_weights[*i] - top).exp()).collect();
        // Smallest first, so that small weights are not lost beside large ones.
        let total: f64 = weights.iter().rev().sum();
        let kept = keep_front(&weights, negligible * total);
        let mut sets = WeightedSets { log_total: top + total.ln(), ..WeightedSets::default() };
        for (index, weight) in order.iter().zip(&weights).take(kept) {
            sets.members.extend_from_slice(slice_of(&self.members, &self.ends, *index));
            sets.ends.push(sets.members.len());
            sets.weights.push(weight / total);
        }
        Some(sets)
    }
}

/// How many to keep so that the rest sums to at most `negligible`.
fn keep_front(weights: &[f64], negligible: f64) -> usize {
    let mut cut = 0.0;
    let dropped = weights.iter().rev().take_while(|weight| {
        cut += **weight;
        cut <= negligible
    });
    weights.len() - dropped.count()
}

/// The members of the set at `index`.
fn slice_of<'m>(members: &'m [Member], ends: &[usize], index: usize) -> &'m [Member] {
    let start = if index == 0 { 0 } else { ends[index - 1] };
    &members[start..ends[index]]
}

impl WeightedSets {
    /// The sets with their weights, likeliest first.
    pub(in crate::ranking) fn iter(&self) -> impl Iterator<Item = (&[Member], f64)> {
        let sets = self.weights.iter().enumerate();
        sets.map(|(index, weight)| (slice_of(&self.members, &self.ends, index), *weight))
    }

    pub(in crate::ranking) fn len(&self) -> usize {
        self.weights.len()
    }

    /// How many of the likeliest sets hold all but the share `negligible`, at most `max`; a list of up
    /// to `short` sets is taken whole.
    pub(in crate::ranking) fn likeliest(&self, short: usize, negligible: f64, max: usize) -> usize {
        if self.len() <= short {
            return self.len();
        }
        count_to_cover(self.weights.iter().copied(), negligible).min(max)
    }
}

/// How many of the weights, falling and of sum 1, leave no more than `negligible` behind them.
pub(in crate::ranking) fn count_to_cover(
    weights: impl IntoIterator<Item = f64>,
    negligible: f64,
) -> usize {
    let mut left = 1.0;
    let needed = weights.into_iter().take_while(|weight| {
        let more = left > negligible;
        left -= weight;
        more
    });
    needed.count()
}
