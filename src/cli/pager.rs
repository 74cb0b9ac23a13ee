//! A result that is longer than the screen, shown by a pager where a person sits before it. What goes
//! into a file or a pipe is never paged.

use std::env;
use std::ffi::OsString;
use std::io::{self, ErrorKind, Write};
use std::process::{Child, Command, ExitStatus, Stdio};

use console::Term;

use super::arguments::PagingOptions;
use super::exit::{Exit, Failure};
use super::{output, signals};
use crate::text::Clean;

/// What a shell answers where a command can't be run or found (POSIX.1-2017, XCU 2.8.2).
const NOT_RUN: [i32; 2] = [126, 127];

/// Prints a result, or pages it. Leaving the pager early is no failure.
///
/// # Errors
/// Where the result can't be written.
pub(super) fn result(text: &Clean, options: &PagingOptions) -> Result<Exit, Failure> {
    let is_paged = !options.no_pager && is_longer_than_the_screen(text);
    let pager = is_paged.then(pager).flatten();
    if let Some(status) = pager.and_then(|pager| paged(pager, text))
        && !status.code().is_some_and(|code| NOT_RUN.contains(&code))
    {
        return Ok(if was_interrupted(status) { Exit::Interrupted } else { Exit::Done });
    }
    output::result(text)?;
    Ok(Exit::Done)
}

fn is_longer_than_the_screen(text: &Clean) -> bool {
    let term = Term::stdout();
    let has_screen = term.is_term() && env::var_os("TERM").is_some_and(|kind| kind != "dumb");
    // The shell's next prompt takes a line, too.
    has_screen && text.lines().count() >= usize::from(term.size().0)
}

/// The pager that `PAGER` names, else `less`; none where it is empty.
fn pager() -> Option<Command> {
    match env::var_os("PAGER") {
        Some(named) if named.is_empty() => None,
        Some(named) => Some(by_shell(named)),
        None => {
            let mut less = Command::new("less");
            less.arg("-R");
            Some(less)
        }
    }
}

/// `PAGER` is a command line (POSIX.1-2017, XBD 8.3).
#[cfg(unix)]
fn by_shell(line: OsString) -> Command {
    let mut shell = Command::new("sh");
    shell.arg("-c").arg(line);
    shell
}

#[cfg(not(unix))]
fn by_shell(line: OsString) -> Command {
    Command::new(line)
}

/// How the pager ended; none where it did not begin.
fn paged(mut pager: Command, text: &Clean) -> Option<ExitStatus> {
    // Ctrl-C is the pager's: it stops a search there. Without this it would end this program and
    // leave the pager behind.
    signals::leave_to_the_pager().ok()?;
    let mut child = pager.stdin(Stdio::piped()).spawn().ok()?;
    // What a pager that was left early did not take was not wanted.
    let _ = hand_over(&mut child, text);
    child.wait().ok()
}

fn hand_over(child: &mut Child, text: &Clean) -> io::Result<()> {
    match child.stdin.take() {
        Some(mut stdin) => stdin.write_all(text.as_bytes()),
        None => Err(ErrorKind::BrokenPipe.into()),
    }
}

#[cfg(unix)]
fn was_interrupted(status: ExitStatus) -> bool {
    use std::os::unix::process::ExitStatusExt;
    // A shell tells of a command that a signal ended by 128 and its number.
    status.signal().is_some() || status.code() == Some(Exit::INTERRUPTED)
}

#[cfg(not(unix))]
fn was_interrupted(_: ExitStatus) -> bool {
    false
}
