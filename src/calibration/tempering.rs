//! Draws of the prior led to the posterior by raising the likelihood little by little, resampled and
//! moved on the way (Del Moral, Doucet and Jasra 2006). Slow and steady: it finds several modes, and
//! the bends that a fitted normal distribution misses.

use super::draws::Draws;
use super::importance::{Fitted, Weighted};
use super::likelihood::{Model, Reading};
use super::moves::Mover;
use super::resample::{effective, normalised, systematic};

/// Rounds of moves at each temperature.
const MOVES: usize = 4;
/// Most temperatures; where more were needed the readings can hardly be, and what was reached counts.
const MAX_TEMPERATURES: usize = 14;
/// The effective share of the draws that each rise in temperature keeps.
const KEPT: f64 = 0.5;

/// So many draws of the posterior, of equal weight; none where no draw of the prior is possible.
pub(super) fn tempered(
    model: &impl Model,
    readings: &[Reading],
    count: usize,
    seed: u32,
) -> Option<Weighted> {
    let inputs = model.inputs();
    let prior = Fitted::prior(inputs);
    let draws = Draws::clone(&Draws::standard_normal(count, inputs, seed));
    let mut mover = Mover::new(model, readings, &prior, draws, seed);
    let mut power = 0.0;
    let mut weakest = f64::INFINITY;
    for temperature in 0..MAX_TEMPERATURES {
        let last = temperature + 1 == MAX_TEMPERATURES;
        let rise = if last { 1.0 - power } else { next_rise(&mover.heights, 1.0 - power) };
        let weights = raised(&mover.heights, rise)?;
        weakest = effective(&weights).min(weakest);
        mover.resample(&systematic(&weights, count));
        power += rise;
        for _ in 0..MOVES {
            mover.step(power);
        }
        if power >= 1.0 {
            break;
        }
    }
    Some(Weighted::equal(mover.draws, weakest))
}

fn raised(heights: &[f64], rise: f64) -> Option<Vec<f64>> {
    let powered = |log: &f64| if log.is_finite() { rise * log } else { f64::NEG_INFINITY };
    normalised(&heights.iter().map(powered).collect::<Vec<f64>>())
}

/// The largest rise, at most `left`, that keeps enough of the draws, by halving.
fn next_rise(heights: &[f64], left: f64) -> f64 {
    let possible = heights.iter().filter(|log| log.is_finite()).count();
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let wanted = KEPT * possible as f64;
    let keeps = |rise: f64| raised(heights, rise).is_some_and(|w| effective(&w) >= wanted);
    if keeps(left) {
        return left;
    }
    let (mut low, mut high) = (0.0, left);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if keeps(middle) { low = middle } else { high = middle }
    }
    // A rise so small that nothing would change for ever is none.
    low.max(1e-6 * left)
}
