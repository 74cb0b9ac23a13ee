//! How the terminal hands over keys while a person is asked.

/// While it lives, keys wait as they were pressed: nothing is gathered into lines, nothing echoed.
///
/// Keys are read one at a time, and between two reads a terminal would fall back to lines. A key
/// pressed in that moment would be echoed into the page, and an end of input (Ctrl-D) swallowed.
/// Ctrl-C still signals. Where there is no terminal on stdin nothing changes.
#[derive(Debug)]
pub(in crate::terminal) struct Keys {
    #[cfg(unix)]
    modes: Option<Modes>,
}

#[cfg(unix)]
#[derive(Debug)]
struct Modes {
    lines: rustix::termios::Termios,
    keys: rustix::termios::Termios,
}

#[cfg(unix)]
impl Keys {
    pub(in crate::terminal) fn take() -> Self {
        use rustix::termios::{LocalModes, SpecialCodeIndex, tcgetattr};
        let Ok(lines) = tcgetattr(std::io::stdin()) else { return Self { modes: None } };
        let mut keys = lines.clone();
        keys.local_modes.remove(LocalModes::ICANON | LocalModes::ECHO);
        // A read waits for one key, however long that takes.
        keys.special_codes[SpecialCodeIndex::VMIN] = 1;
        keys.special_codes[SpecialCodeIndex::VTIME] = 0;
        set(&keys);
        Self { modes: Some(Modes { lines, keys }) }
    }

    /// Does something with the terminal as it was before.
    pub(in crate::terminal) fn given_back<T>(&self, act: impl FnOnce() -> T) -> T {
        self.put_back();
        let done = act();
        if let Some(modes) = &self.modes {
            set(&modes.keys);
        }
        done
    }

    /// Stops the program, and all that was started with it, until the shell goes on with it; the terminal
    /// is as it was meanwhile. Without such a shell nothing happens.
    pub(in crate::terminal) fn suspend(&self) {
        use rustix::process::{Signal, kill_current_process_group};
        // Who may not be stopped goes on at once.
        let _ = self.given_back(|| kill_current_process_group(Signal::TSTP));
    }

    fn put_back(&self) {
        if let Some(modes) = &self.modes {
            set(&modes.lines);
        }
    }
}

#[cfg(unix)]
impl Keys {
    /// Drops what was typed before a prompt showed, the rest of a paste too. Whether there was anything.
    #[expect(clippy::unused_self, reason = "only while the terminal hands over keys")]
    pub(in crate::terminal) fn drop_typed_ahead(&self) -> bool {
        use rustix::termios::{QueueSelector, tcflush};
        let waiting = || rustix::io::ioctl_fionread(std::io::stdin()).is_ok_and(|count| count > 0);
        let mut dropped = false;
        // A terminal hands over a long paste piece by piece.
        for _ in 0..MAX_PIECES {
            if !waiting() || tcflush(std::io::stdin(), QueueSelector::IFlush).is_err() {
                break;
            }
            dropped = true;
            std::thread::sleep(BETWEEN_PIECES);
        }
        dropped
    }
}

/// Far more than a paste comes in; a key held down never lets go.
#[cfg(unix)]
const MAX_PIECES: usize = 50;
/// Longer than a terminal waits between two pieces, shorter than anyone notices.
#[cfg(unix)]
const BETWEEN_PIECES: std::time::Duration = std::time::Duration::from_millis(20);

#[cfg(unix)]
fn set(modes: &rustix::termios::Termios) {
    use rustix::termios::{OptionalActions, tcsetattr};
    // A terminal that is gone needs no modes; the next read of a key tells.
    let _ = tcsetattr(std::io::stdin(), OptionalActions::Drain, modes);
}

#[cfg(unix)]
impl Drop for Keys {
    fn drop(&mut self) {
        self.put_back();
    }
}

#[cfg(not(unix))]
impl Keys {
    pub(in crate::terminal) fn take() -> Self {
        Self {}
    }

    pub(in crate::terminal) fn given_back<T>(&self, act: impl FnOnce() -> T) -> T {
        act()
    }

    pub(in crate::terminal) fn suspend(&self) {}

    pub(in crate::terminal) fn drop_typed_ahead(&self) -> bool {
        false
    }
}
