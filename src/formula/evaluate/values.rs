//! What stands behind the variables of a formula.

use super::error::EvalError;
use crate::formula::check::VarId;

/// Where a formula's variables get their values.
pub(crate) trait Values {
    /// What stands behind a variable, or why nothing does.
    fn datum(&self, variable: VarId) -> Result<Datum<'_>, EvalError>;

    /// Whether a person answered it (an assumption is not known).
    fn known(&self, variable: VarId) -> bool;
}

/// What stands behind a variable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Datum<'a> {
    /// In coherent SI.
    Number(f64),
    Bool(bool),
    /// Index of the chosen option.
    Option(usize),
    /// Rows of a two-column table, SI.
    Table(&'a [[f64; 2]]),
}

impl<'a> Datum<'a> {
    pub(crate) fn number(self) -> Result<f64, EvalError> {
        if let Self::Number(value) = self { Ok(value) } else { Err(EvalError::Unknown) }
    }

    pub(crate) fn truth(self) -> Result<bool, EvalError> {
        if let Self::Bool(truth) = self { Ok(truth) } else { Err(EvalError::Unknown) }
    }

    pub(crate) fn option(self) -> Result<usize, EvalError> {
        if let Self::Option(chosen) = self { Ok(chosen) } else { Err(EvalError::Unknown) }
    }

    pub(crate) fn table(self) -> Result<&'a [[f64; 2]], EvalError> {
        if let Self::Table(rows) = self { Ok(rows) } else { Err(EvalError::Unknown) }
    }
}
