//! A YAML text to a type, with every mistake of shape at once: what is wrong is noted, blanked out
//! of the text, and the rest is read on.
//!
//! What the text means is left to those who own the type.

use std::ops::Range;

use serde::de::DeserializeOwned;

use super::fault::{Fault, Mark, Place, ShapeFault, did_you_mean};
use super::unreadable::unreadable_fault;
use super::yaml::{
    COMPOUND_KEY, Misread, Places, Route, RouteStep, Stop, Why, depth, places, read,
};
use crate::formula::nearest;

/// The most mistakes of shape reported for one file.
const MAX_FAULTS: usize = 100;

/// Each mistake of shape costs one more reading of the text. So many bytes are read in all.
const MAX_READ_BYTES: usize = 4 << 20;

/// How often a text may be read.
fn rounds(text: &str) -> usize {
    (MAX_READ_BYTES / text.len().max(1)).clamp(1, MAX_FAULTS)
}

/// The most open brackets that the reader of values is let loose on in a text that is no YAML.
const MAX_BRACKETS: usize = 100;

/// A kind of file, as far as its messages need to know it.
#[derive(Debug, Clone, Copy)]
pub struct FileKind {
    /// In the plural: `rule files`.
    pub called: &'static str,
    /// What a key at the top is called: `section`.
    pub top_key: &'static str,
    /// The fields that the mapping at a route may have, where they are fixed.
    pub fields_at: fn(&[RouteStep]) -> Option<Vec<&'static str>>,
    /// Fields that were called otherwise before: the old name and the new.
    pub renamed: &'static [(&'static str, &'static str)],
    /// What to do where the file as a whole has the wrong shape.
    pub opening: &'static str,
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
    /// Where everything stands in the text as it was; none where it is no YAML.
    pub places: Option<Places>,
}

/// Reads a text, noting every mistake of shape as a fault of the file with this number.
pub fn read_noting<T: DeserializeOwned>(
    kind: &FileKind,
    file: usize,
    text: &str,
    faults: &mut Vec<Fault>,
) -> Shaped<T> {
    let mut shaped = Shaped { value: None, left_out: Vec::new(), places: None };
    let mut text = text.to_owned();
    let found = match places(&text) {
        Ok(found) => found,
        Err(stop) => {
            let stop = in_the_words_of_the_reader::<T>(&text, stop);
            faults.push(unreadable_fault(file, &text, &stop));
            return shaped;
        }
    };
    let second_document = found.second_document;
    note_banned(kind, file, &found, &mut shaped.left_out, faults);
    let repeated = !found.repeated.is_empty();
    shaped.places = Some(found);
    if let Some(start) = second_document {
        // Read on as if the line were not there: what follows is told too.
        overwrite(&mut text, start..start + 3);
    }
    if repeated {
        blank_repeated(&mut text);
    }
    for _ in 0..rounds(&text) {
        match read::<T>(&text) {
            Ok(value) => {
                shaped.value = Some(value);
                return shaped;
            }
            Err(Misread::Syntax { at, message }) => {
                // Behind a blanked mistake it is the blank that can't be read.
                if shaped.left_out.is_empty() {
                    let stop = Stop { at, why: Why::Syntax(message) };
                    faults.push(unreadable_fault(file, &text, &stop));
                }
                return shaped;
            }
            Err(Misread::Shape { route, message, found }) => {
                // That merge keys and keys of several parts are not read was said before.
                let told = last_key(&route).as_deref() == Some("<<")
                    || (message.contains("expected a string")
                        && found.banned.iter().any(|(_, what)| *what == COMPOUND_KEY));
                if !told {
                    faults.push(shape_fault(kind, file, (&text, &found), &route, &message));
                }
                let blanked = blank(&mut text, &route, &found);
                shaped.left_out.push(route);
                if !blanked {
                    return shaped;
                }
            }
        }
    }
    shaped
}

/// Two libraries read YAML; the one that reads values has the better words for most mistakes.
fn in_the_words_of_the_reader<T: DeserializeOwned>(text: &str, stop: Stop) -> Stop {
    let Why::Syntax(_) = stop.why else { return stop };
    // It goes through all open brackets for each further one.
    if depth(text) > MAX_BRACKETS {
        return stop;
    }
    match read::<T>(text) {
        Err(Misread::Syntax { message, .. }) => Stop { why: Why::Syntax(message), ..stop },
        _ => stop,
    }
}

fn note_banned(
    kind: &FileKind,
    file: usize,
    found: &Places,
    left_out: &mut Vec<Route>,
    faults: &mut Vec<Fault>,
) {
    let place =
        |bytes: &Range<usize>| Place { file, route: Vec::new(), mark: Mark::Bytes(bytes.clone()) };
    let mut told: Vec<&str> = Vec::new();
    for (bytes, what) in &found.banned {
        // Who writes one often writes many; the first of a kind says it all.
        if told.contains(what) {
            continue;
        }
        told.push(what);
        let banned = ShapeFault::Banned { what, called: kind.called };
        faults.push(Fault::new(banned, place(bytes)));
    }
    // What a second document gives again was told with it.
    let end = found.second_document.unwrap_or(usize::MAX);
    for (route, first, second) in found.repeated.iter().take(MAX_FAULTS) {
        let key = last_key(route).unwrap_or_default();
        left_out.push(route.clone());
        if second.start > end {
            continue;
        }
        let repeated = Fault::new(ShapeFault::RepeatedKey { key }, place(second));
        faults.push(repeated.against(place(first), "the first"));
    }
}

fn shape_fault(
    kind: &FileKind,
    file: usize,
    read: (&str, &Places),
    route: &Route,
    message: &str,
) -> Fault {
    let parent = route.split_last().map_or(&[][..], |(_, parent)| parent);
    let known = (kind.fields_at)(parent);
    let key = last_key(route);
    let unknown =
        key.as_deref().filter(|key| known.as_ref().is_some_and(|known| !known.contains(key)));
    if let (Some(key), Some(known)) = (unknown, &known) {
        let what = if parent.is_empty() { kind.top_key } else { "field" };
        let (text, found) = read;
        let before = found.key(route).and_then(|key| text.get(..key.start)).unwrap_or("");
        let help = unknown_help(kind, key, known, before);
        let unknown = ShapeFault::UnknownField { what, key: key.to_owned(), help };
        return Fault::new(unknown, Place { file, route: route.clone(), mark: Mark::Key });
    }
    let help = shape_help(kind, read, route, message);
    let wrong = ShapeFault::WrongShape { message: in_our_words(message, kind.top_key), help };
    Fault::new(wrong, Place { file, route: route.clone(), mark: Mark::Value })
}

fn unknown_help(kind: &FileKind, key: &str, known: &[&str], before: &str) -> String {
    if let Some((_, now)) =
        kind.renamed.iter().find(|(old, now)| *old == key && known.contains(now))
    {
        return format!("it is called {now} now: write {now}:");
    }
    let name = |letter: char| letter.is_alphanumeric() || letter == '_';
    let digit = |letter: char| letter.is_ascii_digit();
    if key.starts_with(digit) && before.strip_suffix(',').is_some_and(|rest| rest.ends_with(digit))
    {
        return "a comma separates fields between { and }: write decimals with a point".to_owned();
    }
    if !key.chars().all(name) {
        let help = "a text with a comma in it needs quotes between { and }: put it in quotes";
        return help.to_owned();
    }
    let near = nearest(key, known.iter().copied());
    did_you_mean(near, format!("known here: {}", known.join(", ")))
}

fn shape_help(
    kind: &FileKind,
    (text, found): (&str, &Places),
    route: &Route,
    message: &str,
) -> String {
    let value = found.value(route).and_then(|value| text.get(value)).unwrap_or("");
    let dash = value.strip_prefix('-').is_some_and(|rest| !rest.starts_with(' '));
    let help = if message.contains("map, expected a string") {
        "a text that starts with { or holds a colon needs quotes: put it in quotes"
    } else if message.contains("sequence, expected a string") {
        "a text that starts with [ needs quotes: put it in quotes"
    } else if message.contains("expected a sequence") && dash {
        "put a space after each dash"
    } else if message.contains("map, expected a sequence") {
        "write a list: start each entry with a dash and a space"
    } else if message.contains("expected a sequence") {
        "write a list: [first, second]"
    } else if route.is_empty() {
        kind.opening
    } else if message.contains("sequence, expected") {
        "give each entry a name and a colon instead of the dash"
    } else if message.contains("expected a map") || message.contains("expected struct") {
        return format!("write each field with a colon and a space: {}", kind.more);
    } else {
        kind.more
    };
    help.to_owned()
}

/// serde's words for shapes are Rust's; these are a rule author's.
fn in_our_words(message: &str, top_key: &str) -> String {
    let sections = format!("{top_key}s");
    let mut text = message.replace("invalid type: ", "wrong kind of value: ");
    text = text.replace("struct File", &sections).replace("struct Written", &sections);
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
        ("of a Answer", "of an Answer"),
        ("of a Instrument", "of an Instrument"),
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
fn blank(text: &mut String, route: &Route, found: &Places) -> bool {
    let Some(value) = found.value(route) else { return false };
    let start = found.key(route).map_or(value.start, |key| key.start);
    // A value that isn't there stands at its key's colon, which goes with it.
    let bare_colon = value.is_empty() && text.as_bytes().get(value.end) == Some(&b':');
    let end = value.end.max(start) + usize::from(bare_colon);
    let comma = comma_of(text, start..end);
    let blanked = overwrite(text, start..end);
    if let Some(comma) = comma.filter(|_| blanked) {
        overwrite(text, comma..comma + 1);
    }
    blanked
}

/// The comma behind an entry between brackets, where one stands before it too: of the two only one
/// may stay.
fn comma_of(text: &str, entry: Range<usize>) -> Option<usize> {
    let behind = text.get(entry.end..)?;
    let comma = entry.end + behind.find(|letter: char| !letter.is_whitespace())?;
    let before = text.get(..entry.start)?.trim_end();
    let between = before.ends_with(['{', '[', ',']);
    (between && text.as_bytes().get(comma) == Some(&b',')).then_some(comma)
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
    for _ in 0..rounds(text) {
        let Ok(found) = places(text) else { return };
        let Some((route, _, second)) = found.repeated.first() else { return };
        // The value found under the route is the last one's.
        let end = found.value(route).map_or(second.end, |value| value.end.max(second.end));
        let comma = comma_of(text, second.start..end);
        if let Some(comma) = comma {
            overwrite(text, comma..comma + 1);
        }
        if !overwrite(text, second.start..end) {
            return;
        }
    }
}
