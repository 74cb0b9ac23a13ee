//! What a piece of a formula gives at many draws, row by row.

/// A value for each of some rows.
#[derive(Debug)]
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

    pub(crate) fn map(self, change: impl Fn(T) -> T) -> Self {
        match self {
            Self::Same(value) => Self::Same(change(value)),
            Self::Each(mut values) => {
                for value in &mut values {
                    *value = change(*value);
                }
                Self::Each(values)
            }
        }
    }

    /// Each row joined with that of another column.
    pub(crate) fn with(self, other: Self, join: impl Fn(T, T) -> T) -> Self {
        match (self, other) {
            (Self::Each(mut left), right) => {
                for (row, left) in left.iter_mut().enumerate() {
                    *left = join(*left, right.at(row));
                }
                Self::Each(left)
            }
            (Self::Same(left), right) => right.map(|right| join(left, right)),
        }
    }

    /// So many rows worked out; one alone where nothing they hang on differs.
    pub(crate) fn of(rows: usize, same: bool, row: impl FnMut(usize) -> T) -> Self {
        let mut rows = (0..rows).map(row);
        match same {
            true => rows.next().map_or_else(|| Self::Each(Vec::new()), Self::Same),
            false => Self::Each(rows.collect()),
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
