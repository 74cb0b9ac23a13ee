//! Ctrl-C and the system's signals to end: they set a flag and wake whoever waits for a key. The
//! waiting thread gives the terminal back as it was and ends; nothing is broken off in the middle.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::sleep;
use std::time::Duration;

use super::exit::{Exit, Failure};

/// Between two nudges.
const PAUSE: Duration = Duration::from_millis(50);
/// After so many the program is taken for stuck.
const PATIENCE: usize = 100;

/// A flag that is set once the program is told to end.
pub(super) fn told_to_end() -> Result<Arc<AtomicBool>, Failure> {
    let flag = Arc::new(AtomicBool::new(false));
    let told = Arc::clone(&flag);
    let mut nudges = 0;
    ctrlc::set_handler(move || {
        told.store(true, Ordering::SeqCst);
        nudges += 1;
        if nudges > PATIENCE {
            std::process::exit(Exit::INTERRUPTED);
        }
        sleep(PAUSE);
        nudge();
    })
    .map_err(Failure::Signals)?;
    Ok(flag)
}

/// Lets signals to end pass by as long as a pager shows a result: they reach the pager, too, and this
/// program ends with it.
///
/// # Errors
/// Where the system refuses.
pub(super) fn leave_to_the_pager() -> Result<(), Failure> {
    ctrlc::set_handler(|| {}).map_err(Failure::Signals)
}

/// Sends the signal once more. A wait for a key that began between the look at the flag and the
/// first signal would not have noticed it.
#[cfg(unix)]
fn nudge() {
    use rustix::process::{Signal, getpid, kill_process};
    // Where it fails there is nobody left to wake.
    let _ = kill_process(getpid(), Signal::INT);
}

/// Elsewhere the wait for a key ends by itself.
#[cfg(not(unix))]
fn nudge() {}
