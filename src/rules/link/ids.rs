//! Ids: what they may look like. In sections that formulas read a wrong one can't be used; in the
//! others it only reads badly.

use super::entries::entries;
use super::linker::{At, Linker};
use crate::formula::{Unusable, is_function, unusable};
use crate::rules::fault::Severity;
use crate::rules::stack::Entries;

/// An id must be a name that formulas can read.
pub(super) fn usable_id(linker: &mut Linker<'_>, at: At<'_>) {
    note(linker, at, Severity::Error);
}

/// The ids of a section that no formula reads.
pub(super) fn readable_ids<T>(linker: &mut Linker<'_>, section: &'static str, list: &Entries<T>) {
    for (at, _) in entries(section, list) {
        note(linker, at, Severity::Warning);
    }
}

fn note(linker: &mut Linker<'_>, at: At<'_>, severity: Severity) {
    let id = at.id();
    let letters = "use small letters, digits and _, and start with a letter";
    let (severity, code, message, help) = match unusable(id) {
        Some(Unusable::Unit) => (
            severity,
            "unit-as-id",
            format!("{id} is a unit and can't be an id"),
            "give it a longer name",
        ),
        Some(Unusable::Reserved) => (
            severity,
            "id",
            format!("{id} is a word of the formula language"),
            "give it a longer name",
        ),
        Some(Unusable::Letters) => {
            let message = format!("{} can't be read as a name in formulas", id.escape_debug());
            (severity, "id", message, letters)
        }
        None if is_function(id) => {
            let message = format!("{id} is a function of the formula language too");
            (
                Severity::Warning,
                "id",
                message,
                "give it another name, so that nobody takes one for the other",
            )
        }
        None if id.contains(|letter: char| letter.is_ascii_uppercase()) => {
            (Severity::Warning, "id", format!("{id} has capital letters"), letters)
        }
        None => return,
    };
    linker.note(severity, code, &at.key(), message, "", help);
}
