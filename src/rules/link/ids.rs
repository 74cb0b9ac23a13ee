//! Ids: what they may look like. In sections that formulas read a wrong one can't be used; in the
//! others it only reads badly.

use super::entries::entries;
use super::linker::{At, Linker};
use crate::formula::{Unusable, is_function, unusable};
use crate::rules::fault::{LinkFault, Severity};
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
    let id = at.id().to_owned();
    let fault = match unusable(&id) {
        Some(why) => {
            let fault = match why {
                Unusable::Unit => LinkFault::UnitAsId { id },
                Unusable::Reserved => LinkFault::ReservedWordAsId { id },
                Unusable::Letters => LinkFault::UnreadableId { id },
            };
            return linker.note_as(severity, &at.key(), fault);
        }
        None if is_function(&id) => LinkFault::FunctionAsId { id },
        None if id.contains(|letter: char| letter.is_ascii_uppercase()) => {
            LinkFault::CapitalId { id }
        }
        None => return,
    };
    linker.note(&at.key(), fault);
}
