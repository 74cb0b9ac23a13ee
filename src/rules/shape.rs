//! A YAML text to a type, with every mistake of shape at once: what is wrong is noted, blanked out
//! of the text, and the rest is read on.
//!
//! What the text means is left to those who own the type.

use std::ops::Range;

use serde::de::DeserializeOwned;

use super::fault::{Fault, Mark, Place, Severity};
use super::yaml::{Misread, Route, RouteStep, places, read};
use crate::formula::nearest;

/// The most mistakes of shape reported for one file.
const MOST_FAULTS: usize = 100;

/// A kind of file, as far as its messages need to know it.
#[derive(Debug, Clone, Copy)]
pub struct FileKind {
    /// In the plural: `rule files`.
    pub called: &'static str,
    /// What a key at the top is called: `section`.
    pub top_key: &'static str,
    /// The fields that the mapping at a route may have, where they are fixed.
    pub fields_at: fn(&[RouteStep]) -> Option<Vec<&'static str>>,
    /// Where a person finds what each field takes.
    pub more: &'static str,
}

/// What was read, and where it can't be trusted.
#[derive(Debug)]
pub struct Shaped<T> {
    /// None where the text is no YAML, or nothing at the top fits.
    pub value: Option<T>,
    /// Routes to what was left out.
    pub left_out: Vec<Route>,
}

/// Reads a text, noting every mistake of shape as a fault of the file with this number.
pub fn read_noting<T: DeserializeOwned>(
    kind: &FileKind,
    file: usize,
    text: &str,
    faults: &mut Vec<Fault>,
) -> Shaped<T> {
    let mut shaped = Shaped { value: None, left_out: Vec::new() };
    let mut text = text.to_owned();
    if let Err(at) = note_banned(kind, file, &text, &mut shaped.left_out, faults) {
        let message = match read::<T>(&text) {
            Err(Misread::Syntax { message, .. } | Misread::Shape { message, .. }) => message,
            Ok(_) => "this is no YAML".to_owned(),
        };
        faults.push(syntax_fault(file, &text, at, &message));
        return shaped;
    }
    blank_repeated(&mut text);
    for _ in 0..MOST_FAULTS {
        match read::<T>(&text) {
            Ok(value) => {
                shaped.value = Some(value);
                return shaped;
            }
            Err(Misread::Syntax { at, message }) => {
                // Behind a blanked mistake it is the blank that can't be read.
                if shaped.left_out.is_empty() {
                    faults.push(syntax_fault(file, &text, at, &message));
                }
                return shaped;
            }
            Err(Misread::Shape { route, message }) => {
                faults.push(shape_fault(kind, file, &route, &message));
                let blanked = blank(&mut text, &route);
                shaped.left_out.push(route);
                if !blanked {
                    return shaped;
                }
            }
        }
    }
    shaped
}

fn syntax_fault(file: usize, text: &str, at: usize, message: &str) -> Fault {
    let spaces = "indent with spaces, not with tabs";
    let (message, help) = if message.contains("tab character") {
        (message, spaces)
    } else if indented_with_a_tab(text, at) {
        ("a tab indents this line", spaces)
    } else if goes_on_behind_a_bracket(text, at) {
        ("a text goes on behind a bracket", "put the whole text in quotes")
    } else if message.contains("mapping values") {
        (message, "a text with a colon in it needs quotes: put it in quotes")
    } else {
        (message, "check the indentation, the colons and the quotes above this place")
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

fn indented_with_a_tab(text: &str, at: usize) -> bool {
    let (before, behind) = (text.get(..at).unwrap_or(""), text.get(at..).unwrap_or(""));
    let line = before.rfind('\n').map_or(before, |end| &before[end + 1..]);
    line.trim_start_matches(' ').starts_with('\t')
        || (line.trim().is_empty() && behind.trim_start_matches(' ').starts_with('\t'))
}

/// `says: {boost} too much.`: to YAML a mapping, and then it has no more to read.
fn goes_on_behind_a_bracket(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or("").trim_end_matches(' ');
    let line = before.rfind('\n').map_or(before, |end| &before[end + 1..]);
    before.ends_with(['}', ']']) && (line.contains(": {") || line.contains(": ["))
}

fn note_banned(
    kind: &FileKind,
    file: usize,
    text: &str,
    left_out: &mut Vec<Route>,
    faults: &mut Vec<Fault>,
) -> Result<(), usize> {
    let found = places(text)?;
    for (bytes, what) in &found.banned {
        faults.push(Fault {
            code: "banned-yaml",
            severity: Severity::Error,
            message: format!("{what} is not read in {}", kind.called),
            place: Place { file, route: Vec::new(), mark: Mark::Bytes(bytes.clone()) },
            label: String::new(),
            other: None,
            help: "write the value out; one document a file".to_owned(),
        });
    }
    for (route, first, second) in found.repeated {
        let key = last_key(&route).unwrap_or_default();
        left_out.push(route);
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

fn shape_fault(kind: &FileKind, file: usize, route: &Route, message: &str) -> Fault {
    let parent = route.split_last().map_or(&[][..], |(_, parent)| parent);
    let known = (kind.fields_at)(parent);
    let key = last_key(route);
    let unknown =
        key.as_deref().filter(|key| known.as_ref().is_some_and(|known| !known.contains(key)));
    if let (Some(key), Some(known)) = (unknown, &known) {
        let name = |letter: char| letter.is_alphanumeric() || letter == '_';
        let help = match nearest(key, known.iter().copied()) {
            _ if !key.chars().all(name) => {
                "a text with a comma in it needs quotes between { and }: put it in quotes"
                    .to_owned()
            }
            Some(near) => format!("did you mean {near}?"),
            None => format!("known here: {}", known.join(", ")),
        };
        let what = if parent.is_empty() { kind.top_key } else { "field" };
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
        kind.more
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

/// Overwrites the key and value at a route with spaces; whether anything was there.
fn blank(text: &mut String, route: &Route) -> bool {
    let Ok(found) = places(text) else { return false };
    let Some(value) = found.value(route) else { return false };
    let start = found.key(route).map_or(value.start, |key| key.start);
    // A value that isn't there stands at its key's colon, which goes with it.
    let bare_colon = value.is_empty() && text.as_bytes().get(value.end) == Some(&b':');
    overwrite(text, start..value.end.max(start) + usize::from(bare_colon))
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
