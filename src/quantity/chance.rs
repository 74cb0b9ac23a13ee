//! Chances as a person reads them.

/// A chance in whole per cent, not to be broken over two lines; the ends are never claimed.
///
/// ```
/// # use boostwright::quantity::print_chance;
/// assert_eq!(print_chance(0.344), "34\u{a0}%");
/// assert_eq!(print_chance(0.0), "under 1\u{a0}%");
/// ```
#[must_use]
pub fn print_chance(chance: f64) -> String {
    match chance * 100.0 {
        share if share < 0.5 => "under 1\u{a0}%".to_owned(),
        share if share > 99.5 => "over 99\u{a0}%".to_owned(),
        share => format!("{share:.0}\u{a0}%"),
    }
}
