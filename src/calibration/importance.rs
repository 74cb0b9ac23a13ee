//! Draws from near the mode, weighed by how much likelier they are than they were drawn. A share of
//! them comes from the prior whatever was read, so that no draw can weigh much more than the rest
//! (defensive mixture: Hesterberg, *Technometrics* 37(2), 1995).

use nalgebra::{Cholesky, DMatrix, DVector};
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};
use statrs::function::gamma::ln_gamma;

use super::draws::Draws;
use super::likelihood::{Model, Reading, half_square, log_likelihoods};
use super::resample::{effective, normalised};
use super::subspace::Subspace;

/// Degrees of freedom of the multivariate t that draws come from: heavy tails.
const FREEDOM: f64 = 6.0;

/// One draw in so many comes from the prior.
const FROM_PRIOR: usize = 8;

/// A normal distribution along the directions that the readings speak of, and the prior across them.
#[derive(Debug, Clone)]
pub(super) struct Fitted {
    pub(super) space: Subspace,
    centre: DVector<f64>,
    /// Cholesky's factor of the covariance along the directions.
    lower: DMatrix<f64>,
}

/// Draws with weights of sum 1.
#[derive(Debug, Clone)]
pub(super) struct Weighted {
    pub(super) draws: Draws,
    pub(super) weights: Vec<f64>,
    pub(super) effective: f64,
}

impl Weighted {
    /// Draws of equal weight that stand for fewer.
    pub(super) fn equal(draws: Draws, effective: f64) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let share = 1.0 / draws.count() as f64;
        Self { weights: vec![share; draws.count()], draws, effective }
    }
}

impl Fitted {
    /// The prior itself: no direction is spoken of.
    pub(super) fn prior(inputs: usize) -> Self {
        let space = Subspace::of(DMatrix::zeros(0, inputs));
        Self { space, centre: DVector::zeros(0), lower: DMatrix::zeros(0, 0) }
    }

    /// Laplace's: round the mode, as narrow as the slopes of the readings there make it.
    pub(super) fn laplace(
        space: Subspace,
        mode: &DVector<f64>,
        slopes: &DMatrix<f64>,
    ) -> Option<Self> {
        let along = space.slopes(slopes);
        let directions = space.directions();
        let precision = DMatrix::identity(directions, directions) + along.transpose() * along;
        let lower = Cholesky::new(Cholesky::new(precision)?.inverse())?.l();
        Some(Self { centre: space.along(mode), space, lower })
    }

    /// Fitted to weighted draws: their mean and covariance along the directions of `space`.
    pub(super) fn to(weighted: &Weighted, space: Subspace) -> Option<Self> {
        let directions = space.directions();
        let along: Vec<DVector<f64>> = (0..weighted.draws.count())
            .map(|draw| space.along(&DVector::from_vec(weighted.draws.point(draw))))
            .collect();
        let mut centre = DVector::zeros(directions);
        for (point, weight) in along.iter().zip(&weighted.weights) {
            centre += point * *weight;
        }
        // Of few draws the covariance isn't to be trusted: so much of the prior's stands beside it.
        let mut covariance = DMatrix::identity(directions, directions) * (1.0 / weighted.effective);
        for (point, weight) in along.iter().zip(&weighted.weights) {
            let off = point - &centre;
            covariance += &off * off.transpose() * *weight;
        }
        Some(Self { space, centre, lower: Cholesky::new(covariance)?.l() })
    }

    /// Weighed draws from it; with heavy tails and a share of the prior unless `is_normal`. None where
    /// no draw is possible.
    pub(super) fn draw(
        &self,
        model: &impl Model,
        readings: &[Reading],
        count: usize,
        seed: u32,
        is_normal: bool,
    ) -> Option<Weighted> {
        let inputs = model.inputs();
        // One more column than inputs: the length of the t's step.
        let normal = Draws::standard_normal(count, inputs + 1, seed);
        let from_prior = if is_normal { 0 } else { count / FROM_PRIOR };
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let share = from_prior as f64 / count as f64;
        let mut points = Vec::with_capacity(count);
        let mut log_ratio = Vec::with_capacity(count);
        for draw in 0..count {
            let whole = DVector::from_iterator(inputs, (0..inputs).map(|i| normal.column(i)[draw]));
            let own = self.space.along(&whole);
            let along = if draw < from_prior {
                own
            } else {
                let length = if is_normal { 1.0 } else { lengthened(normal.column(inputs)[draw]) };
                &self.centre + &self.lower * own * length
            };
            let before = -half_square(along.as_slice());
            let near = self.log_density(&along, is_normal);
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

    /// The density's logarithm, normal or of the t, but for the (2π)^(−k/2) that the prior's has too.
    fn log_density(&self, along: &DVector<f64>, is_normal: bool) -> f64 {
        let off = along - &self.centre;
        let Some(step) = self.lower.solve_lower_triangular(&off) else { return f64::NEG_INFINITY };
        let log_scale: f64 = self.lower.diagonal().iter().map(|scale| scale.ln()).sum();
        let square = 2.0 * half_square(step.as_slice());
        if is_normal {
            return -square / 2.0 - log_scale;
        }
        #[expect(clippy::cast_precision_loss, reason = "some dozens")]
        let directions = along.len() as f64;
        ln_gamma(f64::midpoint(FREEDOM, directions))
            - ln_gamma(FREEDOM / 2.0)
            - directions / 2.0 * (FREEDOM / 2.0).ln()
            - f64::midpoint(FREEDOM, directions) * (square / FREEDOM).ln_1p()
            - log_scale
    }

    /// The logarithm of the prior's density over this one's at each draw.
    pub(super) fn log_prior_ratios(&self, draws: &Draws) -> Vec<f64> {
        let ratio = |draw: usize| {
            let along = self.space.along(&DVector::from_vec(draws.point(draw)));
            -half_square(along.as_slice()) - self.log_density(&along, true)
        };
        (0..draws.count()).map(ratio).collect()
    }

    /// Draws part of the way from old to new ones that are standard normal: √(1 − b²) of the old and b
    /// of the new, about the centre and in the scale of this distribution, so that it is kept.
    pub(super) fn blended(&self, old: &Draws, fresh: &Draws, length: f64) -> Draws {
        let kept = (1.0 - length * length).sqrt();
        let blend = |draw: usize| {
            let (old, fresh) =
                (DVector::from_vec(old.point(draw)), DVector::from_vec(fresh.point(draw)));
            let along = &self.centre
                + (self.space.along(&old) - &self.centre) * kept
                + &self.lower * self.space.along(&fresh) * length;
            let across = &old * kept + &fresh * length;
            self.space.with(&across, &along).as_slice().to_vec()
        };
        let points: Vec<Vec<f64>> = (0..old.count()).map(blend).collect();
        Draws::from_points(self.space.inputs(), &points)
    }
}

/// By how much a normal step is lengthened to be one of the t: √(ν/χ²), by a standard normal draw of
/// its own.
fn lengthened(z: f64) -> f64 {
    let Ok(squared) = ChiSquared::new(FREEDOM) else { return 1.0 };
    let chance = Normal::standard().cdf(z).clamp(1e-6, 1.0 - 1e-6);
    (FREEDOM / squared.inverse_cdf(chance)).sqrt()
}

/// The logarithm of a mixture of two densities, `share` of the first, by their logarithms.
fn mixed(first: f64, second: f64, share: f64) -> f64 {
    let (first, second) = (first + share.ln(), second + (1.0 - share).ln());
    let highest = first.max(second);
    highest + ((first - highest).exp() + (second - highest).exp()).ln()
}
