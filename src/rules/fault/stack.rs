//! Faults of files and packs beside one another.

use super::code::Code;
use super::kind::{FaultKind, Told};
use super::table::fault_table;

fault_table! {
    /// What is wrong between files of a pack, or between packs.
    StackFault;

    TwoHeads => error TwoHeads
        "the pack has two heads", "keep one pack: section in the whole folder", "the second";
    /// `replaceable`: by the pack on top, if it says so. `more` ids of the same two files.
    RepeatedId { id: String, more: Vec<String>, replaceable: bool } => error RepeatedId
        match more.as_slice() {
            [] => format!("the id {id} is taken"),
            more => format!("the ids {id}, {} are taken", listed(more)),
        },
        if *replaceable {
            "rename it, or list it under replaces in the head of your pack"
        } else {
            "ids are unique in a pack, over all sections: rename one of them"
        },
        "given again here";
    UnsaidAsking => error UnsaidChange
        "asking: changes which questions the packs below ask",
        "remove it, or list asking under replaces in the head of your pack";
    UnsaidStrength { word: String, worth: f64 } => error UnsaidChange
        format!("{word} is a word that every pack uses, worth {worth}"),
        format!("give a word of your own, or list {word} under replaces in the head of your pack"),
        "this would change the packs below";
    NothingReplaced { id: String, near: Option<String> } => error NothingReplaced
        format!("the pack says it replaces {id}, but does not"),
        match near {
            Some(near) => {
                format!("remove it from replaces, or give the entry; did you mean {near}?")
            }
            None => "remove it from replaces, or give the entry".to_owned(),
        };
}

/// The most ids that are named one by one.
const MAX_LISTED: usize = 20;

fn listed(ids: &[String]) -> String {
    let named = ids.iter().take(MAX_LISTED).cloned().collect::<Vec<String>>().join(", ");
    match ids.len().saturating_sub(MAX_LISTED) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}
