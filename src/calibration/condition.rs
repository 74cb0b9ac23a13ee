//! From readings to draws of all inputs.

use nalgebra::DMatrix;

use super::draws::Draws;
use super::importance::{Fitted, Weighted};
use super::likelihood::{Model, Reading};
use super::mode::{Mode, mode, slopes_at};
use super::moves::Mover;
use super::predictive::weights_without;
use super::resample::{effective, systematic};
use super::subspace::Subspace;
use super::tempering::tempered;

/// How the draws were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// By the mode and the slopes there.
    Laplace,
    /// By weighing draws from near the mode.
    Importance,
    /// By weighing such draws, and moving what was left of them.
    Moved,
    /// By raising the likelihood little by little.
    Tempering,
}

/// The inputs as they are believed once readings are known.
#[derive(Debug, Clone)]
pub struct Conditioned {
    /// Draws of equal weight.
    pub draws: Draws,
    /// The effective number of draws that they stand for.
    pub effective: f64,
    pub method: Method,
}

impl Conditioned {
    /// Draws as they are without one of the readings, given the model's answers for it at these; none
    /// where it teaches too much beside the others to be taken out. See [`Predictive::without`].
    ///
    /// [`Predictive::without`]: super::predictive::Predictive::without
    #[must_use]
    pub fn without(&self, reading: &Reading, answers: &[Option<f64>]) -> Option<Self> {
        let weights = weights_without(reading, answers)?;
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let share = effective(&weights) / weights.len() as f64;
        let draws = self.draws.taken(&systematic(&weights, self.draws.count()));
        Some(Self { draws, effective: share * self.effective, method: self.method })
    }
}

/// One fixed seed: the same readings give the same draws, on every machine.
const SEED: u32 = 0x0b00_0573;

/// Above this share of the draws the model is linear, and Laplace's are drawn from the posterior.
/// Short of that a tail or another mode may lie where its draws don't reach.
const LINEAR: f64 = 0.9999;

/// So many draws show a model that isn't linear, before all of them are worked out.
const TRIED: usize = 40;

/// From this share of the draws on, weighed draws are taken as they are.
const ENOUGH: f64 = 0.45;

/// From this share on, moves make enough of them again.
const TO_MOVE: f64 = 0.04;

/// Rounds of those moves.
const MOVES: usize = 6;

/// So many of the draws are looked at for directions that the mode doesn't show.
const LOOKED_AT: usize = 6;

/// So many draws of the inputs given the readings; none where the readings can't be, whatever the
/// inputs.
///
/// # Examples
/// An input of which a reading with the same uncertainty as the prior says 2: half-way, and narrower
/// by √2.
/// ```
/// use boostwright::calibration::{Draws, Model, Reading, condition};
/// struct Itself;
/// impl Model for Itself {
///     fn inputs(&self) -> usize {
///         1
///     }
///     fn predict(&self, draws: &Draws) -> Vec<Vec<Option<f64>>> {
///         vec![draws.column(0).iter().copied().map(Some).collect()]
///     }
/// }
/// let reading = Reading { value: 2.0, uncertainty: 1.0, holds: 1.0, otherwise_within: 1.0 };
/// let known = condition(&Itself, &[reading], 1000).unwrap();
/// let mean = known.draws.column(0).iter().sum::<f64>() / 1000.0;
/// assert!((mean - 1.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn condition(model: &impl Model, readings: &[Reading], count: usize) -> Option<Conditioned> {
    by_fitting(model, readings, count).or_else(|| {
        let found = tempered(model, readings, count, SEED)?;
        Some(equally_weighted(&found, Method::Tempering))
    })
}

/// By distributions fitted to the posterior, as long as they fit it.
fn by_fitting(model: &impl Model, readings: &[Reading], count: usize) -> Option<Conditioned> {
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let all = count as f64;
    let mode = mode(model, readings, SEED)?;
    let space = Subspace::of(mode.slopes.clone());
    let laplace = Fitted::laplace(space, &mode.point, &mode.slopes)?;
    if is_linear(&laplace, model, readings, count.min(TRIED)) {
        let straight = laplace.draw(model, readings, count, SEED, true)?;
        if straight.effective > LINEAR * all {
            return Some(equally_weighted(&straight, Method::Laplace));
        }
    }
    let first = laplace.draw(model, readings, count, SEED, false)?;
    if first.effective > ENOUGH * all {
        return Some(equally_weighted(&first, Method::Importance));
    }
    let fitted = Fitted::to(&first, wider(model, readings, &first, &mode))?;
    let second = fitted.draw(model, readings, count, SEED, false)?;
    if second.effective > ENOUGH * all {
        return Some(equally_weighted(&second, Method::Importance));
    }
    let best = if second.effective > first.effective { second } else { first };
    (best.effective > TO_MOVE * all).then(|| moved(model, readings, &best, fitted.space))
}

/// Whether a few of Laplace's draws say that the model is linear.
fn is_linear(laplace: &Fitted, model: &impl Model, readings: &[Reading], tried: usize) -> bool {
    #[expect(clippy::cast_precision_loss, reason = "some dozens")]
    let all = tried as f64;
    let found = laplace.draw(model, readings, tried, SEED, true);
    found.is_some_and(|found| found.effective > LINEAR * all)
}

/// Draws of equal weight that were moved until they differ again.
fn moved(
    model: &impl Model,
    readings: &[Reading],
    found: &Weighted,
    space: Subspace,
) -> Conditioned {
    let count = found.draws.count();
    let reference = Fitted::to(found, space).unwrap_or_else(|| Fitted::prior(model.inputs()));
    let draws = found.draws.taken(&systematic(&found.weights, count));
    let mut mover = Mover::new(model, readings, &reference, draws, SEED);
    for _ in 0..MOVES {
        mover.step(1.0);
    }
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let moved = mover.has_moved.iter().filter(|moved| **moved).count() as f64;
    Conditioned { draws: mover.draws, effective: found.effective.max(moved), method: Method::Moved }
}

/// The directions that the readings speak of at the mode and at some of the draws: a model that bends
/// speaks of others there.
fn wider(model: &impl Model, readings: &[Reading], found: &Weighted, mode: &Mode) -> Subspace {
    let mut rows: Vec<DMatrix<f64>> = vec![mode.slopes.clone()];
    for place in systematic(&found.weights, LOOKED_AT) {
        rows.extend(slopes_at(model, readings, &found.draws.point(place)));
    }
    let all: usize = rows.iter().map(DMatrix::nrows).sum();
    let mut stacked = DMatrix::zeros(all + 1, model.inputs());
    let mut at = 0;
    for part in &rows {
        stacked.rows_mut(at, part.nrows()).copy_from(part);
        at += part.nrows();
    }
    // The mode itself may lie off the directions where the slopes have turned since the middle.
    stacked.row_mut(at).copy_from(&mode.point.transpose());
    Subspace::of(stacked)
}

fn equally_weighted(found: &Weighted, method: Method) -> Conditioned {
    let count = found.draws.count();
    let draws = found.draws.taken(&systematic(&found.weights, count));
    Conditioned { draws, effective: found.effective, method }
}
