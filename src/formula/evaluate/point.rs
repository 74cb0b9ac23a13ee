//! The value of a checked formula, given the data of its names. Total: every outcome is a number,
//! yes or no, not known, or a refusal with its reason.

use std::fmt;

use super::arithmetic::{self, EvalFailure, StepError};
use crate::formula::check::node::{Node, VarId};
use crate::physics::Refusal;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq)]
pub enum EvalError {
    /// Something below has no answer yet, or nobody can say.
    Unknown,
    /// The calculation was refused.
    Refused(Refusal),
}

impl EvalFailure for EvalError {
    fn unknown() -> Self {
        Self::Unknown
    }

    fn is_unknown(&self) -> bool {
        *self == Self::Unknown
    }

    fn above(&self) -> Option<f64> {
        match self {
            Self::Refused(refusal) => refusal.above,
            Self::Unknown => None,
        }
    }

    fn below_something(self) -> Self {
        match self {
            Self::Refused(refusal) => Self::Refused(Refusal { above: None, ..refusal }),
            Self::Unknown => Self::Unknown,
        }
    }
}

impl From<StepError> for EvalError {
    fn from(StepError { quantity, reason }: StepError) -> Self {
        Self::Refused(Refusal::new(quantity, reason))
    }
}

impl From<Refusal> for EvalError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
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

/// What stands in a slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Datum<'a> {
    /// In coherent SI.
    Number(f64),
    Bool(bool),
    /// Index of the chosen option.
    Option(usize),
    /// Rows of a two-column table, SI.
    Table(&'a [[f64; 2]]),
}

/// Where a formula's names get their values.
pub trait Values {
    /// What stands in the slot, or why nothing does.
    ///
    /// # Errors
    /// [`EvalError`] where there is no value.
    fn datum(&self, slot: VarId) -> Result<Datum<'_>, EvalError>;

    /// Whether a person answered it (an assumption is not known).
    fn known(&self, slot: VarId) -> bool;
}

/// One evaluation: the data, and the values that stand for the formula's own `±` literals and
/// chances.
#[derive(Clone, Copy)]
pub struct Point<'a> {
    pub data: &'a dyn Values,
    pub spreads: &'a [f64],
    pub chances: &'a [Result<f64, EvalError>],
}

impl Point<'_> {
    /// The number that a piece gives, in coherent SI. Always finite.
    ///
    /// # Errors
    /// [`EvalError`] where something below is not known or refused.
    pub fn number(&self, node: &Node) -> Result<f64, EvalError> {
        let value = match node {
            Node::Number(value) => *value,
            Node::Spread { value, index, .. } => {
                self.spreads.get(*index).copied().unwrap_or(*value)
            }
            Node::Read(slot) => match self.data.datum(*slot)? {
                Datum::Number(value) => value,
                _ => return Err(EvalError::Unknown),
            },
            Node::Call { function, arguments } => {
                let given: Vec<f64> = arguments
                    .iter()
                    .map(|argument| self.inner(argument))
                    .collect::<Result<_, _>>()?;
                (function.call)(&given)?
            }
            Node::Math { operation, arguments } => arithmetic::math::<EvalError>(
                *operation,
                arguments.iter().map(|argument| self.number(argument)),
            )?,
            Node::Interpolate { table, along, at } => match self.data.datum(*table)? {
                Datum::Table(rows) => arithmetic::interpolate::<EvalError>(
                    &arithmetic::rising(rows, *along),
                    self.number(at)?,
                )?,
                _ => return Err(EvalError::Unknown),
            },
            Node::Chance { index, .. } => {
                self.chances.get(*index).cloned().unwrap_or(Err(EvalError::Unknown))?
            }
            Node::AsOf { value, .. } => self.number(value)?,
            Node::Negated(inner) => -self.inner(inner)?,
            Node::Arithmetic { operator, left, right } => arithmetic::arithmetic::<EvalError>(
                *operator,
                self.inner(left)?,
                self.inner(right)?,
            )?,
            Node::IfElse { condition, then, otherwise } => {
                let branch = if self.truth(condition)? { then } else { otherwise };
                self.number(branch)?
            }
            // The checker lets no truth stand where a number is wanted.
            _ => return Err(EvalError::Unknown),
        };
        arithmetic::finite(value)
    }

    /// The number of a piece that something is made of.
    fn inner(&self, node: &Node) -> Result<f64, EvalError> {
        self.number(node).map_err(EvalError::below_something)
    }

    /// Yes or no: no-and-unknown is no, yes-or-unknown is yes, else what is not known stays so.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be told.
    pub fn truth(&self, node: &Node) -> Result<bool, EvalError> {
        match node {
            Node::Bool(truth) => Ok(*truth),
            Node::Answered(slot) => match self.data.datum(*slot)? {
                Datum::Bool(truth) => Ok(truth),
                _ => Err(EvalError::Unknown),
            },
            Node::Chosen { slot, option } => match self.data.datum(*slot)? {
                Datum::Option(chosen) => Ok(chosen == *option),
                _ => Err(EvalError::Unknown),
            },
            Node::Known(slot) => Ok(self.data.known(*slot)),
            Node::Compared { operator, left, right } => {
                Ok(operator.holds(self.number(left)? - self.number(right)?))
            }
            Node::Iff { left, right } => Ok(self.truth(left)? == self.truth(right)?),
            Node::And(left, right) => {
                arithmetic::settle(self.truth(left), || self.truth(right), false)
            }
            Node::Or(left, right) => {
                arithmetic::settle(self.truth(left), || self.truth(right), true)
            }
            Node::Not(inner) => self.truth(inner).map(|truth| !truth),
            Node::IfElse { condition, then, otherwise } => match self.truth(condition) {
                Ok(true) => self.truth(then),
                Ok(false) => self.truth(otherwise),
                Err(gap) => arithmetic::either_way(gap, self.truth(then), self.truth(otherwise)),
            },
            _ => Err(EvalError::Unknown),
        }
    }
}
