//! Sessions in files: round trip, crash safety, locks, permissions, every bad file with what is
//! said about it; and the verbs that work on them without prompts.

mod answer;
mod bad_files;
mod bench;
mod changed;
mod crash;
mod file;
mod other_rules;
mod plan;
mod program;
mod properties;
mod show;
