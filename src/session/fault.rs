//! What is wrong with a session that was read, apart from the shape of its file.

use super::format::FORMAT;
use super::kept::MAX_ROUNDS;
use crate::interview::Refused;
use crate::rules::{Code, FaultKind, Told, fault_table};

fault_table! {
    /// What is wrong with a session.
    SessionFault;

    NoFormat => error NoFormat
        "the format is not a whole number",
        format!("write format: {FORMAT}, or delete the line if this is a file of answers");
    /// Something of a round that stands at the top of a file with several.
    BesideTheRounds { key: &'static str } => error Misplaced
        format!("{key} is outside the rounds"), "move it into the round it belongs to";
    NoRound => error NoRound
        "the file has no rounds",
        "write complaint: with the id of a complaint, and answers: below it";
    TooManyRounds => error TooManyRounds
        format!("more than {MAX_ROUNDS} rounds"), "start a new session";
    NoComplaint => error NoComplaint
        "the first round has no complaint", "write complaint: with the id of a complaint";
    RepairInTheFirst => error Misplaced
        "the first round comes before any repair",
        "move the repair to a second round, with the answers given after it";
    ComplaintInALater => error Misplaced
        "only the first round has a complaint",
        "delete it here; another complaint needs another session";
    /// `round` counts from 1.
    NoRepair { round: usize } => error NoRepair
        format!("round {round} names no repair"),
        "write repair: with the id of what was done before this round";
    /// `what`: a complaint or a repair.
    UnknownName { id: String, what: &'static str, near: Option<String>, known: Vec<String> }
        => error UnknownName
        format!("these rules have no {what} {id}"),
        match near {
            Some(near) => format!("did you mean {near}?"),
            None => format!("known are: {}", known.join(", ")),
        };
    UnknownQuestion { refused: Refused } => error UnknownName refused.to_string(), MEND;
    NoAnswer { refused: Refused } => error NoAnswer refused.to_string(), MEND;
}

const MEND: &str = "correct the line, or delete it: the question is then asked again";
