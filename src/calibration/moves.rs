//! Moves of draws that leave the posterior as it is: each draw is offered another near it, and takes
//! it with Metropolis' chance. Offers keep a reference distribution whatever their length
//! (preconditioned Crank–Nicolson: Cotter, Roberts, Stuart and White, *Statistical Science* 28(3),
//! 2013): the prior, or what was fitted to the posterior, so that most are taken.

use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::draws::Draws;
use super::importance::Fitted;
use super::likelihood::{Model, Reading, log_likelihoods};

/// A quarter of the moves taken mixes best (Roberts and Rosenthal, *Statistical Science* 16(4), 2001).
const BEST_TAKEN: f64 = 0.25;

/// Draws that are moved, with the logarithm of posterior over reference density at each.
pub(super) struct Mover<'a, M> {
    pub(super) model: &'a M,
    pub(super) readings: &'a [Reading],
    pub(super) reference: &'a Fitted,
    pub(super) draws: Draws,
    pub(super) heights: Vec<f64>,
    /// Which of the draws have moved at all.
    pub(super) has_moved: Vec<bool>,
    length: f64,
    generator: Xoshiro256PlusPlus,
}

impl<'a, M: Model> Mover<'a, M> {
    pub(super) fn new(
        model: &'a M,
        readings: &'a [Reading],
        reference: &'a Fitted,
        draws: Draws,
        seed: u32,
    ) -> Self {
        let heights = heights(model, readings, reference, &draws);
        let has_moved = vec![false; draws.count()];
        let generator = Xoshiro256PlusPlus::seed_from_u64(u64::from(seed));
        Self { model, readings, reference, draws, heights, has_moved, length: 0.5, generator }
    }

    /// Takes the draws at these places in place of all.
    pub(super) fn resample(&mut self, places: &[usize]) {
        self.draws = self.draws.taken(places);
        self.heights = places.iter().map(|place| self.heights[*place]).collect();
        self.has_moved = vec![false; places.len()];
    }

    /// Offers every draw another, with the posterior's ratio to the reference raised to `power`.
    pub(super) fn step(&mut self, power: f64) {
        let count = self.draws.count();
        let fresh = Draws::standard_normal(count, self.model.inputs(), self.generator.random());
        let offered = self.reference.blended(&self.draws, &fresh, self.length);
        let found = heights(self.model, self.readings, self.reference, &offered);
        let mut places: Vec<usize> = (0..count).collect();
        let mut taken = 0.0;
        for draw in 0..count {
            let ratio = (power * (found[draw] - self.heights[draw])).exp();
            if found[draw].is_finite() && self.generator.random::<f64>() < ratio {
                places[draw] = count + draw;
                self.heights[draw] = found[draw];
                self.has_moved[draw] = true;
                taken += 1.0;
            }
        }
        self.draws = self.draws.chosen(&offered, &places);
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let share = taken / count as f64;
        self.length = (self.length * (2.0 * (share - BEST_TAKEN)).exp()).clamp(0.01, 0.95);
    }
}

fn heights(
    model: &impl Model,
    readings: &[Reading],
    reference: &Fitted,
    draws: &Draws,
) -> Vec<f64> {
    let likelihoods = log_likelihoods(readings, &model.predict(draws), draws.count());
    let ratios = reference.log_prior_ratios(draws);
    likelihoods.into_iter().zip(ratios).map(|(likely, ratio)| likely + ratio).collect()
}
