//! Reports: one result model, one renderer per form. Renderers compute nothing.
//!
//! A [`model::Conclusion`] holds what there is to say. For scripts it is written as it is; for
//! people it becomes a document, whose order and words the text, Markdown and HTML forms share.

mod axis;
mod braille;
mod conclude;
mod document;
pub mod drawing;
mod html;
mod json;
mod markdown;
pub mod model;
mod numbers;
mod plot;
pub mod scale_drawing;
mod schema;
mod sheet;
mod svg;
mod text;
mod words;

pub use conclude::conclude;
pub use html::html;
pub use json::{json, json_in_brief};
pub use markdown::markdown;
pub use schema::conclusion_schema;
pub use sheet::{Plan, plan, sheet_text, short_sheet};
pub use svg::svg;
pub use text::{Tone, Toned, screen, screen_in_tones, text, text_in_tones};
