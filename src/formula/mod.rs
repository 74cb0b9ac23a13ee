//! The small total language of rule files.

pub mod functions;
