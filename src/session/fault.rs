//! What is wrong with a session that was read, apart from the shape of its file.

use super::kept::MOST_ROUNDS;
use super::migrate::FORMAT;
use crate::interview::Refused;
use crate::rules::{Code, FaultKind, Told};

/// What is wrong with a session.
#[derive(Debug, Clone, PartialEq)]
pub enum SessionFault {
    NoFormat,
    /// Something of a round that stands at the top of a file with several.
    BesideTheRounds {
        key: &'static str,
    },
    NoRound,
    TooManyRounds,
    NoComplaint,
    RepairInTheFirst,
    ComplaintInALater,
    /// `round` counts from 1.
    NoRepair {
        round: usize,
    },
    /// `what`: a complaint or a repair.
    UnknownName {
        id: String,
        what: &'static str,
        near: Option<String>,
        known: Vec<String>,
    },
    Refused {
        refused: Refused,
    },
}

impl FaultKind for SessionFault {
    fn told(&self) -> Told {
        match self {
            Self::NoFormat => Told::error(
                Code::NoFormat,
                "the format is no whole number",
                format!("write format: {FORMAT}, or delete the line if this is a file of answers"),
            ),
            Self::BesideTheRounds { key } => Told::error(
                Code::Misplaced,
                format!("{key} stands beside the rounds"),
                "move it into the round it belongs to",
            ),
            Self::NoRound => Told::error(
                Code::NoRound,
                "the file holds no round",
                "write complaint: with the id of a complaint, and answers: below it",
            ),
            Self::TooManyRounds => Told::error(
                Code::TooManyRounds,
                format!("more than {MOST_ROUNDS} rounds"),
                "start a new session",
            ),
            Self::NoComplaint => Told::error(
                Code::NoComplaint,
                "the first round has no complaint",
                "write complaint: with the id of a complaint",
            ),
            Self::RepairInTheFirst => Told::error(
                Code::Misplaced,
                "the first round comes before any repair",
                "move the repair to a second round, with the answers given after it",
            ),
            Self::ComplaintInALater => Told::error(
                Code::Misplaced,
                "only the first round has a complaint",
                "delete it here; another complaint is another session",
            ),
            Self::NoRepair { round } => Told::error(
                Code::NoRepair,
                format!("round {round} names no repair"),
                "write repair: with the id of what was done before this round",
            ),
            Self::UnknownName { id, what, near, known } => {
                let help = near.as_ref().map_or_else(
                    || format!("known are: {}", known.join(", ")),
                    |near| format!("did you mean {near}?"),
                );
                Told::error(Code::UnknownName, format!("{id} is no {what} of these rules"), help)
            }
            Self::Refused { refused } => {
                let code = match refused {
                    Refused::NoSuchQuestion { .. } => Code::UnknownName,
                    Refused::Answer { .. } => Code::NoAnswer,
                };
                let help = "mend the line, or delete it: the question is then asked again";
                Told::error(code, refused.to_string(), help)
            }
        }
    }
}
