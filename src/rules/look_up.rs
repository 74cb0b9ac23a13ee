//! Where in the files of a pack something stands: a route of keys and indices becomes bytes, and
//! bytes a line and a column. A file is read for that only once something in it is looked up.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use super::inside::inside;
use super::place::{FileText, Mark, Place, Position};
use super::plain_entries::plain_entries;
use super::yaml::{Places, Route, RouteStep, places};
use crate::formula::on_letters;

/// Files to look places up in.
pub(super) struct LookUp<'a>(Vec<OneFile<'a>>);

struct OneFile<'a> {
    file: &'a FileText,
    places: OnceCell<Arc<Places>>,
    entries: OnceCell<HashMap<(&'a str, &'a str), Range<usize>>>,
    /// The first byte of each line.
    lines: OnceCell<Vec<usize>>,
}

impl<'a> LookUp<'a> {
    pub(super) fn new(files: &'a [FileText], known: &[Arc<Places>]) -> Self {
        let unread = |(index, file)| OneFile {
            file,
            places: known.get(index).cloned().map_or_else(OnceCell::new, OnceCell::from),
            entries: OnceCell::new(),
            lines: OnceCell::new(),
        };
        Self(files.iter().enumerate().map(unread).collect())
    }

    /// The bytes of a place, always inside the file and on letter boundaries.
    pub(super) fn bytes(&self, place: &Place) -> Range<usize> {
        self.0.get(place.file).map_or(0..0, |file| file.bytes(place))
    }

    /// File, line and column of a place.
    pub(super) fn position(&self, place: &Place) -> Position {
        let Some(file) = self.0.get(place.file) else { return Position::default() };
        let bytes = file.bytes(place);
        let (line, column) = file.line_and_column(bytes.start);
        let end = file.line_and_column(bytes.end);
        Position { file: file.file.name.clone(), line, column, end }
    }

    /// How long the line is that a place stands in.
    pub(super) fn line_length(&self, place: &Place) -> usize {
        let Some(file) = self.0.get(place.file) else { return 0 };
        let at = file.bytes(place).start;
        let (before, behind) = file.file.text.split_at(at);
        let start = before.rfind('\n').map_or(0, |end| end + 1);
        at - start + behind.find('\n').unwrap_or(behind.len())
    }
}

impl<'a> OneFile<'a> {
    fn bytes(&self, place: &Place) -> Range<usize> {
        let text = &self.file.text;
        let raw = match &place.mark {
            Mark::Bytes(bytes) => bytes.clone(),
            Mark::Key => self.entry(&place.route).unwrap_or_else(|| self.key(&place.route)),
            Mark::Value => self.value(&place.route).unwrap_or_else(|| self.parent(&place.route)),
            Mark::Inside(inner) => match self.value(&place.route) {
                Some(value) => inside(text, &value, inner),
                None => self.parent(&place.route),
            },
        };
        first_line(text, on_letters(text, &raw))
    }

    fn places(&self) -> &Places {
        self.places.get_or_init(|| Arc::new(places(&self.file.text).unwrap_or_default()))
    }

    fn key(&self, route: &Route) -> Range<usize> {
        let key = self.places().key(route).or_else(|| self.value(route));
        key.unwrap_or_else(|| self.parent(route))
    }

    fn value(&self, route: &Route) -> Option<Range<usize>> {
        let places = self.places();
        places.value(route).or_else(|| written_alone(places, route))
    }

    fn parent(&self, route: &Route) -> Range<usize> {
        nearest_parent(self.places(), route).unwrap_or(0..0)
    }

    /// The key of an entry of a file in the binary. Those are written plainly, which a test sees to,
    /// and so need not be read as YAML for it.
    fn entry(&self, route: &Route) -> Option<Range<usize>> {
        let Cow::Borrowed(text) = self.file.text else { return None };
        let [RouteStep::Key(section), RouteStep::Key(id)] = route.as_slice() else { return None };
        let entries = self.entries.get_or_init(|| plain_entries(text));
        entries.get(&(section.as_str(), id.as_str())).cloned()
    }

    /// Line and column, from 1, of a byte.
    fn line_and_column(&self, at: usize) -> (usize, usize) {
        let text = &self.file.text;
        let lines = self.lines.get_or_init(|| {
            let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
            std::iter::once(0).chain(ends.map(|(end, _)| end + 1)).collect()
        });
        let line = lines.partition_point(|start| *start <= at);
        let start = line.checked_sub(1).and_then(|line| lines.get(line)).copied().unwrap_or(0);
        (line, text.get(start..at).unwrap_or("").chars().count() + 1)
    }
}

/// A list of one may be written without its brackets: its item is then the value itself.
fn written_alone(places: &Places, route: &[RouteStep]) -> Option<Range<usize>> {
    match route.split_last()? {
        (RouteStep::Index(0), list) => places.value(list),
        _ => None,
    }
}

/// Where nothing stands at the route itself (a missing field), the entry's key is marked.
fn nearest_parent(places: &Places, route: &[RouteStep]) -> Option<Range<usize>> {
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
