//! What an attack came to: how often it was tried, what failed, how long the slowest took.

use std::fmt;
use std::fs;
use std::time::{Duration, Instant};

/// No single run of the program may take longer, in a release build on an idle machine.
pub(super) const SLOW: Duration = Duration::from_secs(2);
/// A run that was held up for longer counts with all of it: it may have waited for something.
const HELD_UP: Duration = Duration::from_secs(5);
/// The clock ticks that `/proc` counts in (Linux, `proc(5)`: `sysconf(_SC_CLK_TCK)`, 100 wherever it runs).
const TICKS_IN_A_SECOND: u64 = 100;

/// The moment when a run of the program began. Other work on the machine is no fault of the program, so
/// that where the system tells, a run took no longer than the program was at work.
#[derive(Debug, Clone, Copy)]
pub(super) struct Began {
    at: Instant,
    children: Option<Duration>,
}

impl Began {
    pub(super) fn now() -> Self {
        Self { children: children_at_work(), at: Instant::now() }
    }

    /// How long the programs that were started and waited for since took.
    pub(super) fn took(self) -> Duration {
        let wall = self.at.elapsed();
        let worked = children_at_work().zip(self.children);
        match worked.map(|(now, before)| now.saturating_sub(before)) {
            Some(worked) if wall < HELD_UP => wall.min(worked),
            _ => wall,
        }
    }
}

/// How long all programs that this one started and waited for were at work (Linux, `proc(5)`: the fields
/// `cutime` and `cstime` of `/proc/self/stat`).
fn children_at_work() -> Option<Duration> {
    let told = fs::read_to_string("/proc/self/stat").ok()?;
    // The name of the program, in brackets, may hold spaces.
    let mut fields = told.rsplit_once(')')?.1.split_whitespace().skip(13);
    let mut ticks = || fields.next()?.parse::<u64>().ok();
    Some(Duration::from_millis((ticks()? + ticks()?) * 1000 / TICKS_IN_A_SECOND))
}
/// The most failures told of one attack.
const MAX_TOLD: usize = 5;

/// One row of the table.
#[derive(Debug, Default)]
pub(super) struct Row {
    pub(super) name: &'static str,
    pub(super) tried: usize,
    /// Of those, how many struck: were killed, had a call fail, were refused.
    pub(super) struck: usize,
    pub(super) failures: Vec<String>,
    pub(super) slowest: Duration,
    pub(super) slow: usize,
}

impl Row {
    pub(super) fn new(name: &'static str) -> Self {
        Self { name, ..Self::default() }
    }

    /// Counts one run that began then.
    pub(super) fn ran(&mut self, began: Began) {
        self.tried += 1;
        let took = began.took();
        self.slowest = self.slowest.max(took);
        self.slow += usize::from(took > SLOW);
    }

    pub(super) fn fail(&mut self, what: String) {
        self.failures.push(what);
    }

    /// Notes a failure where something doesn't hold.
    pub(super) fn expect(&mut self, holds: bool, what: impl FnOnce() -> String) {
        if !holds {
            self.fail(what());
        }
    }
}

impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { name, tried, struck, failures, slowest, slow } = self;
        let failed = failures.len();
        write!(f, "{name:34} {tried:>9} {struck:>9} {failed:>6} {slow:>6} {slowest:>9.2?}")?;
        for failure in failures.iter().take(MAX_TOLD) {
            write!(f, "\n    {failure}")?;
        }
        Ok(())
    }
}
