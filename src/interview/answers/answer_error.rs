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
    Row {
        row: usize,
        problem: String,
    },
}

impl fmt::Display for AnswerError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Value(error) => error.fmt(f),
            Self::NoUnit { usual, text } => {
                write!(f, "the unit is missing: write {text} {usual} if {usual} is what you read")
            }
            Self::NotYesOrNo { given } => {
                write!(f, "{given} is neither yes nor no: write yes, no, or {CANT_SAY}")
            }
            Self::NoSuchOption { given, options, near } => {
                write!(f, "{given} is none of the options: ")?;
                match near {
                    Some(near) => write!(f, "did you mean {near}?"),
                    None => write!(f, "write one of {}", options.join(", ")),
                }
            }
            Self::OutOfRange { given, plausible } => write!(
                f,
                "{given} can hardly be: plausible is {plausible}; look at the unit and read again"
            ),
            Self::TooUncertain { given, plausible } => write!(
                f,
                "the uncertainty in {given} is wider than all that is plausible, {plausible}, so \
                 the reading says nothing: look at its unit, or answer {CANT_SAY}"
            ),
            Self::NotATable { columns } => {
                let row = columns.join(": ");
                write!(f, "a table is wanted: write its rows with units as {row}; {row}; ...")
            }
            Self::Row { row, problem } => write!(f, "row {row}: {problem}"),
        }
    }
}

impl std::error::Error for AnswerError {}
