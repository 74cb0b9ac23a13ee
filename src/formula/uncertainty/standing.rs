//! Where a reading stands among those that a result lets one expect: the result's own distribution, by
//! its draws where it was drawn, with a normal uncertainty of the reading on top.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::band::BandFrom;
use super::evaluator::Evaluator;
use super::normal;
use super::piece::Piece;

/// Where a reading stands, and how far readings reach.
///
/// ```
/// use boostwright::formula::Standing;
/// // One value that is known exactly, and a reading with an uncertainty of 1: a normal distribution.
/// let standing = Standing::among(&[0.0], 1.959_964, 1.0).unwrap();
/// assert!((standing.below - 0.975).abs() < 1e-6);
/// assert!((standing.chance() - 0.05).abs() < 1e-6);
/// assert!((standing.high - 1.959_964).abs() < 1e-6);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// Chance of a lower reading.
    pub below: f64,
    /// The 2.5 % point of readings.
    pub low: f64,
    /// The 97.5 % point of readings.
    pub high: f64,
}

/// Halvings of the stretch in which a point is looked for.
const HALVINGS: usize = 45;
/// Readings don't stray farther than this, in their uncertainties.
const STRAY: f64 = 6.0;

impl Standing {
    /// A reading with a standard uncertainty, 0 or more, where what is read is one of these values, each
    /// as likely as any other; none where there is no value.
    #[must_use]
    pub fn among(values: &[f64], reading: f64, uncertainty: f64) -> Option<Self> {
        let least = values.iter().copied().min_by(f64::total_cmp)? - STRAY * uncertainty;
        let most = values.iter().copied().max_by(f64::total_cmp)? + STRAY * uncertainty;
        #[expect(clippy::cast_precision_loss, reason = "at most DRAWS")]
        let count = values.len() as f64;
        let below = |limit: f64| {
            let chances =
                values.iter().map(|value| normal::chance_negative(value - limit, uncertainty));
            (chances.sum::<f64>() / count).min(1.0)
        };
        let point = |share: f64| {
            let (mut low, mut high) = (least, most);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                if below(middle) < share { low = middle } else { high = middle }
            }
            f64::midpoint(low, high)
        };
        // The chance of a reading that lies right on a value known exactly counts to both sides.
        let below_it =
            f64::midpoint(below(reading), 1.0 - above(values, reading, uncertainty, count));
        Some(Self { below: below_it, low: point(0.025), high: point(0.975) })
    }

    /// Chance of a reading as far out as this or farther, to either side.
    #[must_use]
    pub fn chance(&self) -> f64 {
        2.0 * self.below.min(1.0 - self.below).max(0.0)
    }
}

/// The chance of a higher reading.
fn above(values: &[f64], reading: f64, uncertainty: f64, count: f64) -> f64 {
    let chances = values.iter().map(|value| normal::chance_negative(reading - value, uncertainty));
    (chances.sum::<f64>() / count).min(1.0)
}

impl Evaluator<'_> {
    /// Where a reading, SI, with its standard uncertainty stands among those that the formula at a place
    /// lets one expect; none where that can't be worked out.
    #[must_use]
    pub fn standing_at(&self, index: usize, reading: f64, uncertainty: f64) -> Option<Standing> {
        let formula = &self.model.formulas().get(index)?.formula;
        let mut key = DefaultHasher::new();
        (self.fingerprint(formula), reading.to_bits(), uncertainty.to_bits()).hash(&mut key);
        let chances = self.chances(formula);
        let piece = Piece::whole(formula, &chances);
        *self.memo.remembered(key.finish(), || {
            let band = self.remembered(piece).ok()?.band;
            let drawn = match band.from {
                BandFrom::FirstOrder => None,
                BandFrom::MonteCarlo { draws, .. } => {
                    Some(self.samples.of(&self.model, piece, draws))
                }
                BandFrom::Conditioned { .. } => {
                    let conditioned = self.conditioned.as_ref()?;
                    Some(conditioned.sample.of(&self.model, piece))
                }
            };
            match drawn {
                Some(drawn) => {
                    let values: Vec<f64> = drawn.into_iter().flatten().collect();
                    Standing::among(&values, reading, uncertainty)
                }
                None => {
                    Standing::among(&[band.value], reading, uncertainty.hypot(band.uncertainty))
                }
            }
        })
    }
}
