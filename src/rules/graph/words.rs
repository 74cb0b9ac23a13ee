//! Foreign texts cut to lines that fit a box.

use crate::text::{Clean, wrapped};

/// Columns of a box and of what stands at a line.
const BOX: usize = 34;
const LINE: usize = 26;
/// The longest word that is not cut: an id is read best in one piece.
const WORD: usize = 48;

/// The lines of a box.
pub(super) fn in_box(texts: &[String]) -> Vec<Clean> {
    texts.iter().flat_map(|text| lines(text, BOX)).collect()
}

/// The lines of what stands at a line between boxes.
pub(super) fn at_line(text: &str) -> Vec<Clean> {
    lines(text, LINE)
}

fn lines(text: &str, columns: usize) -> Vec<Clean> {
    let text = Clean::line(text);
    let longest = text.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
    let columns = columns.max(longest.min(WORD));
    let lines = wrapped(text.trim(), columns, &Clean::default(), 0).into_iter();
    lines.map(|line| Clean::new(line.trim())).filter(|line| !line.is_empty()).collect()
}
