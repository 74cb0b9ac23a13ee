//! The sheet that goes to the car on paper: what is still open, in working order, with room to
//! write. [`plan`] decides the order, [`page`] draws it, and [`short`] what of it the next steps need,
//! as [`wanted`] tells, together with the next repair, which [`job`] draws.

mod doubles;
mod job;
mod kit;
mod page;
mod plan;
mod short;
mod wanted;

pub use page::sheet_text;
pub use plan::{Plan, plan};
pub use short::short_sheet;
