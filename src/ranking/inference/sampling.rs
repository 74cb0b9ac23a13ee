//! How far the branches' sum is off, by importance sampling over them.
//!
//! A branch takes its open causes as if none interacted, which is a distribution that sets are easily
//! drawn from. Each draw first goes on deciding causes at random, as likely as the sums of the branches
//! say, until little interacts, then draws the others by themselves. The true weight of what was drawn
//! over the weight it was drawn with corrects the sum: importance sampling with the branches as proposal
//! and as control variate (Owen, *Monte Carlo theory, methods and examples*, 2013, §8.9 and §9.1). The
//! correction is unbiased, and its scatter says how far it can be trusted. The generator always starts
//! alike, so that the same evidence gives the same digits.

use std::borrow::Cow;

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use super::branch::Branch;
use super::effects::Effects;

/// A branch whose open causes interact by less than this is not split further: what is left is in the
/// weights of the sets drawn.
const LITTLE: f64 = 0.5;

/// So many sets are drawn at the end of each descent: they cost little beside it.
const SETS_A_DESCENT: u8 = 8;

/// A probability may be off by so many standard errors. With a handful of causes to look at, one set of
/// evidence in some thousands is off by more.
const STANDARD_ERRORS: f64 = 4.0;

/// What draws add to the branches' sum, as a share of it.
pub(super) struct Correction {
    rng: Xoshiro256PlusPlus,
    draws: f64,
    /// Of what each draw adds to the total.
    total: Moments,
    /// The same for each state of each variable.
    states: Vec<Moments>,
}

/// A deviation summed up over the draws, with its squares and its products with the total's.
#[derive(Clone, Copy, Default)]
struct Moments {
    sum: f64,
    squares: f64,
    products: f64,
    largest: f64,
}

impl Moments {
    fn add(&mut self, deviation: f64, of_total: f64) {
        self.sum += deviation;
        self.squares += deviation * deviation;
        self.products += deviation * of_total;
        self.largest = self.largest.max(deviation.abs());
    }
}

impl Correction {
    pub(super) fn new(states: usize) -> Self {
        Self {
            rng: Xoshiro256PlusPlus::seed_from_u64(1),
            draws: 0.0,
            total: Moments::default(),
            states: vec![Moments::default(); states],
        }
    }

    /// Draws `count` times from the branches, each as often as it is large and uncertain; `shares` are
    /// their shares of the sum. How many branches were weighed for that. Once those are more than
    /// `most`, draws are no longer split up, which makes them rougher.
    pub(super) fn draw(
        &mut self,
        effects: &Effects<'_>,
        branches: &[Branch],
        shares: &[f64],
        count: u16,
        most: usize,
    ) -> usize {
        let branches = || branches.iter().zip(shares);
        let weight = |(branch, share): (&Branch, &f64)| share * branch.error.sqrt();
        let all: f64 = branches().map(weight).sum();
        if all <= 0.0 {
            return 0;
        }
        // Evenly spaced over the weights laid end to end, from a random start on (systematic sampling).
        let step = all / f64::from(count);
        let mut next = self.rng.random::<f64>() * step;
        let mut weighed = 0;
        for (branch, share) in branches() {
            let weight = weight((branch, share));
            next -= weight;
            while next < 0.0 {
                next += step;
                let little = if weighed < most { LITTLE } else { f64::INFINITY };
                weighed += self.draw_one(effects, branch, share * all / weight, little);
            }
        }
        self.draws += f64::from(count);
        weighed
    }

    /// One draw from a branch, counting `scale` times; how many branches were weighed for it.
    fn draw_one(
        &mut self,
        effects: &Effects<'_>,
        branch: &Branch,
        scale: f64,
        little: f64,
    ) -> usize {
        let Descent { leaf, over, weighed } = descend(effects, branch, little, &mut self.rng);
        let mut total = over;
        let mut estimate: Vec<f64> = leaf.marginals.iter().map(|own| over * own).collect();
        let mut drawn = Vec::new();
        for _ in 0..SETS_A_DESCENT {
            leaf.draw(effects, &mut self.rng, &mut drawn);
            let ratio = leaf.weight_over_proposal(effects, &drawn);
            let more = over * (ratio - 1.0) / f64::from(SETS_A_DESCENT);
            if more != 0.0 {
                total += more;
                leaf.each_state(effects, &drawn, |state| estimate[state] += more);
            }
        }
        let of_total = scale * (total - 1.0);
        self.total.add(of_total, of_total);
        for (place, (estimate, marginal)) in estimate.iter().zip(&branch.marginals).enumerate() {
            let deviation = scale * (estimate - marginal);
            if deviation != 0.0 {
                self.states[place].add(deviation, of_total);
            }
        }
        weighed
    }

    /// Logarithm of the corrected sum over the branches'; 0 where the draws don't tell it.
    pub(super) fn log_times(&self) -> f64 {
        self.times().map_or(0.0, f64::ln)
    }

    /// What the branches' sum has to be multiplied by. Draws that speak against every set say nothing but
    /// that more are needed.
    fn times(&self) -> Option<f64> {
        Some(1.0 + self.total.sum / self.draws.max(1.0)).filter(|times| *times > 0.0)
    }

    /// The corrected probability of each state, of which `states` are the branches', and by how much
    /// each may be off.
    pub(super) fn corrected(&self, states: &[f64]) -> (Vec<f64>, Vec<f64>) {
        states.iter().zip(&self.states).map(|(state, own)| self.corrected_one(*state, own)).unzip()
    }

    /// The most that any probability may be off.
    pub(super) fn doubt(&self, states: &[f64]) -> f64 {
        self.corrected(states).1.into_iter().fold(0.0, f64::max)
    }

    fn corrected_one(&self, state: f64, own: &Moments) -> (f64, f64) {
        let Some(times) = self.times() else { return (state, 1.0) };
        let n = self.draws.max(1.0);
        let p = ((state + own.sum / n) / times).clamp(0.0, 1.0);
        // Of a ratio of two means, to first order.
        let sum = own.sum - p * self.total.sum;
        let squares = own.squares - 2.0 * p * own.products + p * p * self.total.squares;
        let variance = (squares - sum * sum / n).max(0.0) / (n - 1.0).max(1.0);
        // The largest draw counts once more: where few draws are large, another may be missing.
        let largest = own.largest.max(p * self.total.largest) / n;
        let doubt = (STANDARD_ERRORS * (variance / n).sqrt() + largest) / times;
        (p, doubt.min(1.0))
    }
}

/// Where a draw came to.
struct Descent<'b> {
    leaf: Cow<'b, Branch>,
    /// The sum over the branches that were to choose from, over what the branches they come of were
    /// taken to sum to; 0 where none had a weight.
    over: f64,
    weighed: usize,
}

/// Goes down from a branch, deciding causes at random, until its open causes interact `little`.
fn descend<'b>(
    effects: &Effects<'_>,
    branch: &'b Branch,
    little: f64,
    rng: &mut Xoshiro256PlusPlus,
) -> Descent<'b> {
    let mut down = Descent { leaf: Cow::Borrowed(branch), over: 1.0, weighed: 0 };
    while down.leaf.error > little
        && let Some(variable) = down.leaf.split_on
    {
        let parent = down.leaf.log_sum;
        let leaf = std::mem::replace(&mut down.leaf, Cow::Borrowed(branch));
        let mut children = leaf.into_owned().split(effects, variable);
        down.weighed += children.len();
        let sums: Vec<f64> = children.iter().map(|child| (child.log_sum - parent).exp()).collect();
        let all: f64 = sums.iter().sum();
        down.over *= all;
        if all <= 0.0 {
            break;
        }
        let mut left = rng.random::<f64>() * all;
        let chosen = sums.iter().position(|sum| {
            left -= sum;
            left < 0.0
        });
        // Rounding can leave a hair beyond the last.
        let chosen = chosen.or_else(|| sums.iter().rposition(|sum| *sum > 0.0));
        down.leaf = Cow::Owned(children.swap_remove(chosen.unwrap_or_default()));
    }
    down
}
