//! Where words go: results to stdout, messages to stderr. A reader that closed its end early has
//! read enough; that is no failure. Any other result that can't be written is one: a file cut short
//! on a full disk must not pass for whole.

use std::io::{self, ErrorKind, Write};

use console::Term;
use serde::Serialize;

use super::exit::Failure;
use crate::text::{Clean, wrapped};

/// Prints a result.
///
/// # Errors
/// Where it can't be written, for any reason but a reader that has read enough.
pub(super) fn result(text: impl Into<Clean>) -> Result<(), Failure> {
    written(write(&mut io::stdout().lock(), &text.into()))
}

/// What writing a result came to.
///
/// # Errors
/// As [`result`].
pub(super) fn written(done: io::Result<()>) -> Result<(), Failure> {
    match done {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Unwritten(error)),
        _ => Ok(()),
    }
}

/// Prints a message for the person, on a terminal broken between words.
pub(super) fn message(text: impl Into<Clean>) {
    let text = text.into();
    let columns = Term::stderr().size_checked().map(|(_, columns)| usize::from(columns));
    let text = columns.map_or_else(|| text.clone(), |columns| fitted(&text, columns));
    // Where messages can't be written, nor can the message that says so.
    let _ = write(&mut io::stderr().lock(), &text);
}

/// The lines that are too long, wrapped; where there is colour they are excerpts of files, which stay as
/// they are.
fn fitted(text: &Clean, columns: usize) -> Clean {
    let fit = |line: &str| {
        if line.chars().count() < columns {
            return line.to_owned();
        }
        let indent = line.len() - line.trim_start_matches(' ').len();
        let lines = wrapped(line.trim_start(), columns - 1, &" ".repeat(indent).into(), indent);
        lines.iter().map(|line| line.as_str()).collect::<Vec<&str>>().join("\n")
    };
    if text.contains('\u{1b}') {
        return text.clone();
    }
    Clean::new(text.lines().map(fit).collect::<Vec<String>>().join("\n"))
}

fn write(out: &mut dyn Write, text: &Clean) -> io::Result<()> {
    out.write_all(text.as_bytes())?;
    if !text.ends_with('\n') {
        out.write_all(b"\n")?;
    }
    out.flush()
}

/// A result in JSON, as lines of text.
pub(super) fn json(value: &impl Serialize) -> Result<Clean, Failure> {
    serde_json::to_string_pretty(value)
        .map(|json| Clean::json(&json))
        .map_err(|error| Failure::Internal { doing: "writing JSON", error: error.into() })
}
