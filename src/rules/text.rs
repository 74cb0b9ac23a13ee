//! Texts of a pack with values put in: `Boost passes it by {opening_margin}.`

use crate::formula::VarId;

/// A piece of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    Words(String),
    /// The value that stands in a slot.
    Value(VarId),
}

/// A text in pieces.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Template(pub Vec<Piece>);

impl Template {
    /// A text without values.
    #[must_use]
    pub fn plain(words: &str) -> Self {
        Self(vec![Piece::Words(words.to_owned())])
    }
}

/// A `{name}` in a text, or a brace that is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum RawPiece<'a> {
    Words(&'a str),
    /// The name between the braces, and its byte range in the text.
    Name(&'a str, std::ops::Range<usize>),
    /// A brace that is never closed, at this byte.
    Open(usize),
}

/// Cuts a text at its braces.
pub(crate) fn pieces(text: &str) -> Vec<RawPiece<'_>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = text[at..].find('{').map(|open| at + open) {
        if open > at {
            found.push(RawPiece::Words(&text[at..open]));
        }
        let Some(close) = text[open..].find('}').map(|close| open + close) else {
            found.push(RawPiece::Open(open));
            return found;
        };
        found.push(RawPiece::Name(&text[open + 1..close], open + 1..close));
        at = close + 1;
    }
    if at < text.len() {
        found.push(RawPiece::Words(&text[at..]));
    }
    found
}
