//! Foreign text made safe to print. Packs, sessions and file names come from strangers; nothing of
//! theirs reaches a terminal but through here.

use crate::quantity::tamed;

/// The text without letters that could drive a terminal, turn the reading direction or hide
/// something. Line ends stay; a tab becomes a space.
#[must_use]
pub fn clean(text: &str) -> String {
    tamed(text)
}

/// The text on one line.
#[must_use]
pub fn clean_line(text: &str) -> String {
    clean(text).replace('\n', " ")
}
