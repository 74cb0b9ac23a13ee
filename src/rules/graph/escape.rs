//! Foreign text inside the labels of a graph: none of it can end a label or be read as markup.

use std::fmt::Write as _;

/// Inside the double quotes of a Graphviz label: a backslash leads an escape there, a double quote
/// ends the text, and `&` leads an HTML entity (the DOT language, "ID" and "escString").
pub(super) fn for_graphviz(text: &str) -> String {
    let mut safe = String::new();
    for letter in text.chars() {
        match letter {
            '\\' => safe.push_str("\\\\"),
            '"' => safe.push_str("\\\""),
            '&' => safe.push_str("&amp;"),
            '\n' | '\r' => safe.push(' '),
            other => safe.push(other),
        }
    }
    safe
}

/// Inside the double quotes of a Mermaid label. Its reader looks for directives and comments in the
/// whole text before it looks at quotes, and for markup within them; so all but letters, digits,
/// spaces and a few plain signs are written as codes (`#34;`). Three more signs are plain between two
/// letters or digits, where they make no list, no rule and no arrow.
pub(super) fn for_mermaid(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let plain = |place: Option<usize>| {
        place.and_then(|place| letters.get(place)).is_some_and(|letter| letter.is_alphanumeric())
    };
    let mut safe = String::new();
    for (place, letter) in letters.iter().enumerate() {
        let between = plain(place.checked_sub(1)) && plain(Some(place + 1));
        match letter {
            letter if letter.is_alphanumeric() || " ,?()".contains(*letter) => safe.push(*letter),
            '_' | '.' | '-' if between => safe.push(*letter),
            other => {
                let _ = write!(safe, "#{};", u32::from(*other));
            }
        }
    }
    safe
}
