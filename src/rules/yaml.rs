//! The one place that reads with the YAML libraries. serde_yaml (archived by its author, no advisory
//! against it) turns text into types; granit-parser tells where in the text each key and value
//! stands, which is wanted only once a fault is drawn.

use std::collections::HashMap;
use std::ops::Range;

use granit_parser::{ErrorKind, Event, Parser, options};
use serde::de::DeserializeOwned;

pub use super::yaml_writer::{WriteError, write};
use crate::text::is_clean;

/// One step of a route through a file.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum RouteStep {
    Key(String),
    Index(usize),
}

/// The way from the top of a file to a value: keys and indices.
pub type Route = Vec<RouteStep>;

/// Why a text could not be turned into a type.
#[derive(Debug, Clone)]
pub enum Misread {
    /// It is no YAML; byte offset where the reader gave up.
    Syntax { at: usize, message: String },
    /// A value has the wrong shape.
    Shape { route: Route, message: String, found: Box<Places> },
}

/// Where and why a text stops being YAML.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stop {
    pub at: usize,
    pub why: Why,
}

/// Why a text stops being YAML that is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// In the parser's words.
    Syntax(String),
    /// A bracket of the flow style that nothing closes; it stands at the byte.
    Unclosed,
    /// Lists and mappings lie deeper in one another than any file needs: the route to each value
    /// is kept, so depth costs memory by its square.
    TooDeep,
}

/// What no file needs, and no type takes.
pub(super) const COMPOUND_KEY: &str = "a list or a mapping as a key";

/// The deepest that lists and mappings may lie in one another.
pub const MAX_DEPTH: usize = 32;

/// Reads a text into a type.
///
/// # Errors
/// The first thing that does not fit.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, Misread> {
    // For each bracket in another the reader of values goes through all that are open: some
    // hundred thousand of them would take it an hour.
    if depth(text) > MAX_DEPTH
        && let Err(Stop { at, why: Why::TooDeep }) = places(text)
    {
        let message = format!("lists and mappings are nested more than {MAX_DEPTH} deep");
        return Err(Misread::Syntax { at, message });
    }
    let deserializer = serde_yaml::Deserializer::from_str(text);
    serde_path_to_error::deserialize(deserializer).map_err(|error| {
        let route: Route = error
            .path()
            .iter()
            .filter_map(|segment| match segment {
                serde_path_to_error::Segment::Map { key } => Some(RouteStep::Key(key.clone())),
                serde_path_to_error::Segment::Seq { index } => Some(RouteStep::Index(*index)),
                _ => None,
            })
            .collect();
        let inner = error.into_inner();
        let message = bare_message(&inner);
        match places(text) {
            // The two readers differ on a line that holds nothing but a tab.
            Ok(_) if message.contains("tab character") => {
                let at = inner.location().map_or(0, |place| place.index());
                Misread::Syntax { at, message }
            }
            Ok(found) => Misread::Shape { route, message, found: Box::new(found) },
            Err(Stop { at, why: Why::Syntax(own) }) => {
                let at = inner.location().map_or(at, |place| place.index());
                // serde stops at the first value of the wrong shape, which may only follow.
                let shape = SERDE_OPENINGS.iter().any(|opening| message.starts_with(opening));
                Misread::Syntax { at, message: if shape { own } else { message } }
            }
            Err(Stop { at, .. }) => Misread::Syntax { at, message },
        }
    })
}

/// How many brackets are open at once, at most. Those within texts count too, so that the true
/// depth may be less.
pub(super) fn depth(text: &str) -> usize {
    let (mut open, mut most) = (0_usize, 0);
    for byte in text.bytes() {
        match byte {
            b'[' | b'{' => open += 1,
            b']' | b'}' => open = open.saturating_sub(1),
            _ => {}
        }
        most = most.max(open);
    }
    most
}

/// The library's message without the path before it and the place behind it.
fn bare_message(error: &serde_yaml::Error) -> String {
    let text = error.to_string();
    let text = text.split(" at line ").next().unwrap_or(&text);
    let start = SERDE_OPENINGS.iter().filter_map(|opening| text.find(opening)).min();
    text.get(start.unwrap_or(0)..).unwrap_or(text).to_owned()
}

/// How serde opens its messages about shape.
const SERDE_OPENINGS: [&str; 4] =
    ["invalid type", "invalid value", "unknown field", "duplicate field"];

/// Where the keys and values of a file stand.
#[derive(Debug, Clone, Default)]
pub struct Places {
    /// Route to the bytes of its key (empty for list items) and of its value.
    spans: HashMap<Route, Spans>,
    /// Keys that stand twice in one mapping: route, first and second key.
    pub repeated: Vec<(Route, Range<usize>, Range<usize>)>,
    /// What rule files may not hold: anchors, aliases, tags, merge keys, second documents, keys
    /// that are no text.
    pub banned: Vec<(Range<usize>, &'static str)>,
    /// Where a second document starts.
    pub second_document: Option<usize>,
    /// Texts with letters that no text needs, in the order of the file: where each stands, and
    /// what it comes to.
    pub unclean: Vec<(Range<usize>, String)>,
}

#[derive(Debug, Clone)]
struct Spans {
    key: Range<usize>,
    value: Range<usize>,
}

impl Places {
    /// The bytes of the key that a route ends on.
    #[must_use]
    pub fn key(&self, route: &[RouteStep]) -> Option<Range<usize>> {
        self.spans.get(route).map(|spans| spans.key.clone()).filter(|key| !key.is_empty())
    }

    /// The bytes of the value that a route leads to.
    #[must_use]
    pub fn value(&self, route: &[RouteStep]) -> Option<Range<usize>> {
        self.spans.get(route).map(|spans| spans.value.clone())
    }
}

impl Places {
    /// Whether nothing stands in the file.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.spans.keys().all(Vec::is_empty)
    }

    /// The routes to everything, in no order.
    pub fn routes(&self) -> impl Iterator<Item = &Route> {
        self.spans.keys()
    }

    /// The keys right under a route, with the bytes of each.
    pub fn under<'a>(
        &'a self,
        route: &'a [RouteStep],
    ) -> impl Iterator<Item = (&'a str, Range<usize>)> {
        self.spans.iter().filter_map(move |(inner, spans)| match inner.split_last() {
            Some((RouteStep::Key(key), parent)) if parent == route => {
                Some((key.as_str(), spans.key.clone()))
            }
            _ => None,
        })
    }
}

/// A mapping or list that is being read.
struct Level {
    route: Route,
    mapping: bool,
    /// In a mapping: the key that waits for its value.
    key: Option<(String, Range<usize>)>,
    /// In a list: how many items stood before.
    items: usize,
    /// Whether it stands where a mapping's key should.
    is_key: bool,
    /// Where it starts, and the key it stands under.
    start: usize,
    own_key: Range<usize>,
}

/// Finds where everything stands.
///
/// # Errors
/// Where the text stops being YAML that is read.
pub fn places(text: &str) -> Result<Places, Stop> {
    let mut finder = Finder { text, found: Places::default(), levels: Vec::new() };
    let mut documents = 0;
    let limits = options! { flow_nesting_limit: MAX_DEPTH, block_nesting_limit: MAX_DEPTH };
    for next in Parser::new_from_str_with_options(text, limits) {
        let (event, span) = next.map_err(|error| {
            let at = error.marker().byte_offset().unwrap_or(0);
            if matches!(error.kind(), ErrorKind::RecursionLimitExceeded) {
                return Stop { at, why: Why::TooDeep };
            }
            finder
                .unclosed(at)
                .unwrap_or_else(|| Stop { at, why: Why::Syntax(error.info().to_owned()) })
        })?;
        let bytes = span.byte_range().unwrap_or(0..0);
        if event.anchor_id().is_some() && !matches!(event, Event::Alias(_)) {
            finder.found.banned.push((property(text, bytes.start, '&'), "an anchor"));
        }
        if event.tag().is_some() {
            finder.found.banned.push((property(text, bytes.start, '!'), "a tag"));
        }
        if finder.levels.len() >= MAX_DEPTH
            && matches!(event, Event::MappingStart(..) | Event::SequenceStart(..))
        {
            return Err(Stop { at: bytes.start, why: Why::TooDeep });
        }
        match event {
            Event::DocumentStart(..) => {
                documents += 1;
                if documents == 2 {
                    finder.found.second_document = Some(bytes.start);
                    finder.found.banned.push((bytes, "a second document"));
                }
            }
            Event::Alias(_) => {
                finder.found.banned.push((bytes.clone(), "an alias"));
                finder.scalar("", bytes);
            }
            Event::Scalar(content, ..) => finder.scalar(&content, bytes),
            Event::MappingStart(..) => finder.open(true, bytes.start),
            Event::SequenceStart(..) => finder.open(false, bytes.start),
            Event::MappingEnd | Event::SequenceEnd => finder.close(bytes.end),
            _ => {}
        }
    }
    Ok(finder.found)
}

/// The anchor or tag before the value that starts at a byte, or that byte.
fn property(text: &str, start: usize, sign: char) -> Range<usize> {
    let mut end = start;
    while let Some(before) = text.get(..end).map(str::trim_end) {
        let from = before.rfind(|letter: char| letter.is_whitespace() || "[{,".contains(letter));
        let from = from.map_or(0, |at| at + 1);
        let Some(word) = before.get(from..).filter(|word| word.starts_with(['&', '!'])) else {
            break;
        };
        if word.starts_with(sign) {
            return from..before.len();
        }
        end = from;
    }
    start..start + 1
}

struct Finder<'a> {
    text: &'a str,
    found: Places,
    levels: Vec<Level>,
}

impl Finder<'_> {
    /// The route and key of the value that starts now.
    fn next_place(&mut self) -> (Route, Range<usize>) {
        let Some(level) = self.levels.last_mut() else { return (Vec::new(), 0..0) };
        let mut route = level.route.clone();
        if level.mapping {
            let (key, span) = level.key.take().unwrap_or_default();
            route.push(RouteStep::Key(key));
            (route, span)
        } else {
            route.push(RouteStep::Index(level.items));
            level.items += 1;
            (route, 0..0)
        }
    }

    /// The innermost bracket that was open when reading stopped: the culprit, where the text went
    /// on as if there were none.
    fn unclosed(&self, stopped: usize) -> Option<Stop> {
        let level = self.levels.last()?;
        let bracket = self.text.get(level.start..)?.starts_with(['[', '{']);
        let lines = self.text.get(level.start..stopped)?.contains('\n');
        (bracket && lines).then_some(Stop { at: level.start, why: Why::Unclosed })
    }

    fn open(&mut self, mapping: bool, start: usize) {
        let is_key = self.levels.last().is_some_and(|level| level.mapping && level.key.is_none());
        if is_key {
            self.found.banned.push((start..start + 1, COMPOUND_KEY));
        }
        let (route, own_key) = self.next_place();
        self.levels.push(Level { route, mapping, key: None, items: 0, is_key, start, own_key });
    }

    fn close(&mut self, end: usize) {
        let Some(level) = self.levels.pop() else { return };
        // A block ends where the next line starts; the value ends with its last letter.
        let body = self.text.get(level.start..end).unwrap_or("");
        let value = level.start..level.start + body.trim_end().len();
        match self.levels.last_mut().filter(|_| level.is_key) {
            Some(above) => above.key = Some((String::new(), value)),
            None => {
                self.found.spans.insert(level.route, Spans { key: level.own_key, value });
            }
        }
    }

    fn scalar(&mut self, content: &str, bytes: Range<usize>) {
        if !content.chars().all(|letter| letter == '\n' || letter == '\t' || is_clean(letter)) {
            self.found.unclean.push((bytes.clone(), content.to_owned()));
        }
        let waits = self.levels.last_mut().filter(|level| level.mapping && level.key.is_none());
        let Some(level) = waits else {
            let (route, key) = self.next_place();
            self.found.spans.insert(route, Spans { key, value: bytes });
            return;
        };
        level.key = Some((content.to_owned(), bytes.clone()));
        let mut route = level.route.clone();
        route.push(RouteStep::Key(content.to_owned()));
        if content == "<<" {
            self.found.banned.push((bytes.clone(), "a merge key"));
        }
        if let Some(first) = self.found.spans.get(&route) {
            self.found.repeated.push((route, first.key.clone(), bytes));
        }
    }
}
