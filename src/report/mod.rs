//! Reports: one result model, one renderer per form. Renderers compute nothing.

mod conclude;
mod curves;
mod figures;
mod json;
pub mod model;
mod sheet;
mod text;

pub use conclude::conclude;
pub use json::json;
pub use sheet::{Plan, plan, sheet_text};
pub use text::text;
