//! Wrapping: words are never cut by a hyphen, and what a no-break space holds together stays together.

use textwrap::core::display_width;
use textwrap::{Options, WordSplitter, wrap};

use super::clean::Clean;

/// The columns that a text takes; a letter of the Far East takes two.
#[must_use]
pub fn columns(text: &str) -> usize {
    display_width(text)
}

/// A text in lines of at most `width` columns: `mark` before the first, so many spaces before each
/// further one. No-break spaces have done their work and become plain ones.
#[must_use]
pub fn wrapped(text: impl Into<Clean>, width: usize, mark: &Clean, further: usize) -> Vec<Clean> {
    let (text, further) = (text.into(), " ".repeat(further));
    let options = Options::new(width)
        .initial_indent(mark)
        .subsequent_indent(&further)
        .word_splitter(WordSplitter::NoHyphenation);
    let lines = wrap(&text, options).into_iter();
    lines.map(|line| Clean::new(line.trim_end().replace('\u{a0}', " "))).collect()
}
