//! The trade's relations as pure functions in typed SI quantities, one file a subject. Each names
//! its book and equation, and refuses what lies outside its range instead of returning a number.
//!
//! Knows nothing of rule files or sessions.

pub mod atmosphere;

mod refusal;

pub use refusal::Refusal;
