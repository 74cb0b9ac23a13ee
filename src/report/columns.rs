//! How much room a text takes where every letter has its place.

/// The columns that a text takes; a letter of the Far East takes two.
pub(super) fn columns(text: &str) -> usize {
    textwrap::core::display_width(text)
}

/// A text at the right end of so many columns; empty where it is too long.
pub(super) fn at_right(text: &str, room: usize) -> String {
    match room.checked_sub(columns(text)) {
        Some(before) => " ".repeat(before) + text,
        None => String::new(),
    }
}
