//! The rows of a table as one text: `0.4 bar: 0.5 mm; 0.6 bar: 2 mm`, or a row a line.

use indexmap::IndexMap;

use crate::interview::answers::answer_error::{AnswerError, RowProblem};

/// Cuts a text into rows of two cells. What stands in the cells is not looked at.
///
/// # Errors
/// A row without a colon between its two cells.
pub(in crate::interview) fn rows_of(
    [first, second]: [&str; 2],
    text: &str,
) -> Result<Vec<IndexMap<String, String>>, AnswerError> {
    text.split([';', '\n'])
        .map(str::trim)
        .filter(|row| !row.is_empty())
        .enumerate()
        .map(|(index, row)| match row.split_once(':') {
            Some((left, right)) => Ok(IndexMap::from([
                (first.to_owned(), left.trim().to_owned()),
                (second.to_owned(), right.trim().to_owned()),
            ])),
            None => Err(AnswerError::Row {
                row: index + 1,
                problem: RowProblem::NoColon { columns: [first.to_owned(), second.to_owned()] },
            }),
        })
        .collect()
}
