//! The room of texts.

mod clean;
mod opposites;
mod turns;
