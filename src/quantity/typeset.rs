//! Units as people write them on paper: `mm²` for the `mm2` of rule files, `19°` for `19 deg`. Only
//! for texts that are read; what is read back is printed by [`super::print`] alone.

/// Units with a power, as rule files write them and as people do.
const POWERS: [(&str, &str); 10] = [
    ("mm2", "mm²"),
    ("cm2", "cm²"),
    ("m2", "m²"),
    ("in2", "in²"),
    ("cm3", "cm³"),
    ("dm3", "dm³"),
    ("m3", "m³"),
    ("in3", "in³"),
    ("ft3", "ft³"),
    ("K^-1", "per K"),
];

/// A text with its units as people write them. A unit is told by the number before it, by `in ` (the
/// head of a column), or by standing alone.
///
/// ```
/// assert_eq!(boostwright::quantity::typeset("573 mm2"), "573 mm²");
/// ```
#[must_use]
pub fn typeset(text: &str) -> String {
    let mut set = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(place) = rest.find(|letter: char| letter.is_alphanumeric()) {
        let (before, from) = rest.split_at(place);
        set.push_str(before);
        let word = word(from);
        rest = &from[word.len()..];
        let bare = set.trim_end_matches([' ', '\u{a0}']);
        let behind_number = bare.len() < set.len() && bare.ends_with(|c: char| c.is_ascii_digit());
        let alone = set.is_empty() && rest.is_empty();
        let is_unit = behind_number || alone || set.ends_with("in ");
        let power = POWERS.iter().find(|(written, _)| is_unit && *written == word);
        if word == "deg" && behind_number {
            // `19 deg` becomes `19°`, without the space between.
            set.truncate(bare.len());
            set.push('°');
        } else {
            set.push_str(power.map_or(word, |(_, unit)| unit));
        }
    }
    set + rest
}

/// The word at the start of a text: letters and digits, an underscore included, and a negative power.
fn word(text: &str) -> &str {
    let end = text.find(|letter: char| !(letter.is_alphanumeric() || letter == '_'));
    let end = end.unwrap_or(text.len());
    let power = if text[end..].starts_with("^-1") { "^-1".len() } else { 0 };
    &text[..end + power]
}
