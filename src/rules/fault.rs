//! What is wrong with a pack: a place and a kind, with a way out; and how it is drawn. The place
//! is a route of keys and indices; the bytes are looked up only when the fault is drawn.

use std::ops::Range;

use super::yaml::{Places, Route, RouteStep, places};
use crate::formula::{self, Headline};

/// Whether the pack can't be used, or is only poorer for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    Error,
    Warning,
}

/// What is marked at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mark {
    Key,
    Value,
    /// Bytes of the value's own text, as in a formula.
    Inside(Range<usize>),
    /// Bytes of the file, where no route leads.
    Bytes(Range<usize>),
}

/// Where in which file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    pub file: usize,
    pub route: Route,
    pub mark: Mark,
}

/// One fault of a pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// A short name of the kind of fault, stable: `unknown-name`.
    pub code: &'static str,
    pub severity: Severity,
    pub message: String,
    pub place: Place,
    /// What stands at the mark.
    pub label: String,
    /// The other side of a clash.
    pub other: Option<(Place, String)>,
    /// The way out.
    pub help: String,
}

/// A rule file: its name as shown, and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileText {
    pub name: String,
    pub text: String,
}

/// The most faults that are drawn: nobody mends more in one go, and each is drawn from the text of
/// its whole file.
pub const MOST_DRAWN: usize = 100;

/// Lines are drawn until they came to so many bytes: a whole file may be one line.
const MOST_DRAWN_FROM: usize = 1 << 20;

/// All faults of a pack with the files they stand in.
#[derive(Debug, Clone, Default)]
pub struct Faults {
    pub files: Vec<FileText>,
    pub list: Vec<Fault>,
}

/// Where something stands, counted as an editor counts: lines and letters from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Position {
    pub file: String,
    pub line: usize,
    pub column: usize,
    /// Line and column behind its last letter.
    pub end: (usize, usize),
}

impl Faults {
    /// Whether any fault makes the pack unusable.
    #[must_use]
    pub fn any_error(&self) -> bool {
        self.list.iter().any(|fault| fault.severity == Severity::Error)
    }

    /// How many of one severity.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.list.iter().filter(|fault| fault.severity == severity).count()
    }

    /// The faults drawn with their lines, errors first, at most [`MOST_DRAWN`].
    #[must_use]
    pub fn draw(&self, colour: bool) -> Vec<String> {
        let found: Vec<Places> =
            self.files.iter().map(|file| places(&file.text).unwrap_or_default()).collect();
        let mut drawn = Vec::new();
        let mut read = 0;
        for fault in self.list.iter().take(MOST_DRAWN) {
            drawn.push(self.draw_one(fault, &found, colour));
            read += self.line_length(&fault.place, &found);
            if read > MOST_DRAWN_FROM {
                break;
            }
        }
        drawn
    }

    /// File, line and column of every fault, in the order of [`Faults::list`].
    #[must_use]
    pub fn positions(&self) -> Vec<Position> {
        self.positions_of(self.list.iter().map(|fault| &fault.place))
    }

    /// File, line and column of places in these files.
    #[must_use]
    pub fn positions_of<'p>(&self, wanted: impl IntoIterator<Item = &'p Place>) -> Vec<Position> {
        let found: Vec<Places> =
            self.files.iter().map(|file| places(&file.text).unwrap_or_default()).collect();
        wanted
            .into_iter()
            .map(|place| {
                let bytes = self.bytes(place, &found);
                let file = self.files.get(place.file);
                let text = file.map_or("", |file| file.text.as_str());
                let (line, column) = line_and_column(text, bytes.start);
                Position {
                    file: file.map(|file| file.name.clone()).unwrap_or_default(),
                    line,
                    column,
                    end: line_and_column(text, bytes.end),
                }
            })
            .collect()
    }

    /// How long the line is that a place stands in.
    fn line_length(&self, place: &Place, found: &[Places]) -> usize {
        let Some(file) = self.files.get(place.file) else { return 0 };
        let at = self.bytes(place, found).start;
        let (before, behind) = file.text.split_at(at);
        let start = before.rfind('\n').map_or(0, |end| end + 1);
        at - start + behind.find('\n').unwrap_or(behind.len())
    }

    fn draw_one(&self, fault: &Fault, found: &[Places], colour: bool) -> String {
        let headline = Headline {
            warning: fault.severity == Severity::Warning,
            code: Some(fault.code),
            message: &fault.message,
        };
        let other = fault.other.iter().map(|(place, label)| (place, label.as_str()));
        let marks: Vec<formula::Mark<'_>> = std::iter::once((&fault.place, fault.label.as_str()))
            .chain(other)
            .filter_map(|(place, label)| {
                let file = self.files.get(place.file)?;
                let span = self.bytes(place, found);
                Some(formula::Mark { name: Some(&file.name), text: &file.text, span, label })
            })
            .collect();
        formula::draw(headline, &marks, &fault.help, colour)
    }

    /// The bytes of a place, always inside the file and on letter boundaries.
    fn bytes(&self, place: &Place, found: &[Places]) -> Range<usize> {
        let Some(file) = self.files.get(place.file) else { return 0..0 };
        let places = found.get(place.file);
        let value = || {
            let places = places?;
            places.value(&place.route).or_else(|| written_alone(places, &place.route))
        };
        let raw = match &place.mark {
            Mark::Bytes(bytes) => bytes.clone(),
            Mark::Key => places
                .and_then(|places| places.key(&place.route))
                .or_else(value)
                .or_else(|| nearest_parent(places, &place.route))
                .unwrap_or(0..0),
            Mark::Value => value().or_else(|| nearest_parent(places, &place.route)).unwrap_or(0..0),
            Mark::Inside(inner) => value()
                .map(|value| inside(&file.text, &value, inner))
                .or_else(|| nearest_parent(places, &place.route))
                .unwrap_or(0..0),
        };
        first_line(&file.text, formula::on_letters(&file.text, &raw))
    }
}

/// A list of one may be written without its brackets: its item is then the value itself.
fn written_alone(places: &Places, route: &[RouteStep]) -> Option<Range<usize>> {
    match route.split_last()? {
        (RouteStep::Index(0), list) => places.value(list),
        _ => None,
    }
}

/// Line and column, from 1, of a byte of a text.
fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or("");
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

/// Where nothing stands at the route itself (a missing field), the entry's key is marked.
fn nearest_parent(places: Option<&Places>, route: &[RouteStep]) -> Option<Range<usize>> {
    let places = places?;
    // The file as a whole is no place.
    (1..route.len()).rev().find_map(|length| {
        let parent = route.get(..length)?;
        places.key(parent).or_else(|| places.value(parent))
    })
}

/// What is marked goes no further than its first line: where a long entry starts is place enough.
fn first_line(text: &str, bytes: Range<usize>) -> Range<usize> {
    let marked = text.get(bytes.clone()).unwrap_or("");
    let line = marked.lines().next().unwrap_or("").trim_end();
    bytes.start..bytes.start + line.len()
}

/// Bytes of a scalar's content as bytes of the file: past the quote, and across the line breaks of
/// a folded scalar. One with escapes is marked whole.
fn inside(text: &str, value: &Range<usize>, inner: &Range<usize>) -> Range<usize> {
    let Some(raw) = text.get(value.clone()) else { return value.clone() };
    let quoted = raw.starts_with(['"', '\'']);
    let body = if quoted { raw.get(1..raw.len().saturating_sub(1)).unwrap_or("") } else { raw };
    if body.is_empty() || (raw.starts_with('"') && body.contains('\\')) {
        return value.clone();
    }
    let places = content_places(body, raw.starts_with('\''));
    match (places.get(inner.start), places.get(inner.end)) {
        (Some(from), Some(to)) => {
            let start = value.start + usize::from(quoted);
            start + from..start + to
        }
        _ => value.clone(),
    }
}

/// Where each byte of a scalar's content stands in its text: a line break with the indentation
/// behind it is one byte, and so is a doubled quote in single quotes.
fn content_places(body: &str, single_quoted: bool) -> Vec<usize> {
    let mut places = Vec::with_capacity(body.len() + 1);
    let mut at = 0;
    while let Some(rest) = body.as_bytes().get(at..).filter(|rest| !rest.is_empty()) {
        places.push(at);
        at += match rest {
            [b'\n', after @ ..] => {
                1 + after.iter().take_while(|byte| byte.is_ascii_whitespace()).count()
            }
            [b'\'', b'\'', ..] if single_quoted => 2,
            _ => 1,
        };
    }
    places.push(body.len());
    places
}

#[cfg(test)]
mod tests {
    use super::inside;

    /// What is marked of `scalar`, when `inner` is at fault in its content `content`.
    fn marked<'a>(scalar: &'a str, content: &str, inner: &str) -> &'a str {
        let at = content.find(inner).expect("inner stands in the content");
        &scalar[inside(scalar, &(0..scalar.len()), &(at..at + inner.len()))]
    }

    #[test]
    fn a_formula_is_marked_at_the_spot_however_the_file_writes_it() {
        assert_eq!(marked("1 + nope", "1 + nope", "nope"), "nope");
        assert_eq!(marked("\"1 + nope\"", "1 + nope", "nope"), "nope");
        assert_eq!(marked("'a''s + nope'", "a's + nope", "nope"), "nope");
        assert_eq!(marked("1 +\n      nope - 2", "1 + nope - 2", "nope"), "nope");
        assert_eq!(marked("1 +\n      nope - 2", "1 + nope - 2", "1 + nope"), "1 +\n      nope");
    }

    #[test]
    fn a_scalar_with_escapes_is_marked_whole() {
        assert_eq!(marked("\"1\\t+ nope\"", "1\t+ nope", "nope"), "\"1\\t+ nope\"");
    }
}
