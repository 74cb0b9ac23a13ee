//! What is wrong with a pack: a place and a kind, with a way out; and how it is drawn. The place
//! is a route of keys and indices; the bytes are looked up only when the fault is drawn.

use std::ops::Range;

use annotate_snippets::{Annotation, AnnotationKind, Level, Renderer, Snippet};

use super::yaml::{Places, Route, places};

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
#[derive(Debug, Clone)]
pub struct FileText {
    pub name: String,
    pub text: String,
}

/// All faults of a pack with the files they stand in.
#[derive(Debug, Clone, Default)]
pub struct Faults {
    pub files: Vec<FileText>,
    pub list: Vec<Fault>,
}

/// Where a fault stands, counted as an editor counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Position {
    pub file: String,
    pub line: usize,
    pub column: usize,
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

    /// Every fault drawn with its line, in the order of the files.
    #[must_use]
    pub fn draw(&self, colour: bool) -> Vec<String> {
        let found: Vec<Places> =
            self.files.iter().map(|file| places(&file.text).unwrap_or_default()).collect();
        self.list.iter().map(|fault| self.draw_one(fault, &found, colour)).collect()
    }

    /// File, line and column of every fault, in the order of [`Faults::list`].
    #[must_use]
    pub fn positions(&self) -> Vec<Position> {
        let found: Vec<Places> =
            self.files.iter().map(|file| places(&file.text).unwrap_or_default()).collect();
        self.list
            .iter()
            .map(|fault| {
                let bytes = self.bytes(&fault.place, &found);
                let file = self.files.get(fault.place.file);
                let before = file.and_then(|file| file.text.get(..bytes.start)).unwrap_or("");
                let line_start = before.rfind('\n').map_or(0, |at| at + 1);
                Position {
                    file: file.map(|file| file.name.clone()).unwrap_or_default(),
                    line: before.matches('\n').count() + 1,
                    column: before[line_start..].chars().count() + 1,
                }
            })
            .collect()
    }

    fn draw_one(&self, fault: &Fault, found: &[Places], colour: bool) -> String {
        let level = match fault.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
        };
        let title = level.primary_title(&*fault.message).id(fault.code);
        let help = Level::HELP.message(&*fault.help);
        let mut group = title.elements(self.snippets(fault, found));
        group = group.element(help);
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        renderer.render(&[group])
    }

    /// The line with its mark, and the other side of a clash with its own.
    fn snippets<'a>(
        &'a self,
        fault: &'a Fault,
        found: &[Places],
    ) -> Vec<Snippet<'a, Annotation<'a>>> {
        let Some(file) = self.files.get(fault.place.file) else { return Vec::new() };
        let span = self.bytes(&fault.place, found);
        let primary = AnnotationKind::Primary.span(span).label(&*fault.label);
        let mut snippets = vec![Snippet::source(&*file.text).path(&*file.name).annotation(primary)];
        if let Some((place, label)) = &fault.other {
            let context = AnnotationKind::Context.span(self.bytes(place, found)).label(&**label);
            if place.file == fault.place.file {
                snippets = snippets
                    .into_iter()
                    .map(|snippet| snippet.annotation(context.clone()))
                    .collect();
            } else if let Some(other) = self.files.get(place.file) {
                snippets.push(Snippet::source(&*other.text).path(&*other.name).annotation(context));
            }
        }
        snippets
    }

    /// The bytes of a place, always inside the file and on letter boundaries: the drawing library
    /// takes no others.
    fn bytes(&self, place: &Place, found: &[Places]) -> Range<usize> {
        let Some(file) = self.files.get(place.file) else { return 0..0 };
        let places = found.get(place.file);
        let value = || places.and_then(|places| places.value(&place.route));
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
        clamp(&file.text, raw)
    }
}

/// Where nothing stands at the route itself (a missing field), the entry's key is marked.
fn nearest_parent(
    places: Option<&Places>,
    route: &[super::yaml::RouteStep],
) -> Option<Range<usize>> {
    let places = places?;
    (0..route.len()).rev().find_map(|length| {
        let parent = route.get(..length)?;
        places.key(parent).or_else(|| places.value(parent))
    })
}

/// Bytes of a scalar's content as bytes of the file: past the quote, or found again where the
/// scalar is folded or escaped.
fn inside(text: &str, value: &Range<usize>, inner: &Range<usize>) -> Range<usize> {
    let Some(raw) = text.get(value.clone()) else { return value.clone() };
    let quoted = raw.starts_with(['"', '\'']);
    let plain = !quoted && !raw.starts_with(['|', '>']);
    let body = if quoted { raw.get(1..raw.len().saturating_sub(1)).unwrap_or("") } else { raw };
    let escaped = body.contains(['\\', '\n']) || (raw.starts_with('\'') && body.contains("''"));
    if (plain || quoted) && !escaped && inner.end <= body.len() {
        let start = value.start + usize::from(quoted);
        return start + inner.start..start + inner.end;
    }
    value.clone()
}

fn clamp(text: &str, bytes: Range<usize>) -> Range<usize> {
    let mut start = bytes.start.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = bytes.end.clamp(start, text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end
}
