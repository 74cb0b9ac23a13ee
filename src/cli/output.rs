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
    let mut safe = String::new();
    for letter in json.chars() {
        if letter == '\n' || is_tame(letter) {
            safe.push(letter);
        } else {
            let mut units = [0; 2];
            let units = letter.encode_utf16(&mut units);
            safe.extend(units.iter().map(|unit| format!("\\u{unit:04x}")));
        }
    }
    safe
}
