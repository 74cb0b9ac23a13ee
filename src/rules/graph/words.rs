//! Foreign texts cut to lines that fit a box.

use textwrap::{Options, wrap};

use super::model::Safe;

/// Columns of a box and of what stands at a line.
const BOX: usize = 34;
const LINE: usize = 26;
/// The longest word that is not cut: an id is read best in one piece.
const WORD: usize = 48;

/// The lines of a box.
pub(super) fn in_box(texts: &[String], safe: Safe<'_>) -> Vec<String> {
    texts.iter().flat_map(|text| lines(text, BOX, safe)).collect()
}

/// The lines of what stands at a line between boxes.
pub(super) fn at_line(text: &str, safe: Safe<'_>) -> Vec<String> {
    lines(text, LINE, safe)
}

fn lines(text: &str, columns: usize, safe: Safe<'_>) -> Vec<String> {
    let text = safe(text);
    let longest = text.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
    let options = Options::new(columns.max(longest.min(WORD)))
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    let lines = wrap(text.trim(), options).into_iter().map(|line| line.trim().to_owned());
    lines.filter(|line| !line.is_empty()).collect()
}
