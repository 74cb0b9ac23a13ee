//! A short start of what somebody typed, fit to stand in a message.

use super::tame::is_tame;

/// Letters shown before the rest is left out.
const SHOWN: usize = 24;

/// The start of `text`, without letters that could drive a terminal or turn the reading
/// direction, shortened with `…`.
pub(super) fn excerpt(text: &str) -> String {
    let mut shown: String =
        text.chars().take(SHOWN).map(|letter| if is_tame(letter) { letter } else { '�' }).collect();
    if text.chars().nth(SHOWN).is_some() {
        shown.push('…');
    }
    shown
}
