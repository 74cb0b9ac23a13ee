//! Small turns of English.

/// An id in words: `port too small` for `port_too_small`.
#[must_use]
pub fn spaced(id: &str) -> String {
    id.replace('_', " ")
}

/// A text that opens a sentence.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `a, b and c`.
#[must_use]
pub fn listed<T: AsRef<str>>(items: &[T]) -> String {
    joined(items, "and")
}

/// `a, b or c`.
#[must_use]
pub fn either<T: AsRef<str>>(items: &[T]) -> String {
    joined(items, "or")
}

fn joined<T: AsRef<str>>(items: &[T], word: &str) -> String {
    let items: Vec<&str> = items.iter().map(AsRef::as_ref).collect();
    match items.as_slice() {
        [first @ .., last] if !first.is_empty() => {
            format!("{} {word} {last}", first.join(", "))
        }
        items => items.concat(),
    }
}

/// `0 to 3 bar`, `at least 0 bar`, `at most 3 bar`; none without limits. The unit that both limits
/// end in is said once.
#[must_use]
pub fn range(from: Option<String>, to: Option<String>, unit: &str) -> Option<String> {
    match (from, to) {
        (Some(from), Some(to)) => {
            let bare = from.strip_suffix(unit).map_or(from.as_str(), str::trim_end);
            Some(format!("{bare} to {to}"))
        }
        (Some(from), None) => Some(format!("at least {from}")),
        (None, Some(to)) => Some(format!("at most {to}")),
        (None, None) => None,
    }
}
