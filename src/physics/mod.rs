//! The trade's relations as pure functions in typed SI quantities, one file a subject. Each names
//! its book and equation, and refuses what lies outside its range instead of returning a number.
//!
//! Knows nothing of rule files or sessions.

pub mod actuator;
pub mod atmosphere;
pub mod burned;
pub mod charge;
pub mod circle;
pub mod compressor;
pub mod correction;
pub mod engine;
pub mod fit;
pub mod flap;
pub mod fuel;
pub mod leak;
pub mod nozzle;
pub mod plate;
pub mod pneumatics;
pub mod restriction;
pub mod spark;
pub mod spool;
pub mod turbo;

mod check;
mod gas;
mod refusal;
mod root;
mod species;

pub use refusal::Refusal;
