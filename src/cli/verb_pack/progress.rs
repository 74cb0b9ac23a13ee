//! How far a long piece of work has come and about how long it still takes, on stderr where that is a
//! terminal.

use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use console::Term;

/// Told no oftener than this.
const PAUSE: Duration = Duration::from_millis(500);

pub(super) struct Progress {
    term: Term,
    all: usize,
    began: Instant,
    /// How many are done, and when that was last told.
    done: Mutex<(usize, Option<Instant>)>,
}

impl Progress {
    pub(super) fn of(all: usize) -> Self {
        Self { term: Term::stderr(), all, began: Instant::now(), done: Mutex::default() }
    }

    /// One more is done.
    pub(super) fn step(&self) {
        if !self.term.is_term() {
            return;
        }
        let mut done = self.done.lock().unwrap_or_else(PoisonError::into_inner);
        done.0 += 1;
        if done.1.is_some_and(|told| told.elapsed() < PAUSE) {
            return;
        }
        done.1 = Some(Instant::now());
        let line = line(done.0, self.all, self.began.elapsed());
        // A terminal that is gone needs no word.
        let _ = self.term.clear_line();
        let _ = self.term.write_str(&line);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.term.is_term() {
            let _ = self.term.clear_line();
        }
    }
}

fn line(done: usize, all: usize, took: Duration) -> String {
    let left = all.saturating_sub(done);
    #[expect(clippy::cast_precision_loss, reason = "a count of interviews")]
    let seconds = took.as_secs_f64() * left as f64 / done.max(1) as f64;
    let time = if seconds < 90.0 {
        format!("{seconds:.0} s")
    } else {
        format!("{:.0} min", seconds / 60.0)
    };
    format!("{done} of {all} cars, about {time} left")
}
