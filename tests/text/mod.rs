//! The room of texts.

mod clean;
mod turns;
