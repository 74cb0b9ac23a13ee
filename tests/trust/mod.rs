//! Nothing confirmed is lost, no file is torn, nothing panics: a short run of each attack. `long.rs`
//! runs them at length and prints the table.

mod files;
mod keys;
mod saving;
mod table;

use std::path::Path;

use table::Row;

use crate::fuzz::{mutation, seeds};

const PROGRAM: &str = env!("CARGO_BIN_EXE_boostwright");

#[track_caller]
fn holds(row: &Row) {
    assert!(row.failures.is_empty(), "{row}");
}

#[test]
fn killed_at_any_moment_it_loses_nothing_that_it_confirmed() {
    let row = saving::kills(Path::new(PROGRAM), 40, 1);
    holds(&row);
    assert!(row.struck > 0, "none was killed in time");
}

#[cfg(target_os = "linux")]
#[test]
fn whatever_system_call_fails_what_it_says_is_true() {
    for row in saving::faults(Path::new(PROGRAM), 40) {
        holds(&row);
    }
}

#[test]
fn of_several_writers_each_is_let_in_or_refused() {
    holds(&saving::writers(Path::new(PROGRAM), 4));
}

#[test]
fn hostile_files_are_refused_and_never_shown_raw() {
    holds(&files::sessions(Path::new(PROGRAM), 40, 1));
    holds(&files::packs(Path::new(PROGRAM), 20, 1));
}

#[test]
fn no_keys_bring_an_interview_down() {
    holds(&keys::keys(Path::new(PROGRAM), 3, 1));
}
