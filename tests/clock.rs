//! How long work takes. Other work on the machine must fail no test, so that where the system tells,
//! the time is what this thread was at work for.

use std::fs;
use std::time::{Duration, Instant};

/// Started with the work.
pub(crate) struct Clock {
    started: Instant,
    before: Option<Duration>,
}

impl Clock {
    pub(crate) fn start() -> Self {
        Self { before: at_work(), started: Instant::now() }
    }

    /// The time worked since.
    pub(crate) fn worked(&self) -> Duration {
        let took = self.started.elapsed();
        at_work().zip(self.before).map_or(took, |(now, before)| now.saturating_sub(before))
    }
}

/// How long this thread has been at work (Linux, `proc(5)`).
fn at_work() -> Option<Duration> {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split(' ').next()?.parse().ok().map(Duration::from_nanos)
}
