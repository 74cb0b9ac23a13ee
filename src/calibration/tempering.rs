//! Draws of the prior led to the posterior by raising the likelihood little by little, resampled and
//! moved on the way (Del Moral, Doucet and Jasra 2006). Slow and steady: it finds several modes, and
//! the bends that a fitted normal distribution misses. The moves keep the prior whatever their length
//! (preconditioned Crank–Nicolson: Cotter, Roberts, Stuart and White, *Statistical Science* 28(3),
//! 2013).

use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::draws::Draws;
use super::importance::Weighted;
use super::likelihood::{Model, Reading, log_likelihoods};
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
    let mut draws = Draws::standard_normal(count, inputs, seed);
    let mut likelihoods = log_likelihoods(readings, &model.predict(&draws), count);
    let mut generator = Xoshiro256PlusPlus::seed_from_u64(u64::from(seed));
    let (mut power, mut length) = (0.0, 0.5);
    for temperature in 0..MAX_TEMPERATURES {
        let last = temperature + 1 == MAX_TEMPERATURES;
        let rise = if last { 1.0 - power } else { next_rise(&likelihoods, 1.0 - power) };
        let weights = raised(&likelihoods, rise)?;
        let places = systematic(&weights, count);
        draws = draws.taken(&places);
        likelihoods = places.iter().map(|place| likelihoods[*place]).collect();
        power += rise;
        for _ in 0..MOVES {
            let taken =
                moved(model, readings, &mut draws, &mut likelihoods, power, length, &mut generator);
            // A quarter of the moves taken mixes best.
            length = (length * (taken - 0.25).exp()).clamp(0.01, 1.0);
        }
        if power >= 1.0 {
            break;
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let share = 1.0 / count as f64;
    let distinct = effective(&raised(&likelihoods, 0.0)?);
    Some(Weighted { draws, weights: vec![share; count], effective: distinct })
}

fn raised(likelihoods: &[f64], rise: f64) -> Option<Vec<f64>> {
    let powered = |log: &f64| if log.is_finite() { rise * log } else { f64::NEG_INFINITY };
    normalised(&likelihoods.iter().map(powered).collect::<Vec<f64>>())
}

/// The largest rise, at most `left`, that keeps enough of the draws, by halving.
fn next_rise(likelihoods: &[f64], left: f64) -> f64 {
    let possible = likelihoods.iter().filter(|log| log.is_finite()).count();
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let wanted = KEPT * possible as f64;
    let keeps = |rise: f64| raised(likelihoods, rise).is_some_and(|w| effective(&w) >= wanted);
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

/// One move of every draw; the share that was taken.
fn moved(
    model: &impl Model,
    readings: &[Reading],
    draws: &mut Draws,
    likelihoods: &mut [f64],
    power: f64,
    length: f64,
    generator: &mut Xoshiro256PlusPlus,
) -> f64 {
    let (count, inputs) = (draws.count(), model.inputs());
    let fresh = Draws::standard_normal(count, inputs, generator.random());
    let kept = (1.0 - length * length).sqrt();
    let column = |input: usize| {
        let pairs = draws.column(input).iter().zip(fresh.column(input));
        pairs.map(|(old, new)| kept * old + length * new).collect()
    };
    let proposed = Draws::from_columns(count, (0..inputs).map(column).collect());
    let found = log_likelihoods(readings, &model.predict(&proposed), count);
    let mut taken = 0_u32;
    let mut places: Vec<usize> = (0..count).collect();
    for draw in 0..count {
        let ratio = (power * (found[draw] - likelihoods[draw])).exp();
        if found[draw].is_finite() && generator.random::<f64>() < ratio {
            places[draw] = count + draw;
            likelihoods[draw] = found[draw];
            taken += 1;
        }
    }
    *draws = draws.chosen(&proposed, &places);
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let count = count as f64;
    f64::from(taken) / count
}
