//! Why an answer can't be taken, in words that lead on.

use std::fmt;

use crate::quantity::ReadError;
use crate::text::Explained;

/// The words that stand for no answer.
pub const CANT_SAY: &str = "unknown";
pub const LATER: &str = "later";
/// The word for a list of which nothing is true.
pub const NONE: &str = "none";

/// Why an answer can't be taken, with a way out.
#[derive(Debug, Clone, PartialEq)]
pub enum AnswerError {
    Value(ReadError),
    NoUnit {
        usual: String,
        text: String,
    },
    NotYesOrNo {
        given: String,
    },
    NoSuchOption {
        given: String,
        options: Vec<String>,
        near: Option<String>,
    },
    OutOfRange {
        given: String,
        plausible: String,
    },
    /// One standard uncertainty beyond the whole plausible range.
    TooUncertain {
        given: String,
        plausible: String,
    },
    NotATable {
        columns: Vec<String>,
    },
    /// Rows for a question that takes none.
    NoRows,
    /// Several options of a question that takes one answer.
    NoList,
    /// From 1.
    Row {
        row: usize,
        problem: RowProblem,
    },
}

/// Why a row of a table can't be taken.
#[derive(Debug, Clone, PartialEq)]
pub enum RowProblem {
    NoColon { columns: [String; 2] },
    Missing { column: String },
    MoreThanTwo,
    Cell { column: String, error: ReadError },
}

impl AnswerError {
    /// What is wrong, and the way out.
    #[must_use]
    pub fn explained(&self) -> Explained {
        match self {
            Self::Value(error) => error.explained(),
            Self::NoUnit { usual, text } => Explained::new(
                "the unit is missing",
                format!("write {text} {usual} if that is how you read it"),
            ),
            Self::NotYesOrNo { given } => Explained::new(
                format!("{given} is neither yes nor no"),
                format!("write yes, no, or {CANT_SAY}"),
            ),
            Self::NoSuchOption { given, options, near } => Explained::new(
                format!("{given} is not one of the options"),
                near.as_ref().map_or_else(
                    || format!("choose from {}", options.join(", ")),
                    |near| format!("did you mean {near}?"),
                ),
            ),
            Self::OutOfRange { given, plausible } => Explained::new(
                format!("{given} is outside the plausible range ({plausible})"),
                "check the unit, then measure again",
            ),
            Self::TooUncertain { given, plausible } => Explained::new(
                format!(
                    "the uncertainty in {given} is wider than the whole plausible range \
                     ({plausible}), so the reading tells nothing"
                ),
                format!("check its unit, or answer {CANT_SAY}"),
            ),
            Self::NotATable { columns } => {
                let row = columns.join(": ");
                let help = format!("write its rows, with units, as {row}; {row}; ...");
                Explained::new("this question takes a table", help)
            }
            Self::NoRows => {
                Explained::new("this question takes a single answer, not a table", "give one value")
            }
            Self::NoList => {
                Explained::new("this question takes a single answer, not a list", "give one")
            }
            Self::Row { row, problem } => {
                let Explained { message, help } = problem.explained();
                Explained::new(format!("row {row}: {message}"), help)
            }
        }
    }
}

impl RowProblem {
    fn explained(&self) -> Explained {
        match self {
            Self::NoColon { columns: [first, second] } => Explained::new(
                "the colon is missing",
                format!("write {first} and {second} with a colon between them"),
            ),
            Self::Missing { column } => {
                Explained::new(format!("{column} is missing"), "give a value for each column")
            }
            Self::MoreThanTwo => Explained::new("a row has two columns", "remove the rest"),
            Self::Cell { column, error } => {
                let Explained { message, help } = error.explained();
                Explained::new(format!("{column}: {message}"), help)
            }
        }
    }
}

impl fmt::Display for AnswerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.explained().fmt(f)
    }
}

impl std::error::Error for AnswerError {}
