//! Which letters may be shown as they are. Texts come from strangers; some letters drive a
//! terminal, turn the reading direction or are not seen.

/// Why a letter may not be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unclean {
    /// It steers what shows it: a control (C0, DEL, C1), or a mark of direction.
    Steers,
    /// It is not seen: a separator of lines or paragraphs, a filler, a joiner, a variation selector, a
    /// tag.
    Hidden,
}

/// What is wrong with a letter; none with one that may be shown.
#[must_use]
pub fn unclean(letter: char) -> Option<Unclean> {
    match letter {
        // Nearly every letter is one of these.
        ' '..='~' => None,
        letter if letter.is_control() => Some(Unclean::Steers),
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
            Some(Unclean::Steers)
        }
        '\u{ad}'
        | '\u{34f}'
        | '\u{115f}'
        | '\u{1160}'
        | '\u{17b4}'
        | '\u{17b5}'
        | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200d}'
        | '\u{2028}'
        | '\u{2029}'
        | '\u{2060}'..='\u{2065}'
        | '\u{206a}'..='\u{206f}'
        | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}'
        | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffb}'
        | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}'
        | '\u{e0000}'..='\u{e0fff}' => Some(Unclean::Hidden),
        _ => None,
    }
}

/// Whether a letter may be shown as it is.
#[must_use]
pub fn is_clean(letter: char) -> bool {
    unclean(letter).is_none()
}
