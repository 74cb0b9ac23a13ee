//! The conversation at the terminal: on the scripted twin, and through a real pseudo-terminal.

mod clean;
mod conversation;
mod garage;
mod narrow;

mod recheck;
mod values;
