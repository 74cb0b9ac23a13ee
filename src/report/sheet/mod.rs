//! The sheet that goes to the car on paper: what is still open, in working order, with room to
//! write. [`plan`] decides the order, [`page`] draws it.

mod page;
mod plan;

pub use page::sheet_text;
pub use plan::{Plan, plan};
