//! Why an answer can't be taken, in words that lead on.

use std::fmt;

use crate::quantity::ReadError;

/// The words that stand for no answer.
pub const CANT_SAY: &str = "unknown";
pub const LATER: &str = "later";

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
    /// What is wrong.
    #[must_use]
    pub fn message(&self) -> String {
        self.told().0
    }

    /// The way out.
    #[must_use]
    pub fn help(&self) -> String {
        self.told().1
    }

    /// What is wrong, and the way out.
    fn told(&self) -> (String, String) {
        match self {
            Self::Value(error) => (error.message(), error.help()),
            Self::NoUnit { usual, text } => (
                "the unit is missing".to_owned(),
                format!("write {text} {usual} if that is how you read it"),
            ),
            Self::NotYesOrNo { given } => {
                (format!("{given} is neither yes nor no"), format!("write yes, no, or {CANT_SAY}"))
            }
            Self::NoSuchOption { given, options, near } => (
                format!("{given} is not one of the options"),
                near.as_ref().map_or_else(
                    || format!("write one of {}", options.join(", ")),
                    |near| format!("did you mean {near}?"),
                ),
            ),
            Self::OutOfRange { given, plausible } => (
                format!("{given} is outside the plausible range ({plausible})"),
                "check the unit, then measure again".to_owned(),
            ),
            Self::TooUncertain { given, plausible } => (
                format!(
                    "the uncertainty in {given} is wider than the whole plausible range \
                     ({plausible}), so the reading tells nothing"
                ),
                format!("check its unit, or answer {CANT_SAY}"),
            ),
            Self::NotATable { columns } => {
                let row = columns.join(": ");
                let help = format!("write its rows, with units, as {row}; {row}; ...");
                ("this question takes a table".to_owned(), help)
            }
            Self::NoRows => (
                "this question takes a single answer, not a table".to_owned(),
                "give one value".to_owned(),
            ),
            Self::Row { row, problem } => {
                let (message, help) = problem.told();
                (format!("row {row}: {message}"), help)
            }
        }
    }
}

impl RowProblem {
    fn told(&self) -> (String, String) {
        match self {
            Self::NoColon { columns: [first, second] } => (
                "the colon is missing".to_owned(),
                format!("write {first} and {second} with a colon between them"),
            ),
            Self::Missing { column } => {
                (format!("{column} is missing"), "give a value for each column".to_owned())
            }
            Self::MoreThanTwo => ("a row has two columns".to_owned(), "remove the rest".to_owned()),
            Self::Cell { column, error } => {
                (format!("{column}: {}", error.message()), error.help())
            }
        }
    }
}

impl fmt::Display for AnswerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (message, help) = self.told();
        write!(f, "{message}: {help}")
    }
}

impl std::error::Error for AnswerError {}
