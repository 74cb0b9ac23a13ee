//! The trade's relations as pure functions in typed SI quantities, one file a subject. Each names
//! its book and equation, and refuses what lies outside its range instead of returning a number.
//!
//! Knows nothing of rule files or sessions.

pub mod atmosphere;
pub mod charge;
pub mod circle;
pub mod correction;
pub mod engine;
pub mod nozzle;
pub mod restriction;

mod check;
mod gas;
mod refusal;

pub use refusal::Refusal;
