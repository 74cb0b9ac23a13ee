//! The text of a rule file to what is written in it.

use std::collections::HashSet;

use super::explain::fields_at;
use super::fault::{Fault, FileText, Mark, Place, ShapeFault};
use super::shape::{FileKind, read_noting};
use super::written::File;
use super::yaml::{Places, Route, RouteStep};
use crate::formula::nearest;
use crate::text::{Unclean, unclean};

const RULE_FILES: FileKind = FileKind {
    called: "rule files",
    top_key: "section",
    opening: "start with a section name and a colon, for example questions:",
    fields_at,
    renamed: &[("stales", "invalidates")],
    more: "rules/README.md says what each field takes",
};

/// What a file holds, and the entries that can't be trusted because part of them was unreadable.
#[derive(Debug, Default)]
pub(super) struct ReadFile {
    pub(super) file: File,
    /// Section and id of entries with a mistake of shape.
    pub(super) spoilt: HashSet<(String, String)>,
}

/// Reads a file, noting every mistake.
pub(super) fn read_fully(index: usize, file: &FileText, faults: &mut Vec<Fault>) -> ReadFile {
    let before = faults.len();
    let shaped = read_noting(&RULE_FILES, index, &file.text, faults);
    let mut spoilt: HashSet<_> = shaped.left_out.iter().filter_map(entry_at).collect();
    if let Some(found) = shaped.places {
        for route in &shaped.left_out {
            spoilt.extend(lost_with(route, &found));
        }
        if shaped.value.is_none() {
            // Too much is wrong: nothing of it is known but which ids it gives.
            spoilt.extend(found.routes().filter_map(entry_at));
        }
        faults.extend(unclean_texts(index, &file.text, &found));
        if found.is_empty() && faults.len() == before {
            faults.push(empty(index));
        }
    }
    ReadFile { file: shaped.value.unwrap_or_default(), spoilt }
}

/// The section and id of the entry that a route leads into.
fn entry_at(route: &Route) -> Option<(String, String)> {
    match route.as_slice() {
        [RouteStep::Key(section), RouteStep::Key(id), ..] => Some((section.clone(), id.clone())),
        _ => None,
    }
}

/// The entries of a section that was left out as a whole, its name being misspelt or given twice:
/// that they are named elsewhere is no second mistake.
fn lost_with(route: &Route, found: &Places) -> Vec<(String, String)> {
    let [RouteStep::Key(written)] = route.as_slice() else { return Vec::new() };
    let sections = fields_at(&[]).unwrap_or_default();
    let Some(meant) = nearest(written, sections) else { return Vec::new() };
    let repeated = found.repeated.iter().find(|(known, _, _)| known == route);
    let from = repeated.map_or(0, |(_, _, second)| second.start);
    let ids = found.under(route).filter(|(_, key)| key.start >= from);
    ids.map(|(id, _)| (meant.to_owned(), id.to_owned())).collect()
}

/// Texts that would steer the screen or hide something.
fn unclean_texts(file: usize, text: &str, found: &Places) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (bytes, content) in found.unclean.iter().take(MAX_UNCLEAN) {
        let wrong = |letter: char| unclean(letter).filter(|_| !matches!(letter, '\n' | '\t'));
        let steering = content.chars().find(|letter| wrong(*letter) == Some(Unclean::Steers));
        let hidden = || content.chars().find(|letter| wrong(*letter).is_some());
        let Some(letter) = steering.or_else(hidden) else { continue };
        // Written as an escape, it is the escape that is marked by the whole text.
        let raw = text.get(bytes.clone()).and_then(|raw| raw.find(letter));
        let mark = raw.map_or(bytes.clone(), |at| {
            let start = bytes.start + at;
            start..start + letter.len_utf8()
        });
        let kind = if steering.is_some() {
            ShapeFault::SteeringLetter { letter }
        } else {
            ShapeFault::UnseenLetter { letter }
        };
        faults.push(Fault::new(kind, Place { file, route: Vec::new(), mark: Mark::Bytes(mark) }));
    }
    faults
}

/// The most such texts reported for one file.
const MAX_UNCLEAN: usize = 20;

fn empty(file: usize) -> Fault {
    let place = Place { file, route: Vec::new(), mark: Mark::Bytes(0..0) };
    Fault::new(ShapeFault::EmptyFile, place)
}
