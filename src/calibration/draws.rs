//! Draws of all inputs, one column an input, and the standard normal ones that they start from.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

use nalgebra::{Cholesky, DMatrix};
use statrs::distribution::{ContinuousCDF, Normal};

/// Standard normal draws by their number, the number of inputs and the seed: every calibration starts from
/// the same few, and drawing them takes as long as working a model out at them.
type Kept = HashMap<(usize, usize, u32), Arc<Draws>>;
static KEPT: LazyLock<Mutex<Kept>> = LazyLock::new(Mutex::default);

/// The most of them that are kept, some hundred kilobytes each.
const MAX_KEPT: usize = 64;

/// Points in the space of the inputs, in standard normal coordinates: one column an input, one row a
/// draw.
#[derive(Debug, Clone, PartialEq)]
pub struct Draws {
    count: usize,
    columns: Vec<Vec<f64>>,
}

impl Draws {
    /// Draws from columns of one length, one column an input.
    #[must_use]
    pub fn from_columns(count: usize, columns: Vec<Vec<f64>>) -> Self {
        debug_assert!(columns.iter().all(|column| column.len() == count));
        Self { count, columns }
    }

    /// Draws from points of one length.
    pub(super) fn from_points(inputs: usize, points: &[Vec<f64>]) -> Self {
        let column = |input: usize| points.iter().map(|point| point[input]).collect();
        Self { count: points.len(), columns: (0..inputs).map(column).collect() }
    }

    /// How many draws there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// An input at every draw.
    #[must_use]
    pub fn column(&self, input: usize) -> &[f64] {
        &self.columns[input]
    }

    /// All inputs at one draw.
    #[must_use]
    pub fn point(&self, draw: usize) -> Vec<f64> {
        self.columns.iter().map(|column| column[draw]).collect()
    }

    /// So many of the draws, evenly spaced; all of them where there are fewer.
    #[must_use]
    pub fn spaced(&self, count: usize) -> Self {
        let step = (self.count / count.max(1)).max(1);
        self.taken(&(0..self.count).step_by(step).take(count).collect::<Vec<usize>>())
    }

    /// The draws at these places, in their order.
    pub(super) fn taken(&self, places: &[usize]) -> Self {
        let taken = |column: &Vec<f64>| places.iter().map(|place| column[*place]).collect();
        Self { count: places.len(), columns: self.columns.iter().map(taken).collect() }
    }

    /// Each draw from here, or where its place is beyond the count, from `other`.
    pub(super) fn chosen(&self, other: &Self, places: &[usize]) -> Self {
        let pick = |(own, its): (&Vec<f64>, &Vec<f64>)| {
            let at =
                |place: &usize| own.get(*place).copied().unwrap_or_else(|| its[place - self.count]);
            places.iter().map(at).collect()
        };
        let columns = self.columns.iter().zip(&other.columns).map(pick).collect();
        Self { count: places.len(), columns }
    }

    /// Independent standard normal draws, spread evenly (Owen-scrambled Sobol' points), the same for
    /// the same seed. Where there are draws enough their means are 0, their variances 1 and their
    /// covariances 0 to the last digit, so that what is linear in them comes out exact.
    #[must_use]
    pub fn standard_normal(count: usize, inputs: usize, seed: u32) -> Arc<Self> {
        let key = (count, inputs, seed);
        let kept = || KEPT.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept().get(&key) {
            return Arc::clone(known);
        }
        // Not under the lock: at worst two threads draw the same.
        let drawn = Arc::new(Self::drawn(count, inputs, seed));
        let mut kept = kept();
        if kept.len() >= MAX_KEPT {
            kept.clear();
        }
        kept.insert(key, Arc::clone(&drawn));
        drawn
    }

    fn drawn(count: usize, inputs: usize, seed: u32) -> Self {
        let normal = Normal::standard();
        let column = |input: usize| {
            let uniform = |draw: usize| {
                // Some thousands of draws of some dozens of inputs.
                #[expect(clippy::cast_possible_truncation, reason = "far below 2³²")]
                let (draw, input) = (draw as u32, input as u32);
                // Beyond the dimensions that the sequence has it starts again, scrambled otherwise.
                let dimensions = sobol_burley::NUM_DIMENSIONS;
                let point = sobol_burley::sample(
                    draw,
                    input % dimensions,
                    seed.wrapping_add(input / dimensions),
                );
                f64::from(point).clamp(1e-7, 1.0 - 1e-7)
            };
            (0..count).map(|draw| normal.inverse_cdf(uniform(draw))).collect()
        };
        let mut found = Self { count, columns: (0..inputs).map(column).collect() };
        if count > 4 * inputs {
            found.whiten();
        }
        found
    }

    /// Takes the sample's own mean and covariance out of it.
    fn whiten(&mut self) {
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let count = self.count as f64;
        for column in &mut self.columns {
            let mean = column.iter().sum::<f64>() / count;
            column.iter_mut().for_each(|value| *value -= mean);
        }
        let inputs = self.columns.len();
        let product = |a: usize, b: usize| -> f64 {
            self.columns[a].iter().zip(&self.columns[b]).map(|(a, b)| a * b).sum::<f64>() / count
        };
        let covariance = DMatrix::from_fn(inputs, inputs, product);
        let Some(root) = Cholesky::new(covariance) else { return };
        let lower = root.l();
        // Forward substitution, a column after another: u = L⁻¹ z for all draws at once.
        for input in 0..inputs {
            let (done, rest) = self.columns.split_at_mut(input);
            let Some(own) = rest.first_mut() else { return };
            for (before, column) in done.iter().enumerate() {
                let factor = lower[(input, before)];
                own.iter_mut().zip(column).for_each(|(value, other)| *value -= factor * other);
            }
            let scale = lower[(input, input)];
            own.iter_mut().for_each(|value| *value /= scale);
        }
    }
}
