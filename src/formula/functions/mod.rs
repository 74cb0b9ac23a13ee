//! The one table that gives physics functions their names, arguments, units and sources. Argument
//! kinds come from the Rust types named in it, and the compiler holds those against the function
//! itself, so that table and code can't disagree.
//!
//! Leaves reading and checking of calls to the rest of the language.

mod air;
mod entry;
mod fuel;
mod gas;
mod matched;
mod parts;
mod spool;
mod whole_engine;

use entry::joined;
pub use entry::{Argument, Function};

const COUNT: usize = air::FUNCTIONS.len()
    + gas::FUNCTIONS.len()
    + parts::FUNCTIONS.len()
    + fuel::FUNCTIONS.len()
    + matched::FUNCTIONS.len()
    + spool::FUNCTIONS.len();

/// Every physics function, grouped by subject.
pub static FUNCTIONS: &[Function] = &joined::<Function, COUNT>(&[
    air::FUNCTIONS,
    gas::FUNCTIONS,
    parts::FUNCTIONS,
    fuel::FUNCTIONS,
    matched::FUNCTIONS,
    spool::FUNCTIONS,
]);

/// The function of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}

/// The most arguments that a function takes.
pub(crate) const MAX_ARGUMENTS: usize = {
    let (mut most, mut place) = (0, 0);
    while place < FUNCTIONS.len() {
        let arguments = FUNCTIONS[place].arguments.len();
        most = if arguments > most { arguments } else { most };
        place += 1;
    }
    most
};
