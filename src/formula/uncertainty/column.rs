//! What a piece of a formula gives at many draws, row by row.

use crate::formula::evaluate::{CompactError, EvalError, Kleene};

/// A value for each of some rows.
#[derive(Debug, Clone)]
pub(crate) enum Column<T> {
    /// One and the same in every row: worked out once.
    Same(T),
    Each(Vec<T>),
}

impl<T: Copy> Column<T> {
    pub(crate) fn at(&self, row: usize) -> T {
        match self {
            Self::Same(value) => *value,
            Self::Each(values) => values[row],
        }
    }

    pub(crate) fn is_same(&self) -> bool {
        matches!(self, Self::Same(_))
    }

    pub(crate) fn map<U>(self, change: impl Fn(T) -> U) -> Column<U> {
        match self {
            Self::Same(value) => Column::Same(change(value)),
            // Collected in place where both are of one size.
            Self::Each(values) => Column::Each(values.into_iter().map(change).collect()),
        }
    }

    /// Each row joined with that of another column.
    pub(crate) fn zip<U>(self, other: Self, join: impl Fn(T, T) -> U) -> Column<U> {
        match (self, other) {
            (Self::Same(left), right) => right.map(|right| join(left, right)),
            (left, Self::Same(right)) => left.map(|left| join(left, right)),
            (Self::Each(left), Self::Each(right)) => {
                let rows = left.into_iter().zip(right);
                Column::Each(rows.map(|(left, right)| join(left, right)).collect())
            }
        }
    }

    /// The values of so many rows.
    pub(crate) fn rows(self, rows: usize) -> Vec<T> {
        match self {
            Self::Same(value) => vec![value; rows],
            Self::Each(values) => values,
        }
    }
}

/// Whether something holds at one draw.
pub(crate) type Holds = Result<bool, CompactError>;

impl From<Result<bool, EvalError>> for Column<Holds> {
    fn from(truth: Result<bool, EvalError>) -> Self {
        Self::Same(truth.map_err(CompactError::from))
    }
}

impl Kleene for Column<Holds> {
    fn negation(self) -> Self {
        self.map(Kleene::negation)
    }

    fn conjunction(self, other: impl FnOnce() -> Self) -> Self {
        match self {
            Self::Same(Ok(false)) => self,
            left => left.zip(other(), |left, right| left.conjunction(|| right)),
        }
    }
}
