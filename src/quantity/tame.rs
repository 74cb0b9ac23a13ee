//! Which letters may be shown as they are. Texts come from strangers; some letters drive a
//! terminal, turn the reading direction or are not seen.

/// Neither a control (C0, DEL, C1) nor one of the letters that are not seen: marks of direction,
/// separators of lines and paragraphs, fillers, joiners, variation selectors, tags.
#[must_use]
pub fn is_tame(letter: char) -> bool {
    // Nearly every letter is one of these.
    if matches!(letter, ' '..='~') {
        return true;
    }
    !(letter.is_control()
        || matches!(letter,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
            | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
            | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}'))
}

/// Whether a letter steers what shows it: a control, or a mark of direction.
#[must_use]
pub fn steers(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2066}'..='\u{2069}')
}

/// The text with every letter that is not tame replaced, so that the tampering shows. Line ends
/// stay; a tab becomes a space.
#[must_use]
pub fn tamed(text: &str) -> String {
    text.chars()
        .map(|letter| match letter {
            '\n' => '\n',
            '\t' => ' ',
            letter if is_tame(letter) => letter,
            _ => char::REPLACEMENT_CHARACTER,
        })
        .collect()
}
