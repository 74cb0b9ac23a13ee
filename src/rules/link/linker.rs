//! What every section's linking needs: places, texts, ids, numbers with units, chances; each
//! mistake noted and linking gone on with.

use std::collections::HashSet;
use std::ops::{Range, RangeInclusive};

use crate::formula::{Fault as FormulaFault, nearest};
use crate::quantity::{Dimension, Entry as ReadValue, Kind, ReadError, Unit, read};
use crate::rules::fault::{Fault, FaultKind, LinkFault, Mark, Place as FaultPlace, Severity};
use crate::rules::stack::{Entries, Entry, Stack, route_in};
use crate::rules::table::TypedIndex;
use crate::rules::yaml::RouteStep;

/// The most faults that are noted: the nearest name is looked for at each, and a file of nothing
/// but mistakes must not take minutes.
const MAX_NOTED: usize = 500;

/// The longest text a screen is asked to show.
const MAX_TEXT: usize = 4000;

const SECONDS_A_MINUTE: f64 = 60.0;
/// More is no job at a car.
const MAX_MINUTES: f64 = 100_000.0;

/// Where an entry stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct At<'a> {
    section: &'static str,
    id: &'a str,
    file: usize,
    spoilt: bool,
    /// The list that it is an option of.
    list: Option<&'a str>,
}

impl<'a> At<'a> {
    pub(super) fn new<T>(section: &'static str, id: &'a str, entry: &'a Entry<T>) -> Self {
        let list = entry.list.as_deref();
        Self { section, id, file: entry.file, spoilt: entry.spoilt, list }
    }

    /// The list that it is an option of.
    pub(super) fn list(self) -> Option<&'a str> {
        self.list
    }

    pub(super) fn id(self) -> &'a str {
        self.id
    }

    /// The file it stands in.
    pub(super) fn file(self) -> usize {
        self.file
    }

    /// The entry's own key.
    pub(super) fn key(self) -> Spot<'a> {
        Spot { at: self, inside: [None; MAX_DEPTH], mark: Mark::Key }
    }

    /// The entry's own value, where it is a single text.
    pub(super) fn field_itself(self) -> Spot<'a> {
        Spot { mark: Mark::Value, ..self.key() }
    }

    /// A field's value.
    pub(super) fn field(self, field: &'a str) -> Spot<'a> {
        self.field_itself().under(field)
    }
}

/// How deep the fields of an entry lie in one another, at most.
const MAX_DEPTH: usize = 3;

/// A step of the way into an entry.
#[derive(Debug, Clone, Copy)]
enum Inside<'a> {
    Key(&'a str),
    Item(usize),
}

/// A place that a fault may be noted at. Every value of a pack has one and few a fault, so that
/// the way is only written out where it is wanted.
#[derive(Debug, Clone)]
pub(super) struct Spot<'a> {
    at: At<'a>,
    /// The way from the entry on.
    inside: [Option<Inside<'a>>; MAX_DEPTH],
    mark: Mark,
}

impl<'a> Spot<'a> {
    pub(super) fn under(&self, key: &'a str) -> Self {
        self.step(Inside::Key(key))
    }

    pub(super) fn item(&self, index: usize) -> Self {
        self.step(Inside::Item(index))
    }

    fn step(&self, step: Inside<'a>) -> Self {
        let mut spot = self.clone();
        let next = spot.inside.iter_mut().find(|next| next.is_none());
        debug_assert!(next.is_some(), "fields lie deeper in one another than that: {self:?}");
        if let Some(next) = next {
            *next = Some(step);
        }
        spot
    }

    pub(super) fn on_key(&self) -> Self {
        Self { mark: Mark::Key, ..self.clone() }
    }

    /// Bytes of the value's own text.
    pub(super) fn part(&self, bytes: Range<usize>) -> Self {
        Self { mark: Mark::Inside(bytes), ..self.clone() }
    }

    /// The file it stands in.
    pub(super) fn file(&self) -> usize {
        self.at.file
    }

    fn place(&self) -> FaultPlace {
        let mut route = route_in(self.at.section, self.at.id, self.at.list);
        route.extend(self.inside.iter().flatten().map(|step| match step {
            Inside::Key(key) => RouteStep::Key((*key).to_owned()),
            Inside::Item(index) => RouteStep::Index(*index),
        }));
        FaultPlace { file: self.at.file, route, mark: self.mark.clone() }
    }
}

/// Notes faults while sections are linked.
pub(super) struct Linker<'a> {
    pub(super) stack: &'a Stack,
    pub(super) faults: Vec<Fault>,
    /// Questions whose form of answer is faulty: what reads them is no second fault.
    pub(super) formless: HashSet<String>,
}

impl Linker<'_> {
    /// Whether so much is wrong that no more is said.
    pub(super) fn is_full(&self) -> bool {
        self.faults.len() >= MAX_NOTED
    }

    /// Notes a fault of a place.
    pub(super) fn note(&mut self, spot: &Spot<'_>, kind: impl FaultKind + 'static) {
        // A spoilt entry has been reported; what follows from it is no second fault.
        if !spot.at.spoilt && !self.is_full() {
            self.add(Fault::new(kind, spot.place()));
        }
    }

    /// The same, as severe as said.
    pub(super) fn note_as(
        &mut self,
        severity: Severity,
        spot: &Spot<'_>,
        kind: impl FaultKind + 'static,
    ) {
        if !spot.at.spoilt {
            self.add(Fault { severity, ..Fault::new(kind, spot.place()) });
        }
    }

    fn add(&mut self, fault: Fault) {
        if !self.is_full() && !self.faults.contains(&fault) {
            self.faults.push(fault);
        }
    }

    pub(super) fn formula_faults(&mut self, spot: &Spot<'_>, faults: Vec<FormulaFault>) {
        if spot.at.spoilt || self.is_full() {
            return;
        }
        for mut fault in faults {
            let other = fault.other.take().map(|other| (spot.part(other.0).place(), other.1));
            let place = spot.part(fault.span.clone()).place();
            self.faults.push(Fault { other, ..Fault::new(fault, place) });
        }
    }

    /// A pack without a complaint starts nowhere.
    pub(super) fn no_complaint(&mut self) {
        self.of_section("questions", LinkFault::NoComplaint);
    }

    /// What can't happen, in a section.
    pub(super) fn internal(&mut self, section: &str, what: String) {
        self.of_section(section, LinkFault::Internal { what });
    }

    fn of_section(&mut self, section: &str, kind: LinkFault) {
        let route = vec![RouteStep::Key(section.to_owned())];
        let file = self.stack.questions.values().next().map_or(0, |question| question.file);
        self.add(Fault::new(kind, FaultPlace { file, route, mark: Mark::Key }));
    }

    /// A text that must be there.
    pub(super) fn required(&mut self, at: At<'_>, field: &str, text: Option<&String>) -> String {
        match self.text(&at.field(field), text) {
            Some(text) => text,
            None => {
                self.missing(at, field);
                String::new()
            }
        }
    }

    pub(super) fn missing(&mut self, at: At<'_>, field: &str) {
        let missing = LinkFault::MissingField { id: at.id.to_owned(), field: field.to_owned() };
        // One that is there and empty is marked itself.
        self.note(&at.field(field).on_key(), missing);
    }

    /// Something the entry is poor without: the pack still runs.
    pub(super) fn lacking(&mut self, at: At<'_>, field: &str, so: &'static str) {
        let (id, field) = (at.id.to_owned(), field.to_owned());
        self.note(&at.key(), LinkFault::LackingField { id, field, so });
    }

    /// A text that may be left out; an empty one counts as left out.
    pub(super) fn text(&mut self, spot: &Spot<'_>, text: Option<&String>) -> Option<String> {
        let text = text.map(|text| text.trim()).filter(|text| !text.is_empty())?;
        if text.len() > MAX_TEXT {
            let (bytes, most) = (text.len(), MAX_TEXT);
            self.note(spot, LinkFault::LongText { bytes, most });
            return Some(String::new());
        }
        Some(text.to_owned())
    }

    pub(super) fn texts(&mut self, spot: &Spot<'_>, texts: Option<&Vec<String>>) -> Vec<String> {
        texts
            .into_iter()
            .flatten()
            .enumerate()
            .filter_map(|(index, text)| self.text(&spot.item(index), Some(text)))
            .collect()
    }

    /// The place of an id in a section.
    pub(super) fn place<P: TypedIndex, T>(
        &mut self,
        spot: &Spot<'_>,
        id: &str,
        entries: &Entries<T>,
        what: &'static str,
    ) -> Option<P> {
        let found = entries.get_index_of(id).map(P::from_index);
        if found.is_none() {
            self.unknown(spot, id, entries.keys().map(String::as_str), what);
        }
        found
    }

    pub(super) fn unknown<'n>(
        &mut self,
        spot: &Spot<'_>,
        id: &str,
        known: impl IntoIterator<Item = &'n str>,
        what: &'static str,
    ) {
        if spot.at.spoilt || self.is_full() {
            return;
        }
        let near = nearest(id, known).map(str::to_owned);
        self.note(spot, LinkFault::UnknownName { id: id.to_owned(), near, what });
    }

    /// A word that is none of the few that may stand here.
    pub(super) fn wrong_word<'n>(
        &mut self,
        spot: &Spot<'_>,
        word: &str,
        known: impl IntoIterator<Item = &'n str>,
        what: &'static str,
    ) {
        let known: Vec<String> = known.into_iter().map(str::to_owned).collect();
        let near = nearest(word, known.iter().map(String::as_str)).map(str::to_owned);
        self.note(spot, LinkFault::UnknownWord { word: word.to_owned(), near, known, what });
    }

    /// The places of a list of ids.
    pub(super) fn places<P: TypedIndex, T>(
        &mut self,
        spot: &Spot<'_>,
        ids: Option<&Vec<String>>,
        entries: &Entries<T>,
        what: &'static str,
    ) -> Vec<P> {
        ids.into_iter()
            .flatten()
            .enumerate()
            .filter_map(|(index, id)| self.place(&spot.item(index), id, entries, what))
            .collect()
    }

    /// A value of a kind, with its unit.
    pub(super) fn value(&mut self, spot: &Spot<'_>, text: &str, kind: Kind) -> Option<ReadValue> {
        match read(text, kind, None) {
            Ok(value) => Some(value),
            Err(error) => {
                let spot = match error {
                    ReadError::NoUnit { .. } | ReadError::WrongDimension { .. } => {
                        unit_of(spot, text)
                    }
                    _ => spot.clone(),
                };
                self.note(&spot, error);
                None
            }
        }
    }

    /// Minutes: an amount of time, or a plain number of them.
    pub(super) fn minutes(
        &mut self,
        spot: &Spot<'_>,
        text: Option<&String>,
        otherwise: f64,
    ) -> f64 {
        let Some(text) = text else { return otherwise };
        let usual = Unit::parse("min").ok();
        let time = read(text, Kind::plain(Dimension::TIME), usual.as_ref()).ok();
        let minutes = time.map(|time| time.si / SECONDS_A_MINUTE);
        let found = minutes.filter(|minutes| (0.0..=MAX_MINUTES).contains(minutes));
        self.not_default(spot, found == Some(otherwise));
        found.unwrap_or_else(|| {
            self.note(spot, LinkFault::Minutes { text: text.clone() });
            otherwise
        })
    }

    /// Warns of what is written and holds anyway.
    pub(super) fn not_default(&mut self, spot: &Spot<'_>, is_default: bool) {
        if is_default {
            self.note(spot, LinkFault::RepeatedDefault);
        }
    }

    /// A whole number within bounds.
    pub(super) fn count(
        &mut self,
        spot: &Spot<'_>,
        text: &str,
        range: RangeInclusive<usize>,
    ) -> Option<usize> {
        let count = text.trim().parse::<usize>().ok().filter(|count| range.contains(count));
        if count.is_none() {
            let (text, least, most) = (text.to_owned(), *range.start(), *range.end());
            self.note(spot, LinkFault::Count { text, least, most });
        }
        count
    }

    /// The same where it may be left out.
    pub(super) fn count_or(
        &mut self,
        spot: &Spot<'_>,
        text: Option<&String>,
        otherwise: usize,
        range: RangeInclusive<usize>,
    ) -> usize {
        let count = text.and_then(|text| self.count(spot, text, range));
        self.not_default(spot, count == Some(otherwise));
        count.unwrap_or(otherwise)
    }

    /// A chance: `3 in 100`, or a number from 0 to 1.
    pub(super) fn chance(&mut self, spot: &Spot<'_>, text: &str) -> Option<f64> {
        let chance = read_chance(text);
        if chance.is_none() {
            let meant = count_meant(text);
            self.note(spot, LinkFault::Chance { text: text.to_owned(), meant });
        }
        chance
    }

    pub(super) fn unit(&mut self, spot: &Spot<'_>, text: &str, kind: Kind) -> Option<Unit> {
        match Unit::parse(text) {
            Ok(unit) if unit.dimension() == kind.dimension => Some(unit),
            Ok(unit) => {
                let (unit, given) = (text.to_owned(), unit.dimension());
                self.note(spot, LinkFault::UnitDimension { unit, given, wanted: kind });
                None
            }
            Err(error) => {
                self.note(spot, error);
                None
            }
        }
    }
}

/// `3 in 100`, or a number from 0 to 1.
pub(super) fn read_chance(text: &str) -> Option<f64> {
    let chance = match text.split_once(" in ") {
        Some((part, whole)) => {
            let (part, whole) = (plain_number(part)?, plain_number(whole)?);
            (whole > 0.0).then(|| part / whole).filter(|chance| part == 0.0 || *chance > 0.0)?
        }
        None => plain_number(text)?,
    };
    (0.0..=1.0).contains(&chance).then_some(chance)
}

/// A number; none where it is too near zero to be told from it.
fn plain_number(text: &str) -> Option<f64> {
    let number = text.trim().parse::<f64>().ok()?;
    let digits = text.split(['e', 'E']).next().unwrap_or_default();
    let is_zero = !digits.contains(|digit: char| ('1'..='9').contains(&digit));
    (number != 0.0 || is_zero).then_some(number)
}

/// The unit of a value as its place, where it can be told; else the value's.
fn unit_of<'a>(spot: &Spot<'a>, text: &str) -> Spot<'a> {
    let sign = |letter: char| letter.is_alphabetic() || "°%".contains(letter);
    match text.find(sign) {
        // Further letters belong to the uncertainty or to another reading.
        Some(start) if !text.contains(['±', ';']) => spot.part(start..text.trim_end().len()),
        _ => spot.clone(),
    }
}

/// What most likely was meant by a chance above 1, or by one in per cent.
pub(super) fn count_meant(text: &str) -> Option<String> {
    let number = text.trim().trim_end_matches('%').trim_end();
    let percent = number.parse::<f64>().ok().filter(|percent| (1.0..=100.0).contains(percent));
    let meant = percent.is_some() && (text.contains('%') || percent.is_some_and(|p| p >= 2.0));
    meant.then(|| format!("{number} in 100"))
}
