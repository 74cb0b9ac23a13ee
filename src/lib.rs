//! Rule-based diagnostic assistant for turbocharged petrol engines whose boost misbehaves.

pub mod calibration;
pub mod cli;
pub mod formula;
pub mod interview;
pub mod physics;
pub mod quantity;
pub mod ranking;
pub mod report;
pub mod rules;
pub mod session;
pub mod terminal;
pub mod text;
