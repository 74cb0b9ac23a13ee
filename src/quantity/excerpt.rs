//! A short start of what somebody typed, fit to stand in a message.

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

/// Controls, direction marks, line and paragraph separators, zero-width and tag letters are not.
fn is_tame(letter: char) -> bool {
    !(letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e007f}'))
}
