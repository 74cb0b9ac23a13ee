//! Why there is no value: in full for a person, compact for one of thousands of draws.

use std::fmt;

use crate::physics::Refusal;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq)]
pub enum EvalError {
    /// Something below has no answer yet, or nobody can say.
    Unknown,
    /// The calculation was refused.
    Refused(Refusal),
}

/// An [`EvalError`] without its words, which nobody would read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum CompactError {
    Unknown,
    Refused {
        /// What the value is known to lie above, where a search ended before it was reached.
        above: Option<f64>,
    },
}

/// What the steps of a formula ask of an error, in full or compact.
pub(crate) trait EvalFailure: Clone + From<EvalError> + From<Refusal> {
    /// A step that has no result: what is at fault, and why.
    fn refused(quantity: &'static str, reason: &'static str) -> Self;

    fn compact(&self) -> CompactError;

    /// As an error of something that rests on the value: what that lies above, nobody knows.
    fn of_dependent(self) -> Self;
}

impl EvalFailure for EvalError {
    fn refused(quantity: &'static str, reason: &'static str) -> Self {
        Self::Refused(Refusal::new(quantity, reason))
    }

    fn compact(&self) -> CompactError {
        match self {
            Self::Unknown => CompactError::Unknown,
            Self::Refused(refusal) => CompactError::Refused { above: refusal.above },
        }
    }

    fn of_dependent(self) -> Self {
        match self {
            Self::Refused(refusal) => Self::Refused(Refusal { above: None, ..refusal }),
            Self::Unknown => Self::Unknown,
        }
    }
}

impl EvalFailure for CompactError {
    fn refused(_: &'static str, _: &'static str) -> Self {
        Self::Refused { above: None }
    }

    fn compact(&self) -> Self {
        *self
    }

    fn of_dependent(self) -> Self {
        match self {
            Self::Refused { .. } => Self::Refused { above: None },
            Self::Unknown => Self::Unknown,
        }
    }
}

impl From<Refusal> for EvalError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<Refusal> for CompactError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused { above: refusal.above }
    }
}

impl From<EvalError> for CompactError {
    fn from(error: EvalError) -> Self {
        error.compact()
    }
}

impl fmt::Display for EvalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown => f.write_str("not known"),
            Self::Refused(refusal) => refusal.fmt(f),
        }
    }
}

impl std::error::Error for EvalError {}
