//! How surprising a reading is, and how far a surprising one is still believed.

use statrs::distribution::{ContinuousCDF, Normal};

use super::likelihood::Reading;
use super::resample::{effective, normalised};

/// What a reading should be before it was taken: the model at draws of the inputs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Predictive {
    pub mean: f64,
    /// Its standard deviation over the inputs.
    pub deviation: f64,
    /// Share of the draws at which the model had an answer.
    pub answered: f64,
}

/// A reading that the model can hardly explain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surprise {
    /// Chance of a reading as far off as this or farther, to either side.
    pub chance: f64,
    /// The uncertainty that it is taken with.
    pub uncertainty: f64,
}

/// So many of the draws must be left where one reading is taken out.
const LEFT_OF_DRAWS: f64 = 0.2;
/// Readings less likely than this are told, and believed less.
const HARDLY: f64 = 1e-3;
/// Their uncertainty is widened until they are as likely as this.
const WIDENED_TO: f64 = 0.05;

impl Predictive {
    /// From the model's answers at draws of the inputs, and which of them count; none where there
    /// are fewer than two.
    #[must_use]
    pub fn over(answers: &[Option<f64>]) -> Option<Self> {
        let seen: Vec<f64> = answers.iter().copied().flatten().collect();
        if seen.len() < 2 {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let (count, all) = (seen.len() as f64, answers.len() as f64);
        let mean = seen.iter().sum::<f64>() / count;
        let square = seen.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
        Some(Self { mean, deviation: (square / (count - 1.0)).sqrt(), answered: count / all })
    }

    /// What a reading should be by all else that is known: from the model's answers at draws that it
    /// taught as well. Each counts by the inverse of the reading's likelihood there (importance sampling
    /// leave-one-out: Gelfand, Dey and Chang, *Bayesian Statistics* 4, 1992). None where that leaves the
    /// draws worth fewer than a fifth of their number: the reading teaches too much to be taken out.
    ///
    /// ```
    /// use boostwright::calibration::{Predictive, Reading};
    /// let reading = Reading { value: 0.0, uncertainty: 2.0, holds: 1.0, otherwise_within: 1.0 };
    /// // At 2 the reading is e^½ times less likely than at 0, so that 2 counts e^½ times as much.
    /// let all = [0.0, 2.0].map(Some);
    /// let without = Predictive::without(&reading, &all).unwrap();
    /// let weight = 0.5_f64.exp();
    /// assert!((without.mean - 2.0 * weight / (1.0 + weight)).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn without(reading: &Reading, answers: &[Option<f64>]) -> Option<Self> {
        let weights = weights_without(reading, answers)?;
        let weighed =
            || answers.iter().zip(&weights).filter_map(|(a, weight)| Some((a.as_ref()?, weight)));
        let mean = weighed().map(|(value, weight)| weight * value).sum::<f64>();
        let square = weighed().map(|(value, weight)| weight * (value - mean) * (value - mean));
        let deviation = square.sum::<f64>().sqrt();
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let answered = weighed().count() as f64 / answers.len() as f64;
        Some(Self { mean, deviation, answered })
    }

    /// Chance of a reading as far from what it should be as this one or farther, to either side, by
    /// the normal distribution.
    #[must_use]
    pub fn chance(&self, reading: &Reading) -> f64 {
        2.0 * Normal::standard().cdf(-self.off(reading))
    }

    fn off(&self, reading: &Reading) -> f64 {
        (reading.value - self.mean).abs() / self.deviation.hypot(reading.uncertainty)
    }

    /// Whether the reading can hardly be, and the uncertainty with which it stands at one in twenty.
    #[must_use]
    pub fn surprise(&self, reading: &Reading) -> Option<Surprise> {
        let chance = self.chance(reading);
        if chance >= HARDLY {
            return None;
        }
        let wanted = Normal::standard().inverse_cdf(1.0 - WIDENED_TO / 2.0);
        let whole = (reading.value - self.mean).abs() / wanted;
        let rest = whole * whole - self.deviation * self.deviation;
        Some(Surprise { chance, uncertainty: rest.max(0.0).sqrt().max(reading.uncertainty) })
    }
}

/// What each draw that a reading taught as well counts without it, by the model's answers there: none where
/// that leaves the draws worth too few.
pub(super) fn weights_without(reading: &Reading, answers: &[Option<f64>]) -> Option<Vec<f64>> {
    let logarithm = |answer: &Option<f64>| {
        answer.map_or(f64::NEG_INFINITY, |answer| -reading.log_density(Some(answer)))
    };
    let weights = normalised(&answers.iter().map(logarithm).collect::<Vec<f64>>())?;
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let all = answers.len() as f64;
    (effective(&weights) >= LEFT_OF_DRAWS * all).then_some(weights)
}
