//! Texts of YAML in double quotes.

use crate::text::is_clean;

/// A text in double quotes, every letter that is not clean as an escape.
pub(super) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            '\n' => out.push_str("\\n"),
            letter if is_clean(letter) => out.push(letter),
            letter => {
                let code = u32::from(letter);
                let escape = if code < 0x1_0000 {
                    format!("\\u{code:04X}")
                } else {
                    format!("\\U{code:08X}")
                };
                out.push_str(&escape);
            }
        }
    }
    out.push('"');
    out
}
