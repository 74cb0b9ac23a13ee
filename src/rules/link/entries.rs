//! The entries of a section, each with where it stands.

use super::linker::At;
use crate::rules::stack::Entries;

/// Entries with where they stand, in order.
pub(super) fn entries<'a, T>(
    section: &'static str,
    entries: &'a Entries<T>,
) -> impl Iterator<Item = (At<'a>, &'a T)> + use<'a, T> {
    entries.iter().map(move |(id, entry)| (At::new(section, id, entry), &entry.written))
}
