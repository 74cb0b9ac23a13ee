//! The one table that gives physics functions their names, arguments, units and sources. Argument
//! kinds come from the Rust types named in it, and the compiler holds those against the function
//! itself, so that table and code can't disagree.
//!
//! Leaves reading and checking of calls to the rest of the language.

mod entry;
mod plain;

pub use entry::{Argument, Function};

/// Every physics function, grouped by subject.
pub static FUNCTIONS: &[Function] = plain::FUNCTIONS;

/// The function of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}
