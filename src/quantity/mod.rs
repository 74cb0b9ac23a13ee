//! Ground floor: what a number at the car means. Dimension and kind (gauge is not absolute, a
//! temperature is not a difference of two), the unit table, a value with its standard
//! uncertainty, reading what people type and printing it back.
//!
//! Knows nothing of cars, rule files or terminals.

mod dimension;
mod kind;
mod typed;

pub use dimension::{Base, Dimension};
pub use kind::{Kind, Reading};
pub use typed::*;
