//! Where words go: results to stdout, messages to stderr. A reader that closed its end early has
//! read enough; that is no failure. Any other result that can't be written is one: a file cut short
//! on a full disk must not pass for whole.

use std::io::{self, ErrorKind, Write};

use serde::Serialize;

use super::exit::Failure;
use crate::quantity::is_tame;
use crate::terminal::clean;

/// Prints a result.
///
/// # Errors
/// Where it can't be written, for any reason but a reader that has read enough.
pub(super) fn result(text: &str) -> Result<(), Failure> {
    written(write(&mut io::stdout().lock(), text))
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

/// Prints a message for the person; whatever a stranger put into it stays text.
pub(super) fn message(text: &str) {
    drawn(&clean(text));
}

/// Prints a message that was made safe before, and may be coloured.
pub(super) fn drawn(text: &str) {
    // Where messages can't be written, nor can the message that says so.
    let _ = write(&mut io::stderr().lock(), text);
}

fn write(out: &mut dyn Write, text: &str) -> io::Result<()> {
    out.write_all(text.as_bytes())?;
    if !text.ends_with('\n') {
        out.write_all(b"\n")?;
    }
    out.flush()
}

/// A result in JSON, as lines of text.
pub(super) fn json(value: &impl Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(value)
        .map_err(|error| Failure::Internal { doing: "writing JSON", error: error.into() })
}

/// The same JSON, with letters that could drive a terminal written as escapes: they only stand
/// within its texts.
pub(super) fn json_for_a_terminal(json: &str) -> String {
    let is_wild = |letter: char| letter != '\n' && !is_tame(letter);
    let mut safe = String::with_capacity(json.len());
    let mut copied = 0;
    for (place, letter) in json.match_indices(is_wild) {
        safe.push_str(&json[copied..place]);
        safe.extend(letter.encode_utf16().map(|unit| format!("\\u{unit:04x}")));
        copied = place + letter.len();
    }
    safe.push_str(&json[copied..]);
    safe
}
