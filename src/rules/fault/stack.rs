//! Faults of files and packs beside one another.

use super::code::Code;
use super::kind::{FaultKind, Told};

/// What is wrong between files of a pack, or between packs.
#[derive(Debug, Clone, PartialEq)]
pub enum StackFault {
    TwoHeads,
    /// `replaceable`: by the pack on top, if it says so.
    RepeatedId {
        id: String,
        replaceable: bool,
    },
    UnsaidAsking,
    UnsaidStrength {
        word: String,
        worth: f64,
    },
    NothingReplaced {
        id: String,
        near: Option<String>,
    },
}

impl FaultKind for StackFault {
    fn told(&self) -> Told {
        match self {
            Self::TwoHeads => Told::error(
                Code::TwoHeads,
                "the pack has two heads",
                "keep one pack: section in the whole folder",
            )
            .labelled("the second"),
            Self::RepeatedId { id, replaceable } => {
                let help = if *replaceable {
                    "rename it, or list it under replaces in the head of your pack"
                } else {
                    "ids are unique in a pack, over all sections: rename one of them"
                };
                Told::error(Code::RepeatedId, format!("the id {id} is taken"), help)
                    .labelled("given again here")
            }
            Self::UnsaidAsking => Told::error(
                Code::UnsaidChange,
                "asking: changes which questions the packs below ask",
                "take it out, or list asking under replaces in the head of your pack",
            ),
            Self::UnsaidStrength { word, worth } => Told::error(
                Code::UnsaidChange,
                format!("{word} is a word that every pack knows, worth {worth}"),
                format!(
                    "give a word of your own, or list {word} under replaces in the head of your \
                     pack"
                ),
            )
            .labelled("this would reweigh the packs below"),
            Self::NothingReplaced { id, near } => {
                let near = near.as_ref().map(|near| format!("; did you mean {near}?"));
                let help = "take it out of replaces, or give the entry".to_owned();
                Told::error(
                    Code::NothingReplaced,
                    format!("the pack says it replaces {id}, but doesn't"),
                    help + &near.unwrap_or_default(),
                )
            }
        }
    }
}
