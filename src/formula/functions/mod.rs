//! The one table that gives physics functions their names, arguments, units and sources. Argument
//! kinds come from the Rust types named in it, and the compiler holds those against the function
//! itself, so that table and code can't disagree.
//!
//! Leaves reading and checking of calls to the rest of the language.

mod air;
mod entry;
mod fuel;
mod gas;
mod parts;

pub use entry::{Argument, Function};

const TABLES: [&[Function]; 4] =
    [air::FUNCTIONS, gas::FUNCTIONS, parts::FUNCTIONS, fuel::FUNCTIONS];

const fn count() -> usize {
    let (mut all, mut table) = (0, 0);
    while table < TABLES.len() {
        all += TABLES[table].len();
        table += 1;
    }
    all
}

/// The tables one after the other; in `const`, so that the whole is there without being built.
const fn joined() -> [Function; count()] {
    let mut all = [TABLES[0][0]; count()];
    let (mut place, mut table) = (0, 0);
    while table < TABLES.len() {
        let mut row = 0;
        while row < TABLES[table].len() {
            all[place] = TABLES[table][row];
            place += 1;
            row += 1;
        }
        table += 1;
    }
    all
}

/// Every physics function, grouped by subject.
pub static FUNCTIONS: &[Function] = &joined();

/// The function of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Function> {
    FUNCTIONS.iter().find(|function| function.name == name)
}
