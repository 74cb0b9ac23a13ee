//! The numbers of trust: each attack at length, and one table of what they came to.
//! `cargo bench --bench trust -- 1`; the argument multiplies the
//! counts, a second one is the seed, further ones name the attacks to run: kills, faults, writers, files,
//! keys, doors.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a tool for developers, which says on the screen what it found"
)]

#[path = "../clock.rs"]
mod clock;
#[path = "../fuzz/doors.rs"]
mod doors;
mod files;
mod keys;
#[path = "../fuzz/mutation.rs"]
mod mutation;
mod saving;
#[path = "../fuzz/seeds.rs"]
mod seeds;
mod table;

use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use clock::Clock;
use doors::{DOORS, Door};
use mutation::Mutator;
use table::{Row, SLOW};

/// Executions at each door of the library, for a multiplier of 1.
const EXECUTIONS: [(&str, usize); 5] = [
    ("unit", 1_000_000),
    ("formula", 9_000_000),
    ("pack", 1_000_000),
    ("session", 500_000),
    ("answers", 400_000),
];

fn main() -> ExitCode {
    // Cargo adds the option.
    let mut arguments = std::env::args().skip(1).filter(|argument| argument != "--bench");
    let times: f64 = arguments.next().and_then(|times| times.parse().ok()).unwrap_or(1.0);
    let seed = arguments.next().and_then(|seed| seed.parse().ok()).unwrap_or(1);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a count of runs, about"
    )]
    let count = |usual: usize| (usual as f64 * times) as usize;
    let program = Path::new(env!("CARGO_BIN_EXE_boostwright"));
    let only: Vec<String> = arguments.collect();
    let runs = |name: &str| only.is_empty() || only.iter().any(|other| other == name);
    println!("{}", head());
    let mut failed = false;
    let mut tell = |row: Row| {
        println!("{row}");
        failed |= !row.failures.is_empty();
    };
    if runs("kills") {
        tell(saving::kills(program, count(6_000), seed));
    }
    if runs("faults") {
        saving::faults(program, count(1_000)).into_iter().for_each(&mut tell);
    }
    if runs("writers") {
        tell(saving::writers(program, count(150)));
    }
    if runs("files") {
        tell(files::sessions(program, count(800), seed));
        tell(files::packs(program, count(400), seed));
    }
    if runs("keys") {
        tell(keys::keys(program, count(60), seed));
    }
    // What breaks is told in the table.
    let usual = take_hook();
    set_hook(Box::new(|_| {}));
    for door in DOORS.iter().filter(|_| runs("doors")) {
        let share = EXECUTIONS.iter().find(|(name, _)| *name == door.name).map_or(0, |(_, n)| *n);
        tell(executions(door, count(share), seed));
    }
    set_hook(usual);
    if failed { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}

/// Mutated texts straight into the library, on two threads.
fn executions(door: &'static Door, count: usize, seed: u64) -> Row {
    let half = |seed| std::thread::spawn(move || tried(door, count / 2, seed));
    let halves = [half(seed), half(seed.wrapping_add(1))];
    let mut all = Row::new(door.name);
    for half in halves {
        let Ok(row) = half.join() else {
            all.fail("the attack itself broke".to_owned());
            continue;
        };
        all.tried += row.tried;
        all.slow += row.slow;
        all.slowest = all.slowest.max(row.slowest);
        all.failures.extend(row.failures);
    }
    all
}

fn tried(door: &Door, count: usize, seed: u64) -> Row {
    let mut row = Row::new(door.name);
    let mut mutator = Mutator::new(seed, (door.seeds)());
    for _ in 0..count {
        let text = mutator.next();
        let began = Instant::now();
        let enter = || catch_unwind(AssertUnwindSafe(|| (door.enter)(text.as_bytes())));
        let outcome = enter();
        let mut took = began.elapsed();
        if took > SLOW {
            // Something else may have kept the machine busy.
            let clock = Clock::start();
            let _ = enter();
            took = clock.worked();
        }
        row.tried += 1;
        row.slowest = row.slowest.max(took);
        row.slow += usize::from(took > SLOW);
        row.expect(outcome.is_ok(), || format!("breaks at {text:?}"));
        row.expect(took <= SLOW, || format!("takes {took:?} at {text:?}"));
    }
    row
}

/// The line above the rows.
fn head() -> String {
    format!(
        "{:34} {:>9} {:>9} {:>6} {:>6} {:>9}",
        "attack", "tried", "struck", "failed", "> 2 s", "slowest"
    )
}
