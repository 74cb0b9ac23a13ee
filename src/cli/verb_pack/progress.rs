//! How far a long piece of work has come and about how long it still takes, on stderr where that is a
//! terminal.

use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use console::Term;

/// Nobody wonders before that, and it is told no oftener.
const PAUSE: Duration = Duration::from_millis(500);

pub(super) struct Progress {
    term: Term,
    all: usize,
    /// What is counted: `cars`.
    what: &'static str,
    began: Instant,
    /// How many are done, and when that was last told, or the work began.
    done: Mutex<(usize, Instant)>,
}

impl Progress {
    pub(super) fn of(all: usize, what: &'static str) -> Self {
        let began = Instant::now();
        Self { term: Term::stderr(), all, what, began, done: Mutex::new((0, began)) }
    }

    /// One more is done.
    pub(super) fn step(&self) {
        if !self.term.is_term() {
            return;
        }
        let mut done = self.done.lock().unwrap_or_else(PoisonError::into_inner);
        done.0 += 1;
        if done.1.elapsed() < PAUSE {
            return;
        }
        done.1 = Instant::now();
        let line = line((done.0, self.all), self.what, self.began.elapsed());
        // A terminal that is gone needs no word.
        let _ = self.term.clear_line();
        let _ = self.term.write_str(&line);
    }

    /// Takes its line away for what else is to be said.
    pub(super) fn make_way(&self) {
        if self.term.is_term() {
            // A terminal that is gone needs no word.
            let _ = self.term.clear_line();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.make_way();
    }
}

fn line((done, all): (usize, usize), what: &str, took: Duration) -> String {
    let left = all.saturating_sub(done);
    #[expect(clippy::cast_precision_loss, reason = "a count of cars or cases")]
    let seconds = took.as_secs_f64() * left as f64 / done.max(1) as f64;
    let time = if seconds < 90.0 {
        format!("{seconds:.0} s")
    } else {
        format!("{:.0} min", seconds / 60.0)
    };
    format!("{done} of {all} {what}, about {time} left")
}
