//! The text of rule files to what is written in them, with every mistake of shape at once: what is
//! wrong is noted, blanked out of the text, and the rest is read on.

use std::collections::HashSet;
use std::ops::Range;

use super::fault::{Fault, FileText, Mark, Place, Severity};
use super::fields::fields_at;
use super::written::File;
use super::yaml::{Misread, Route, RouteStep, places, read};
use crate::formula::nearest;

/// The most mistakes of shape reported for one file.
const MOST_FAULTS: usize = 100;

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
    let mut out = ReadFile::default();
    let mut text = file.text.clone();
    if let Err(at) = look_for_banned(index, &text, &mut out, faults) {
        let message = match read::<File>(&text) {
            Err(Misread::Syntax { message, .. } | Misread::Shape { message, .. }) => message,
            Ok(_) => "this is no YAML".to_owned(),
        };
        faults.push(syntax_fault(index, at, &message));
        return out;
    }
    blank_repeated(&mut text);
    for _ in 0..MOST_FAULTS {
        match read::<File>(&text) {
            Ok(file) => {
                out.file = file;
                return out;
            }
            Err(Misread::Syntax { at, message }) => {
                faults.push(syntax_fault(index, at, &message));
                return out;
            }
            Err(Misread::Shape { route, message }) => {
                faults.push(shape_fault(index, &route, &message));
                spoil(&mut out, &route);
                if !blank(&mut text, &route) {
                    return out;
                }
            }
        }
    }
    out
}

fn syntax_fault(file: usize, at: usize, message: &str) -> Fault {
    let help = if message.contains("mapping values") {
        "a text with a colon in it needs quotes: put it in quotes"
    } else if message.contains("tab") {
        "indent with spaces, not with tabs"
    } else {
        "check the indentation, the colons and the quotes above this place"
    };
    Fault {
        code: "no-yaml",
        severity: Severity::Error,
        message: format!("the file can't be read as YAML: {message}"),
        place: Place { file, route: Vec::new(), mark: Mark::Bytes(at..at + 1) },
        label: "the reader gave up here".to_owned(),
        other: None,
        help: help.to_owned(),
    }
}

fn look_for_banned(
    file: usize,
    text: &str,
    out: &mut ReadFile,
    faults: &mut Vec<Fault>,
) -> Result<(), usize> {
    let found = places(text)?;
    for (bytes, what) in &found.banned {
        faults.push(Fault {
            code: "banned-yaml",
            severity: Severity::Error,
            message: format!("{what} is not read in rule files"),
            place: Place { file, route: Vec::new(), mark: Mark::Bytes(bytes.clone()) },
            label: String::new(),
            other: None,
            help: "write the value out; one document a file".to_owned(),
        });
    }
    for (route, first, second) in found.repeated {
        let key = last_key(&route).unwrap_or_default();
        spoil(out, &route);
        faults.push(Fault {
            code: "repeated-key",
            severity: Severity::Error,
            message: format!("{key} stands twice in one mapping"),
            place: Place { file, route: Vec::new(), mark: Mark::Bytes(second) },
            label: "the second".to_owned(),
            other: Some((
                Place { file, route: Vec::new(), mark: Mark::Bytes(first) },
                "the first".to_owned(),
            )),
            help: "keep one of the two, or rename one".to_owned(),
        });
    }
    Ok(())
}

fn shape_fault(file: usize, route: &Route, message: &str) -> Fault {
    let parent = route.split_last().map_or(&[][..], |(_, parent)| parent);
    let known = fields_at(parent);
    let key = last_key(route);
    let unknown = key.as_deref().filter(|key| known.is_some_and(|known| !known.contains(key)));
    if let (Some(key), Some(known)) = (unknown, known) {
        let help = match nearest(key, known.iter().copied()) {
            Some(near) => format!("did you mean {near}?"),
            None => format!("known here: {}", known.join(", ")),
        };
        let what = if parent.is_empty() { "section" } else { "field" };
        return Fault {
            code: "unknown-field",
            severity: Severity::Error,
            message: format!("unknown {what} {key}"),
            place: Place { file, route: route.clone(), mark: Mark::Key },
            label: "not known".to_owned(),
            other: None,
            help,
        };
    }
    let help = if message.contains("map, expected a string") {
        "a text that starts with { or holds a colon needs quotes: put it in quotes"
    } else if message.contains("expected a sequence") {
        "write a list: [first, second]"
    } else {
        "rules/README.md lists what each field takes"
    };
    Fault {
        code: "wrong-shape",
        severity: Severity::Error,
        message: in_our_words(message),
        place: Place { file, route: route.clone(), mark: Mark::Value },
        label: "here".to_owned(),
        other: None,
        help: help.to_owned(),
    }
}

/// serde's words for shapes are Rust's; these are a rule author's.
fn in_our_words(message: &str) -> String {
    let mut text = message.replace("invalid type: ", "wrong kind of value: ");
    for (theirs, ours) in [
        ("a sequence", "a list"),
        ("sequence", "a list"),
        ("a map", "a mapping"),
        ("unit value", "nothing"),
        ("a string", "a text"),
        ("integer ", "the number "),
        ("floating point ", "the number "),
        ("string ", "the text "),
        ("struct ", "the fields of a "),
    ] {
        text = text.replace(theirs, ours);
    }
    text.replace(": map,", ": a mapping,")
}

fn last_key(route: &Route) -> Option<String> {
    match route.last()? {
        RouteStep::Key(key) => Some(key.clone()),
        RouteStep::Index(_) => None,
    }
}

fn spoil(out: &mut ReadFile, route: &Route) {
    if let [RouteStep::Key(section), RouteStep::Key(id), ..] = route.as_slice() {
        out.spoilt.insert((section.clone(), id.clone()));
    }
}

/// Overwrites the key and value at a route with spaces; whether anything was there.
fn blank(text: &mut String, route: &Route) -> bool {
    let Ok(found) = places(text) else { return false };
    let Some(value) = found.value(route) else { return false };
    let start = found.key(route).map_or(value.start, |key| key.start);
    overwrite(text, start..value.end.max(start))
}

fn overwrite(text: &mut String, bytes: Range<usize>) -> bool {
    let Some(part) = text.get(bytes.clone()) else { return false };
    if part.trim().is_empty() {
        return false;
    }
    let spaces: String = part.bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }).collect();
    text.replace_range(bytes, &spaces);
    true
}

/// Takes the later of two equal keys out, so that the rest can be read.
fn blank_repeated(text: &mut String) {
    for _ in 0..MOST_FAULTS {
        let Ok(found) = places(text) else { return };
        let Some((route, _, second)) = found.repeated.first() else { return };
        // The value found under the route is the last one's.
        let end = found.value(route).map_or(second.end, |value| value.end.max(second.end));
        if !overwrite(text, second.start..end) {
            return;
        }
    }
}
