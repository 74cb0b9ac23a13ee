//! Checked formulas at given values.

mod alternatives;
pub(crate) mod arithmetic;
mod may_hold;
pub(crate) mod point;
mod remarks;
pub(crate) mod sheet;

pub use point::{Datum, EvalError, Point, Values};
pub use sheet::{Estimate, Evaluator, Input, InputValue, Piece, UncertainInput};
