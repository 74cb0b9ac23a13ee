//! From readings to draws of all inputs.

use nalgebra::{DMatrix, DVector};

use super::draws::Draws;
use super::importance::{Proposal, Weighted};
use super::likelihood::{Model, Reading};
use super::mode::{mode, slopes_at};
use super::resample::systematic;
use super::subspace::Subspace;
use super::tempering::tempered;

/// How the draws were found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// By the mode and the slopes there.
    Laplace,
    /// By weighing draws from near the mode.
    Importance,
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

/// One fixed seed: the same readings give the same draws, on every machine.
const SEED: u32 = 0x0b00_0573;

/// Above this share of the draws the model is linear, and Laplace's are drawn from the posterior.
/// Short of that a tail or another mode may lie where its draws don't reach.
const LINEAR: f64 = 0.9999;

/// Above this share nothing is gained by another fit.
const ENOUGH: f64 = 0.45;

/// Under this share of the draws the next way is taken.
const TOO_FEW: f64 = 0.25;

/// Rounds in which the proposal is fitted to what was found.
const REFITS: usize = 3;

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
    let near = || -> Option<Conditioned> {
        let mode = mode(model, readings, SEED)?;
        let space = Subspace::of(mode.slopes.clone());
        let laplace = Proposal::laplace(space, &mode.point, &mode.slopes)?;
        let weighted = laplace.draw(model, readings, count, SEED)?;
        if weighted.effective > LINEAR * total(count) {
            return Some(settled(&weighted, Method::Laplace));
        }
        let best = refined(model, readings, &laplace, &mode.slopes, &mode.point, count)?;
        (best.effective >= TOO_FEW * total(count)).then(|| settled(&best, Method::Importance))
    };
    near().or_else(|| {
        tempered(model, readings, count, SEED).map(|found| settled(&found, Method::Tempering))
    })
}

/// The best of the draws while the proposal is fitted to them.
fn refined(
    model: &impl Model,
    readings: &[Reading],
    laplace: &Proposal,
    slopes: &DMatrix<f64>,
    mode: &DVector<f64>,
    count: usize,
) -> Option<Weighted> {
    let mut proposal = Proposal { is_normal: false, ..laplace.clone() };
    let mut best: Option<Weighted> = None;
    for refit in 0..REFITS {
        let found = proposal.draw(model, readings, count, SEED)?;
        let space = wider(model, readings, &found, slopes, mode);
        let is_best = best.as_ref().is_none_or(|best| found.effective > best.effective);
        let enough = found.effective > ENOUGH * total(count);
        if refit + 1 < REFITS && !enough {
            proposal = Proposal::refitted(&found, space)?;
        }
        if is_best {
            best = Some(found);
        }
        if enough {
            break;
        }
    }
    best
}

/// The directions that the readings speak of at the mode and at some of the draws: a model that bends
/// speaks of others there.
fn wider(
    model: &impl Model,
    readings: &[Reading],
    found: &Weighted,
    slopes: &DMatrix<f64>,
    mode: &DVector<f64>,
) -> Subspace {
    let mut rows: Vec<DMatrix<f64>> = vec![slopes.clone()];
    for place in systematic(&found.weights, LOOKED_AT) {
        let point = found.draws.point(place);
        rows.extend(slopes_at(model, readings, &point));
    }
    let all: usize = rows.iter().map(DMatrix::nrows).sum();
    let mut stacked = DMatrix::zeros(all + 1, slopes.ncols());
    let mut at = 0;
    for part in &rows {
        stacked.rows_mut(at, part.nrows()).copy_from(part);
        at += part.nrows();
    }
    // The mode itself may lie off the directions where the slopes have turned since the middle.
    stacked.row_mut(at).copy_from(&mode.transpose());
    Subspace::of(stacked)
}

fn settled(found: &Weighted, method: Method) -> Conditioned {
    let count = found.draws.count();
    // Draws of nearly equal weight are taken as they are: resampling would only lose some.
    let draws = found.draws.taken(&systematic(&found.weights, count));
    Conditioned { draws, effective: found.effective, method }
}

fn total(count: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let count = count as f64;
    count
}
