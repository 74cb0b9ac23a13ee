//! Ground floor: texts. Which letters may be shown, the type of a text that may, the start of a long
//! one, wrapping, and small turns of English that every room writes alike.
//!
//! Knows nothing of numbers, cars or terminals. Markup of a form (HTML, Markdown, graphs) is escaped by
//! who writes that form.

mod clean;
mod excerpt;
mod explained;
mod letters;
mod words;
mod wrap;

pub use clean::Clean;
pub use excerpt::excerpt;
pub use explained::Explained;
pub use letters::{Unclean, is_clean, unclean};
pub use words::{capital, either, listed, range, spaced};
pub use wrap::{columns, wrapped};
