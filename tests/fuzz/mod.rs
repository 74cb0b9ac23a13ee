//! The doors that strangers' texts come in by, tried with texts nobody would write: some thousand
//! mutations of sound ones in every test run. `long.rs` runs as many as one likes, and `targets/` lets
//! a fuzzer that follows the code do the same.

mod doors;
pub(super) mod mutation;
pub(super) mod seeds;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

use doors::DOORS;
use mutation::Mutator;

use crate::clock::Clock;

/// No text takes longer, unoptimised.
const SLOWEST: Duration = Duration::from_secs(5);

/// Tries a door so many times; always with the same texts.
fn try_door(name: &str, times: usize) {
    let door = DOORS.iter().find(|door| door.name == name).unwrap();
    let mut mutator = Mutator::new(1, (door.seeds)());
    for _ in 0..times {
        let text = mutator.next();
        let clock = Clock::start();
        let outcome = catch_unwind(AssertUnwindSafe(|| (door.enter)(text.as_bytes())));
        assert!(outcome.is_ok(), "{name} breaks at {text:?}");
        let took = clock.worked();
        assert!(took < SLOWEST, "{name} takes {took:?} for {text:?}");
    }
}

#[test]
fn no_text_of_a_unit_breaks_its_reader() {
    try_door("unit", 10_000);
}

#[test]
fn no_formula_breaks_its_reader_its_check_or_its_working_out() {
    try_door("formula", 4_000);
}

#[test]
fn no_pack_breaks_its_loader_or_what_walks_it() {
    try_door("pack", 1_000);
}

#[test]
fn no_session_breaks_its_reader() {
    try_door("session", 2_000);
}

#[test]
fn no_answer_breaks_its_reader_or_the_conclusion() {
    try_door("answers", 1_500);
}

#[test]
fn every_seed_is_let_in() {
    for door in &DOORS {
        let seeds = (door.seeds)();
        assert!(seeds.len() > 3, "{} has too few seeds", door.name);
        for seed in seeds {
            (door.enter)(seed.as_bytes());
        }
    }
}
