//! What stands round a value, for the value on the other side of zero.

/// Words behind a value that tell which way it counts, each with its opposite.
const OPPOSITES: [(&str, &str); 6] = [
    ("above", "below"),
    ("over", "under"),
    ("higher", "lower"),
    ("more", "less"),
    ("later", "earlier"),
    ("longer", "shorter"),
];

/// What stands behind a value, for the value on the other side of zero; none where there is no word to
/// turn.
pub(super) fn turned(after: &str) -> Option<String> {
    let word: String = after.trim_start().chars().take_while(|c| c.is_alphabetic()).collect();
    let opposite = OPPOSITES.iter().find_map(|(one, other)| match word.as_str() {
        word if word == *one => Some(*other),
        word if word == *other => Some(*one),
        _ => None,
    })?;
    Some(after.replacen(&word, opposite, 1))
}

/// A value in place of the sentence it stood in. What the text adds in sentences of its own holds as
/// before.
pub(super) fn for_itself(before: &str, value: &str, after: &str) -> String {
    let earlier =
        before.rsplit_once(". ").map_or(String::new(), |(earlier, _)| format!("{earlier}. "));
    let later = after.split_once(". ").map_or(String::new(), |(_, later)| format!(" {later}"));
    format!("{earlier}{value}.{later}")
}
