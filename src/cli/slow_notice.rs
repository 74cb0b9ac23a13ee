//! A word to a person who waits: printed on stderr once something takes longer than a moment, and
//! taken away when it is done.

use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::{Builder, JoinHandle};
use std::time::Duration;

use console::Term;

/// What a conclusion waits for: curves and bands by chance.
pub(super) const WORKING: &str = "Working out the numbers and their bands";

/// Nobody wonders before that.
const MOMENT: Duration = Duration::from_millis(400);

/// Says what is being done for as long as it lives, where stderr is a terminal.
pub(super) struct SlowNotice {
    done: Option<Sender<()>>,
    teller: Option<JoinHandle<()>>,
}

impl SlowNotice {
    pub(super) fn say(what: &'static str) -> Self {
        let term = Term::stderr();
        if !term.is_term() {
            return Self { done: None, teller: None };
        }
        let (done, wait) = channel();
        // Without a thread to say it, it goes unsaid.
        let teller = Builder::new().spawn(move || {
            let mut seconds = Duration::ZERO;
            let mut pause = MOMENT;
            // A terminal that is gone needs no word.
            while wait.recv_timeout(pause) == Err(RecvTimeoutError::Timeout) {
                seconds += pause;
                pause = Duration::from_secs(1);
                let _ = term.clear_line();
                let _ = term.write_str(&format!("{what} ({} s)", seconds.as_secs() + 1));
            }
            if seconds > Duration::ZERO {
                let _ = term.clear_line();
            }
        });
        Self { done: Some(done), teller: teller.ok() }
    }
}

impl Drop for SlowNotice {
    fn drop(&mut self) {
        drop(self.done.take());
        if let Some(teller) = self.teller.take() {
            // It only prints; where that failed there is nothing to take away.
            let _ = teller.join();
        }
    }
}
