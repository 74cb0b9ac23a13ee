//! The likeliest inputs given the readings, by Levenberg's and Marquardt's damped Gauss–Newton steps
//! (Nocedal and Wright, *Numerical Optimization*, 2nd ed., 10.3).

use nalgebra::{Cholesky, DMatrix, DVector};

use super::draws::Draws;
use super::likelihood::{Model, Reading, half_square, log_likelihoods};

/// The likeliest inputs and the slopes of the readings there.
#[derive(Debug, Clone)]
pub(super) struct Mode {
    pub(super) point: DVector<f64>,
    /// One row a reading, scaled by its uncertainty and the root of its chance to be of the quantity.
    pub(super) slopes: DMatrix<f64>,
}

/// Step of the central differences, in standard uncertainties of the input.
const STEP: f64 = 1e-3;
const MAX_STEPS: usize = 40;
/// Steps shorter than this, in standard uncertainties, end the search.
const ENOUGH: f64 = 1e-10;
/// So many draws of the prior are tried for a start where the model has no answer at its middle.
const STARTS: usize = 64;

/// The mode, or none where the model has no answer anywhere near the prior's middle.
pub(super) fn mode(model: &impl Model, readings: &[Reading], seed: u32) -> Option<Mode> {
    let inputs = model.inputs();
    let mut point = start(model, readings, seed)?;
    let mut height = log_posterior(model, readings, &point);
    let mut linear = linearised(model, readings, &point)?;
    let mut damping = 1e-3;
    for _ in 0..MAX_STEPS {
        let downhill = -(&point + linear.slopes.transpose() * &linear.residuals);
        let curvature =
            DMatrix::identity(inputs, inputs) + linear.slopes.transpose() * &linear.slopes;
        let damped = &curvature + DMatrix::from_diagonal(&(curvature.diagonal() * damping));
        let step = Cholesky::new(damped)?.solve(&downhill);
        let next = &point + &step;
        let next_height = log_posterior(model, readings, &next);
        let near = linearised(model, readings, &next).filter(|_| next_height >= height - 1e-12);
        match near {
            Some(next_linear) => {
                (point, height, linear) = (next, next_height.max(height), next_linear);
                damping = (damping / 10.0_f64).max(1e-12);
                if step.amax() < ENOUGH {
                    break;
                }
            }
            None if damping > 1e8 || step.amax() < ENOUGH => break,
            None => damping *= 10.0,
        }
    }
    Some(Mode { point, slopes: linear.slopes })
}

/// Where the search begins: the prior's middle, or the best of some draws where there is no answer.
fn start(model: &impl Model, readings: &[Reading], seed: u32) -> Option<DVector<f64>> {
    let inputs = model.inputs();
    let middle = DVector::zeros(inputs);
    if linearised(model, readings, &middle).is_some() {
        return Some(middle);
    }
    let draws = Draws::standard_normal(STARTS, inputs, seed);
    let likelihoods = log_likelihoods(readings, &model.predict(&draws), STARTS);
    let heights = likelihoods
        .iter()
        .enumerate()
        .map(|(draw, likelihood)| (draw, likelihood - half_square(&draws.point(draw))));
    let mut ranked: Vec<(usize, f64)> = heights.filter(|(_, height)| height.is_finite()).collect();
    ranked.sort_by(|a, b| b.1.total_cmp(&a.1));
    let points = ranked.into_iter().map(|(draw, _)| DVector::from_vec(draws.point(draw)));
    points.into_iter().find(|point| linearised(model, readings, point).is_some())
}

fn log_posterior(model: &impl Model, readings: &[Reading], point: &DVector<f64>) -> f64 {
    let draws = Draws::from_points(point.len(), &[point.as_slice().to_vec()]);
    let likelihood = log_likelihoods(readings, &model.predict(&draws), 1);
    likelihood.first().copied().unwrap_or(f64::NEG_INFINITY) - half_square(point.as_slice())
}

/// Residuals and slopes at a point, both in uncertainties of the readings.
struct Linear {
    residuals: DVector<f64>,
    slopes: DMatrix<f64>,
}

/// None where the model has no answer at the point. Where it has none to one side of an input, the
/// slope is taken on the other; where to neither, it is 0.
fn linearised(model: &impl Model, readings: &[Reading], point: &DVector<f64>) -> Option<Linear> {
    let inputs = point.len();
    let mut points = vec![point.as_slice().to_vec()];
    for input in 0..inputs {
        for side in [STEP, -STEP] {
            let mut moved = point.as_slice().to_vec();
            moved[input] += side;
            points.push(moved);
        }
    }
    let predicted = model.predict(&Draws::from_points(inputs, &points));
    let mut residuals = DVector::zeros(readings.len());
    let mut slopes = DMatrix::zeros(readings.len(), inputs);
    for (row, (reading, expected)) in readings.iter().zip(&predicted).enumerate() {
        let Some(centre) = expected.first().copied().flatten() else {
            // A reading that may be of something else can do without the model's answer.
            if reading.holds < 1.0 {
                continue;
            }
            return None;
        };
        let weight = reading.is_of_it(centre).sqrt() / reading.uncertainty;
        residuals[row] = weight * (centre - reading.value);
        for input in 0..inputs {
            let slope = match (expected[1 + 2 * input], expected[2 + 2 * input]) {
                (Some(above), Some(below)) => (above - below) / (2.0 * STEP),
                (Some(above), None) => (above - centre) / STEP,
                (None, Some(below)) => (centre - below) / STEP,
                (None, None) => 0.0,
            };
            slopes[(row, input)] = weight * slope;
        }
    }
    Some(Linear { residuals, slopes })
}

/// The slopes of the readings at a point, scaled as in [`Mode`].
pub(super) fn slopes_at(
    model: &impl Model,
    readings: &[Reading],
    point: &[f64],
) -> Option<DMatrix<f64>> {
    linearised(model, readings, &DVector::from_column_slice(point)).map(|linear| linear.slopes)
}
