//! A spot inside a scalar, such as a word of a formula, as the file writes it.

use std::ops::Range;

/// Bytes of a scalar's content as bytes of the file: past the quote, and across the line breaks of
/// a folded scalar. One with escapes is marked whole.
pub(super) fn inside(text: &str, value: &Range<usize>, inner: &Range<usize>) -> Range<usize> {
    let Some(raw) = text.get(value.clone()) else { return value.clone() };
    let quoted = raw.starts_with(['"', '\'']);
    let body = if quoted { raw.get(1..raw.len().saturating_sub(1)).unwrap_or("") } else { raw };
    if body.is_empty() || (raw.starts_with('"') && body.contains('\\')) {
        return value.clone();
    }
    let places = content_places(body, raw.starts_with('\''));
    match (places.get(inner.start), places.get(inner.end)) {
        (Some(from), Some(to)) => {
            let start = value.start + usize::from(quoted);
            start + from..start + to
        }
        _ => value.clone(),
    }
}

/// Where each byte of a scalar's content stands in its text: a line break with the indentation
/// behind it is one byte, and so is a doubled quote in single quotes.
fn content_places(body: &str, single_quoted: bool) -> Vec<usize> {
    let mut places = Vec::with_capacity(body.len() + 1);
    let mut at = 0;
    while let Some(rest) = body.as_bytes().get(at..).filter(|rest| !rest.is_empty()) {
        places.push(at);
        at += match rest {
            [b'\n', after @ ..] => {
                1 + after.iter().take_while(|byte| byte.is_ascii_whitespace()).count()
            }
            [b'\'', b'\'', ..] if single_quoted => 2,
            _ => 1,
        };
    }
    places.push(body.len());
    places
}
