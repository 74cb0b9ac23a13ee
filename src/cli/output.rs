//! Where words go: results to stdout, messages to stderr. A reader that closed its end early has
//! read enough; that is no failure.

use std::io::{self, Write};

use serde::Serialize;

use super::exit::Failure;
use crate::quantity::is_tame;
use crate::terminal::clean;

/// Prints a result.
pub(super) fn result(text: &str) {
    let _ = write(&mut io::stdout().lock(), text);
}

/// Prints a message for the person; whatever a stranger put into it stays text.
pub(super) fn message(text: &str) {
    drawn(&clean(text));
}

/// Prints a message that was made safe before, and may be coloured.
pub(super) fn drawn(text: &str) {
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
        .map_err(|error| Failure::new(format!("the result can't be written as JSON: {error}")))
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
