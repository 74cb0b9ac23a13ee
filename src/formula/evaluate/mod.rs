//! Checked formulas at given values.

mod alternatives;
pub(crate) mod arithmetic;
mod may_hold;
pub(crate) mod point;
mod remarks;
pub(crate) mod sheet;

pub use point::{Data, Datum, Evaluation, Gap};
pub use sheet::{Cell, Entry, Piece, RootId, Sheet, Worked};
