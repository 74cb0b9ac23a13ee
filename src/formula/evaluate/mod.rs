//! Checked formulas at given values. One recursion (`domain`) serves every way of evaluating; what is
//! prepared once for all of them is the `model`.

mod alternatives;
mod arithmetic;
mod domain;
mod error;
mod fingerprint;
mod input;
mod kleene;
mod may_hold;
mod model;
mod plain;
mod point;
mod reach;
mod remarks;
mod taken;
mod values;

pub(crate) use alternatives::Alternatives;
pub(crate) use arithmetic::finite;
pub(crate) use domain::{Domain, number, told};
pub use domain::{Logic, truth};
pub(crate) use error::CompactError;
pub use error::EvalError;
pub(crate) use input::InputEstimate;
pub use input::{Input, InputValue, UncertainInput};
pub use kleene::Kleene;
pub(crate) use may_hold::may_hold;
pub(crate) use model::Model;
pub use plain::{Plain, Worked};
pub(crate) use point::Point;
pub use reach::{ANYWHERE, Reach, constant_refusal, fixed_truth, reach};
pub(crate) use remarks::remarks;
pub(crate) use values::{Datum, Values};
