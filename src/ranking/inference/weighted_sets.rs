//! Sets of causes of one part, with how likely each is.

/// A cause in a set: it was there in all rounds before `leaves`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::ranking) struct Member {
    pub(in crate::ranking) cause: usize,
    pub(in crate::ranking) leaves: usize,
}

/// Sets with weights, likeliest first. Kept flat: a long list is walked far more often than built.
#[derive(Debug, Clone, Default)]
pub(in crate::ranking) struct Listing {
    members: Vec<Member>,
    ends: Vec<usize>,
    weights: Vec<f64>,
    /// Natural logarithm of the sum the weights were divided by.
    pub(in crate::ranking) log_total: f64,
}

/// Sets in the order they were found, by logarithm of weight.
#[derive(Debug, Default)]
pub(in crate::ranking) struct Draft {
    members: Vec<Member>,
    ends: Vec<usize>,
    log_weights: Vec<f64>,
}

impl Draft {
    pub(in crate::ranking) fn push(
        &mut self,
        members: impl IntoIterator<Item = Member>,
        log_weight: f64,
    ) {
        if log_weight > f64::NEG_INFINITY {
            self.members.extend(members);
            self.ends.push(self.members.len());
            self.log_weights.push(log_weight);
        }
    }

    /// Sorts, scales to sum 1, and cuts off the end what altogether weighs less than `negligible`.
    /// Nothing where no set has a weight.
    pub(in crate::ranking) fn finish(self, negligible: f64) -> Option<Listing> {
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
        let mut listing = Listing { log_total: top + total.ln(), ..Listing::default() };
        for (index, weight) in order.iter().zip(&weights).take(kept) {
            let start = if *index == 0 { 0 } else { self.ends[index - 1] };
            listing.members.extend_from_slice(&self.members[start..self.ends[*index]]);
            listing.ends.push(listing.members.len());
            listing.weights.push(weight / total);
        }
        Some(listing)
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

impl Listing {
    /// The sets with their weights, likeliest first.
    pub(in crate::ranking) fn sets(&self) -> impl Iterator<Item = (&[Member], f64)> {
        self.weights.iter().enumerate().map(|(index, weight)| (self.members_of(index), *weight))
    }

    pub(in crate::ranking) fn len(&self) -> usize {
        self.weights.len()
    }

    fn members_of(&self, index: usize) -> &[Member] {
        let start = if index == 0 { 0 } else { self.ends[index - 1] };
        &self.members[start..self.ends[index]]
    }
}
