//! Sessions in files: round trip, crash safety, locks, permissions, and every bad file with what
//! is said about it.

mod bad_files;
mod bench;
mod crash;
mod file;
mod other_rules;
mod properties;
