//! The start of a long text, fit to stand in a message.

use super::clean::Clean;

/// At most so many letters of a text, on one line; `…` stands for the rest.
#[must_use]
pub fn excerpt(text: &str, letters: usize) -> Clean {
    match text.char_indices().nth(letters) {
        Some((end, _)) => Clean::line(format!("{}…", &text[..end])),
        None => Clean::line(text),
    }
}
