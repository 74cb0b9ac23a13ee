//! Reports: one result model, one renderer per form. Renderers compute nothing.

mod conclude;
mod curves;
mod figures;
mod json;
pub mod model;
mod text;

pub use conclude::conclude;
pub use json::json;
pub use text::text;
