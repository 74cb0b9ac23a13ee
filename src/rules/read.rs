//! The text of a rule file to what is written in it.

use std::collections::HashSet;

use super::explain::fields_at;
use super::fault::{Fault, FileText};
use super::shape::{FileKind, read_noting};
use super::written::File;
use super::yaml::{Route, RouteStep, read};

const RULE_FILES: FileKind = FileKind {
    called: "rule files",
    top_key: "section",
    fields_at,
    more: "rules/README.md lists what each field takes",
};

/// What a file holds, and the entries that can't be trusted because part of them was unreadable.
#[derive(Debug, Default)]
pub(super) struct ReadFile {
    pub(super) file: File,
    /// Section and id of entries with a mistake of shape.
    pub(super) spoilt: HashSet<(String, String)>,
}

/// Reads a file that is known to be sound, without looking for where anything stands.
pub(super) fn read_quickly(text: &str) -> Option<File> {
    read(text).ok()
}

/// Reads a file, noting every mistake.
pub(super) fn read_fully(index: usize, file: &FileText, faults: &mut Vec<Fault>) -> ReadFile {
    let shaped = read_noting(&RULE_FILES, index, &file.text, faults);
    ReadFile {
        file: shaped.value.unwrap_or_default(),
        spoilt: shaped.left_out.iter().filter_map(entry_at).collect(),
    }
}

/// The section and id of the entry that a route leads into.
fn entry_at(route: &Route) -> Option<(String, String)> {
    match route.as_slice() {
        [RouteStep::Key(section), RouteStep::Key(id), ..] => Some((section.clone(), id.clone())),
        _ => None,
    }
}
