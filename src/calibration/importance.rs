//! Draws from near the mode, weighed by how much likelier they are than they were drawn. A share of
//! them comes from the prior whatever was read, so that no draw can weigh much more than the rest
//! (defensive mixture: Hesterberg, *Technometrics* 37(2), 1995).

use nalgebra::{Cholesky, DMatrix, DVector};
use statrs::distribution::{ChiSquared, ContinuousCDF};
use statrs::function::gamma::ln_gamma;

use super::draws::Draws;
use super::likelihood::{Model, Reading, half_square, log_likelihoods};
use super::resample::{effective, normalised};
use super::subspace::Subspace;

/// Degrees of freedom of the multivariate t that draws come from: heavy tails, so that no draw can
/// weigh much more than the rest.
const FREEDOM: f64 = 6.0;

/// One draw in so many comes from the prior.
const FROM_PRIOR: usize = 8;

/// Where draws come from: along the directions that the readings speak of, round a centre; across
/// them from the prior.
#[derive(Debug, Clone)]
pub(super) struct Proposal {
    pub(super) space: Subspace,
    pub(super) centre: DVector<f64>,
    pub(super) covariance: DMatrix<f64>,
    /// A normal distribution in place of the t, and nothing from the prior.
    pub(super) is_normal: bool,
}

/// Draws with weights of sum 1.
#[derive(Debug, Clone)]
pub(super) struct Weighted {
    pub(super) draws: Draws,
    pub(super) weights: Vec<f64>,
    pub(super) effective: f64,
}

impl Proposal {
    /// Laplace's: round the mode, as narrow as the slopes of the readings there make it.
    pub(super) fn laplace(
        space: Subspace,
        mode: &DVector<f64>,
        slopes: &DMatrix<f64>,
    ) -> Option<Self> {
        let along = space.slopes(slopes);
        let directions = space.directions();
        let precision = DMatrix::identity(directions, directions) + along.transpose() * along;
        let covariance = Cholesky::new(precision)?.inverse();
        Some(Self { centre: space.along(mode), space, covariance, is_normal: true })
    }

    /// Weighed draws from it; none where no draw is possible.
    pub(super) fn draw(
        &self,
        model: &impl Model,
        readings: &[Reading],
        count: usize,
        seed: u32,
    ) -> Option<Weighted> {
        let inputs = model.inputs();
        let lower = Cholesky::new(self.covariance.clone())?.l();
        let directions = self.space.directions();
        // One more column than inputs: the length of the t's step.
        let normal = Draws::standard_normal(count, inputs + 1, seed);
        let lengths = self.lengths(&normal, inputs);
        let log_scale: f64 = lower.diagonal().iter().map(|scale| scale.ln()).sum();
        let from_prior = if self.is_normal { 0 } else { count / FROM_PRIOR };
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let share = from_prior as f64 / count as f64;
        let mut points = Vec::with_capacity(count);
        let mut log_ratio = Vec::with_capacity(count);
        for (draw, length) in lengths.into_iter().enumerate() {
            let whole = DVector::from_iterator(inputs, (0..inputs).map(|i| normal.column(i)[draw]));
            let own = self.space.along(&whole);
            let along = if draw < from_prior { own } else { &self.centre + &lower * own * length };
            let before = -half_square(along.as_slice());
            let step = lower.solve_lower_triangular(&(&along - &self.centre))?;
            let near = self.log_density(&step, directions) - log_scale;
            log_ratio.push(before - mixed(before, near, share));
            points.push(self.space.with(&whole, &along).as_slice().to_vec());
        }
        let draws = Draws::from_points(inputs, &points);
        let likelihoods = log_likelihoods(readings, &model.predict(&draws), count);
        let logarithms: Vec<f64> =
            likelihoods.iter().zip(&log_ratio).map(|(likely, ratio)| likely + ratio).collect();
        let weights = normalised(&logarithms)?;
        let effective = effective(&weights);
        Some(Weighted { draws, weights, effective })
    }

    /// By how much each step is lengthened: √(ν/χ²), which makes a normal step one of the t.
    fn lengths(&self, normal: &Draws, column: usize) -> Vec<f64> {
        let squared = ChiSquared::new(FREEDOM).ok().filter(|_| !self.is_normal);
        let Some(squared) = squared else { return vec![1.0; normal.count()] };
        let own = normal.column(column).iter();
        own.map(|z| {
            let chance = statrs::distribution::Normal::standard().cdf(*z).clamp(1e-6, 1.0 - 1e-6);
            (FREEDOM / squared.inverse_cdf(chance)).sqrt()
        })
        .collect()
    }

    /// The density's logarithm at a standardised step, but for what the prior's has as well.
    fn log_density(&self, step: &DVector<f64>, directions: usize) -> f64 {
        let square = 2.0 * half_square(step.as_slice());
        if self.is_normal {
            return -square / 2.0;
        }
        #[expect(clippy::cast_precision_loss, reason = "some dozens")]
        let directions = directions as f64;
        // (2π)^(−k/2), which the prior has, is taken off.
        ln_gamma((FREEDOM + directions) / 2.0)
            - ln_gamma(FREEDOM / 2.0)
            - directions / 2.0 * (FREEDOM / 2.0).ln()
            - (FREEDOM + directions) / 2.0 * (square / FREEDOM).ln_1p()
    }

    /// The proposal fitted to what its draws have shown: their weighted mean and covariance along the
    /// directions of `space`.
    pub(super) fn refitted(weighted: &Weighted, space: Subspace) -> Option<Self> {
        let directions = space.directions();
        let along: Vec<DVector<f64>> = (0..weighted.draws.count())
            .map(|draw| space.along(&DVector::from_vec(weighted.draws.point(draw))))
            .collect();
        let mut centre = DVector::zeros(directions);
        for (point, weight) in along.iter().zip(&weighted.weights) {
            centre += point * *weight;
        }
        // Of few draws the covariance is not to be trusted: so many of the prior's stand beside them.
        let mut covariance = DMatrix::identity(directions, directions) * (1.0 / weighted.effective);
        for (point, weight) in along.iter().zip(&weighted.weights) {
            let off = point - &centre;
            covariance += &off * off.transpose() * *weight;
        }
        let covariance = covariance * 1.1;
        Some(Self { space, centre, covariance, is_normal: false })
    }
}

/// The logarithm of a mixture of two densities, `share` of the first, by their logarithms.
fn mixed(first: f64, second: f64, share: f64) -> f64 {
    let (first, second) = (first + share.ln(), second + (1.0 - share).ln());
    let highest = first.max(second);
    highest + ((first - highest).exp() + (second - highest).exp()).ln()
}
