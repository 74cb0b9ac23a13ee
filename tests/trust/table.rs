//! What an attack came to: how often it was tried, what failed, how long the slowest took.

use std::fmt;
use std::time::{Duration, Instant};

/// No single run of the program may take longer, in a release build on an idle machine.
pub(super) const SLOW: Duration = Duration::from_secs(2);
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
    pub(super) fn ran(&mut self, began: Instant) {
        self.tried += 1;
        let took = began.elapsed();
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
