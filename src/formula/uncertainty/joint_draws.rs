//! Draws of several inputs together, as they are believed once readings are known: inputs that had
//! nothing to do with one another hang together after a reading that both went into.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::formula::check::VarId;

/// Draws of some of the given values, row for row together.
#[derive(Debug, Clone, Default)]
pub struct JointDraws {
    count: usize,
    /// SI.
    columns: HashMap<VarId, Box<[f64]>>,
    effective: f64,
}

impl JointDraws {
    /// Columns of `count` draws each, SI, that stand for `effective` independent ones.
    #[must_use]
    pub fn new(
        count: usize,
        columns: impl IntoIterator<Item = (VarId, Box<[f64]>)>,
        effective: f64,
    ) -> Self {
        let columns = columns.into_iter().filter(|(_, column)| column.len() == count).collect();
        Self { count, columns, effective }
    }

    /// The same with another column for a given value.
    #[must_use]
    pub fn with(&self, variable: VarId, column: Box<[f64]>) -> Self {
        let mut other = self.clone();
        other.columns.insert(variable, column);
        other
    }

    /// So many of the draws, evenly spaced; all of them where there are fewer.
    #[must_use]
    pub fn spaced(&self, count: usize) -> Self {
        let step = (self.count / count.max(1)).max(1);
        let taken = |column: &[f64]| column.iter().step_by(step).take(count).copied().collect();
        let columns = self.columns.iter().map(|(variable, column)| (*variable, taken(column)));
        Self { count: self.count.min(count), columns: columns.collect(), effective: self.effective }
    }

    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// How many independent draws they stand for.
    #[must_use]
    pub fn effective(&self) -> f64 {
        self.effective
    }

    /// A given value at each draw, if it is among them.
    #[must_use]
    pub fn column(&self, variable: VarId) -> Option<&[f64]> {
        self.columns.get(&variable).map(AsRef::as_ref)
    }

    /// Middle and standard deviation of a given value, if it is among them.
    #[must_use]
    pub fn summary(&self, variable: VarId) -> Option<(f64, f64)> {
        let column = self.column(variable)?;
        let (mean, deviation) = moments(column)?;
        let mut sorted = column.to_vec();
        sorted.sort_by(f64::total_cmp);
        Some((sorted.get(sorted.len() / 2).copied().unwrap_or(mean), deviation))
    }

    /// Tells one set of draws from another, for the column of a given value.
    pub(crate) fn mark(&self, variable: VarId) -> Option<u64> {
        let column = self.column(variable)?;
        let mut hash = DefaultHasher::new();
        column.iter().for_each(|value| value.to_bits().hash(&mut hash));
        Some(hash.finish())
    }
}

/// Mean and standard deviation; none of nothing.
pub(crate) fn moments(values: &[f64]) -> Option<(f64, f64)> {
    if values.is_empty() {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let square = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
    Some((mean, (square / count).sqrt()))
}
