//! Readings, the model that says what they should be, and how well a draw explains them.

use super::draws::Draws;

/// A reading of a quantity that the model works out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// What was read, in the model's own unit.
    pub value: f64,
    /// One standard uncertainty of the reading and of the model together, above 0.
    pub uncertainty: f64,
    /// Chance, above 0 and at most 1, that it is a reading of that quantity at all: its condition
    /// may be no more than likely.
    pub holds: f64,
    /// Where it is not, it may lie anywhere in a stretch of this width, above 0.
    pub otherwise_within: f64,
}

/// What readings should be, given the inputs.
pub trait Model {
    /// How many inputs there are.
    fn inputs(&self) -> usize;

    /// What each reading should be at each of the draws: one list a reading, in the order of the
    /// readings. None where the model has no answer: there the inputs can't be so.
    fn predict(&self, draws: &Draws) -> Vec<Vec<Option<f64>>>;
}

/// −½ ln 2π.
const LOG_NORMAL: f64 = -0.918_938_533_204_672_7;

impl Reading {
    /// The logarithm of the density of this reading where the model says `expected`; −∞ where it
    /// can't be.
    pub(super) fn log_density(&self, expected: Option<f64>) -> f64 {
        let of_it = expected.map_or(f64::NEG_INFINITY, |expected| {
            let off = (self.value - expected) / self.uncertainty;
            LOG_NORMAL - self.uncertainty.ln() - off * off / 2.0
        });
        if self.holds >= 1.0 {
            return of_it;
        }
        let otherwise = ((1.0 - self.holds) / self.otherwise_within).ln();
        let of_it = of_it + self.holds.ln();
        let (high, low) = if of_it > otherwise { (of_it, otherwise) } else { (otherwise, of_it) };
        high + (low - high).exp().ln_1p()
    }

    /// Chance that it is a reading of the quantity, where the model says `expected`.
    pub(super) fn is_of_it(&self, expected: f64) -> f64 {
        if self.holds >= 1.0 {
            return 1.0;
        }
        let sure = Self { holds: 1.0, ..*self };
        (sure.log_density(Some(expected)) + self.holds.ln() - self.log_density(Some(expected)))
            .exp()
    }
}

/// The logarithm of the likelihood of all readings at each draw, by what the model predicts there.
pub(super) fn log_likelihoods(
    readings: &[Reading],
    predicted: &[Vec<Option<f64>>],
    count: usize,
) -> Vec<f64> {
    let mut sums = vec![0.0; count];
    for (reading, expected) in readings.iter().zip(predicted) {
        for (sum, expected) in sums.iter_mut().zip(expected) {
            *sum += reading.log_density(*expected);
        }
    }
    sums
}

/// Half the squared length of a draw: its prior density's negative logarithm, but for a constant.
pub(super) fn half_square(point: &[f64]) -> f64 {
    point.iter().map(|value| value * value).sum::<f64>() / 2.0
}
