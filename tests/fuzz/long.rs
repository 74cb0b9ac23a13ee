//! As many executions as one likes, over all doors: `cargo bench --bench fuzz -- 10000000`.
//! Says how many were run, the slowest text of each door, and every text that breaks one.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a tool for developers, which says on the screen what it found"
)]

#[path = "../clock.rs"]
mod clock;
mod doors;
mod mutation;
mod seeds;

use std::panic::{AssertUnwindSafe, catch_unwind, set_hook};
use std::process::ExitCode;
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use clock::Clock;
use doors::{DOORS, Door};
use mutation::Mutator;

const USUAL: usize = 10_000_000;

/// Of a thousand executions, those of each door: the quick ones have more texts to try.
const SHARES: [(&str, usize); 5] =
    [("unit", 500), ("formula", 300), ("pack", 20), ("session", 80), ("answers", 100)];

/// A text that takes longer is one to be mended, and is told.
const SLOW: Duration = Duration::from_secs(1);

/// A text that takes longer ends the run: a thread can't be stopped from outside.
const HANGS: Duration = Duration::from_secs(20);

/// Texts that break a door, told for each door.
const MAX_TOLD: usize = 5;

fn main() -> ExitCode {
    // Cargo adds the option.
    let mut arguments = std::env::args().skip(1).filter(|argument| argument != "--bench");
    let total = arguments.next().and_then(|count| count.parse().ok()).unwrap_or(USUAL);
    let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let start = arguments.next().and_then(|start| start.parse().ok()).unwrap_or(now);
    println!("{total} executions, start {start} (a second argument repeats them)");
    set_hook(Box::new(|_| {}));
    let workers: Vec<_> = DOORS
        .iter()
        .map(|door| {
            let share = SHARES.iter().find(|(name, _)| *name == door.name).map_or(0, |(_, n)| *n);
            std::thread::spawn(move || run(door, total / 1000 * share, start))
        })
        .collect();
    let mut done = 0;
    let mut broken = 0;
    for worker in workers {
        let (executions, breaks) = worker.join().unwrap_or((0, 1));
        done += executions;
        broken += breaks;
    }
    println!("{done} executions in all, {broken} broken or slow, {}", memory());
    if broken == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Runs one door; how many texts were tried, and how many broke it or were slow.
fn run(door: &'static Door, count: usize, start: u64) -> (usize, usize) {
    let (sender, receiver) = channel::<String>();
    // Who watches learns of each text first, so that one that hangs is known.
    let watcher = std::thread::spawn(move || {
        let mut last = String::new();
        loop {
            match receiver.recv_timeout(HANGS) {
                Ok(text) => last = text,
                Err(RecvTimeoutError::Timeout) => {
                    println!("{} hangs at {last:?}", door.name);
                    std::process::exit(1);
                }
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    });
    let told = tried(door, count, start, &sender);
    drop(sender);
    let _ = watcher.join();
    told
}

fn tried(door: &Door, count: usize, start: u64, sender: &Sender<String>) -> (usize, usize) {
    let mut mutator = Mutator::new(start, (door.seeds)());
    let mut slowest = (Duration::ZERO, String::new());
    let mut broken = 0;
    let began = Instant::now();
    for _ in 0..count {
        let text = mutator.next();
        let _ = sender.send(text.clone());
        let clock = Clock::start();
        let outcome = catch_unwind(AssertUnwindSafe(|| (door.enter)(text.as_bytes())));
        let took = clock.worked();
        if outcome.is_err() || took > SLOW {
            broken += 1;
            if broken <= MAX_TOLD {
                let how = if outcome.is_err() { "breaks" } else { "is slow" };
                println!("{} {how} ({took:?}) at {text:?}", door.name);
            }
        }
        if took > slowest.0 {
            slowest = (took, text);
        }
    }
    let (took, text) = slowest;
    let start: String = text.chars().take(200).collect();
    let (name, seconds) = (door.name, began.elapsed().as_secs());
    println!(
        "{name}: {count} executions in {seconds} s, {broken} broken or slow; slowest {took:?}: {start:?}"
    );
    (count, broken)
}

/// The most memory that was held at once, where the system tells.
fn memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    peak.map_or_else(
        || "memory not known".to_owned(),
        |peak| format!("at most {} held", peak.trim()),
    )
}
