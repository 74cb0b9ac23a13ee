//! What every section's linking needs: places, texts, ids, numbers with units, chances; each
//! mistake noted and linking gone on with.

use std::collections::HashSet;
use std::ops::{Range, RangeInclusive};

use crate::formula::{Fault as FormulaFault, nearest};
use crate::quantity::{Entry as ReadValue, Kind, ReadError, Unit, read};
use crate::rules::fault::{Fault, Mark, Place as FaultPlace, Severity};
use crate::rules::stack::{Entries, Entry, Stack, route};
use crate::rules::table::TypedIndex;
use crate::rules::yaml::RouteStep;
use crate::text::{Clean, either, excerpt};

/// The most faults that are noted: the nearest name is looked for at each, and a file of nothing
/// but mistakes must not take minutes.
const MAX_NOTED: usize = 500;

/// The longest text a screen is asked to show.
const MAX_TEXT: usize = 4000;

/// Where an entry stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct At<'a> {
    section: &'static str,
    id: &'a str,
    file: usize,
    spoilt: bool,
}

impl<'a> At<'a> {
    pub(super) fn new<T>(section: &'static str, id: &'a str, entry: &Entry<T>) -> Self {
        Self { section, id, file: entry.file, spoilt: entry.spoilt }
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

    fn place(&self) -> FaultPlace {
        let mut route = route(self.at.section, self.at.id);
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

    pub(super) fn error(
        &mut self,
        code: &'static str,
        spot: &Spot<'_>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.note(Severity::Error, code, spot, message, "", help);
    }

    pub(super) fn warning(
        &mut self,
        code: &'static str,
        spot: &Spot<'_>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.note(Severity::Warning, code, spot, message, "", help);
    }

    pub(super) fn note(
        &mut self,
        severity: Severity,
        code: &'static str,
        spot: &Spot<'_>,
        message: impl Into<String>,
        label: &str,
        help: impl Into<String>,
    ) {
        // A spoilt entry has been reported; what follows from it is no second fault.
        if spot.at.spoilt || self.is_full() {
            return;
        }
        let fault = Fault {
            code,
            severity,
            message: message.into(),
            place: spot.place(),
            label: label.to_owned(),
            other: None,
            help: help.into(),
        };
        self.add(fault);
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
        for fault in faults {
            self.faults.push(Fault {
                code: "formula",
                severity: Severity::Error,
                message: fault.message,
                place: spot.part(fault.span).place(),
                label: fault.label,
                other: fault.other.map(|other| (spot.part(other.0).place(), other.1)),
                help: fault.help,
            });
        }
    }

    /// A pack without a complaint starts nowhere.
    pub(super) fn no_complaint(&mut self) {
        let route = vec![RouteStep::Key("questions".to_owned())];
        let file = self.stack.questions.values().next().map_or(0, |question| question.file);
        self.add(Fault {
            code: "no-complaint",
            severity: Severity::Warning,
            message: "the pack has no complaint to start from".to_owned(),
            place: FaultPlace { file, route, mark: Mark::Key },
            label: String::new(),
            other: None,
            help: "add a complaints: section".to_owned(),
        });
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
        let message = format!("{} has no {field}", at.id);
        self.error("missing-field", &at.key(), message, format!("add {field}: to this entry"));
    }

    /// Something the entry is poor without: the pack still runs.
    pub(super) fn lacking(&mut self, at: At<'_>, field: &str, so: &str) {
        let message = format!("{} has no {field}, so {so}", at.id);
        self.warning("lacking-field", &at.key(), message, format!("add {field}: to this entry"));
    }

    /// A text that may be left out; an empty one counts as left out.
    pub(super) fn text(&mut self, spot: &Spot<'_>, text: Option<&String>) -> Option<String> {
        let text = text.map(|text| text.trim()).filter(|text| !text.is_empty())?;
        if text.len() > MAX_TEXT {
            let message = format!("the text is {} bytes long, more than {MAX_TEXT}", text.len());
            self.error("long-text", spot, message, "shorten it, or split it over several fields");
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
        what: &str,
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
        what: &str,
    ) {
        if spot.at.spoilt || self.is_full() {
            return;
        }
        let help = match nearest(id, known) {
            Some(near) => format!("did you mean {near}?"),
            None => format!("give the id of {what}, or add one with this id"),
        };
        self.note(
            Severity::Error,
            "unknown-name",
            spot,
            format!("{id} is no {}", bare(what)),
            "not known",
            help,
        );
    }

    /// A word that is none of the few that may stand here.
    pub(super) fn wrong_word<'n>(
        &mut self,
        spot: &Spot<'_>,
        word: &str,
        known: impl IntoIterator<Item = &'n str>,
        what: &str,
    ) {
        let known: Vec<&str> = known.into_iter().collect();
        let help = match nearest(word, known.iter().copied()) {
            Some(near) => format!("did you mean {near}?"),
            None => format!("write {}", either(&known)),
        };
        let message = format!("{} is no {what}", shown(word));
        self.note(Severity::Error, "unknown-word", spot, message, "not known", help);
    }

    /// The places of a list of ids.
    pub(super) fn places<P: TypedIndex, T>(
        &mut self,
        spot: &Spot<'_>,
        ids: Option<&Vec<String>>,
        entries: &Entries<T>,
        what: &str,
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
                self.unreadable(spot, text, &error);
                None
            }
        }
    }

    fn unreadable(&mut self, spot: &Spot<'_>, text: &str, error: &ReadError) {
        let said = error.to_string();
        let spot = &match error {
            ReadError::NoUnit { .. } | ReadError::WrongDimension { .. } => unit_of(spot, text),
            _ => spot.clone(),
        };
        let (message, help) =
            said.split_once(": ").unwrap_or((&said, "write a number with its unit"));
        self.error("value", spot, message, help);
    }

    /// A plain number, or an amount of the given kind.
    pub(super) fn minutes(
        &mut self,
        spot: &Spot<'_>,
        text: Option<&String>,
        otherwise: f64,
    ) -> f64 {
        let Some(text) = text else { return otherwise };
        let found = text.trim().trim_end_matches("min").trim().parse::<f64>().ok();
        match found
            .filter(|minutes| minutes.is_finite() && *minutes >= 0.0 && *minutes <= 100_000.0)
        {
            Some(minutes) => minutes,
            None => {
                self.error(
                    "number",
                    spot,
                    format!("{} is no number of minutes", shown(text)),
                    "write a number of minutes, for example 10",
                );
                otherwise
            }
        }
    }

    /// A whole number within bounds.
    pub(super) fn count(
        &mut self,
        spot: &Spot<'_>,
        text: Option<&String>,
        otherwise: usize,
        range: RangeInclusive<usize>,
    ) -> usize {
        let Some(text) = text else { return otherwise };
        match text.trim().parse::<usize>().ok().filter(|count| range.contains(count)) {
            Some(count) => count,
            None => {
                let (least, most) = (range.start(), range.end());
                let help = format!("write a whole number from {least} to {most}");
                let message = format!("{} is out of bounds", shown(text));
                self.error("number", spot, message, help);
                otherwise
            }
        }
    }

    /// A chance: `3 in 100`, or a number from 0 to 1.
    pub(super) fn chance(&mut self, spot: &Spot<'_>, text: &str) -> Option<f64> {
        let chance = read_chance(text);
        if chance.is_none() {
            self.error(
                "chance",
                spot,
                format!("{} is no chance", shown(text)),
                count_meant(text)
                    .unwrap_or_else(|| "write 3 in 100, or a number from 0 to 1".to_owned()),
            );
        }
        chance
    }

    pub(super) fn unit(&mut self, spot: &Spot<'_>, text: &str, kind: Kind) -> Option<Unit> {
        match Unit::parse(text) {
            Ok(unit) if unit.dimension() == kind.dimension => Some(unit),
            Ok(unit) => {
                let message = format!("{text} is a unit of {}, not of {kind}", unit.dimension());
                self.error(
                    "dimension",
                    spot,
                    message,
                    format!("give a unit of {}", kind.dimension),
                );
                None
            }
            Err(error) => {
                let said = error.to_string();
                let (message, help) =
                    said.split_once(": ").unwrap_or((&said, "rules/README.md lists the units"));
                self.error("unit", spot, message, help);
                None
            }
        }
    }
}

/// `3 in 100`, or a number from 0 to 1.
pub(super) fn read_chance(text: &str) -> Option<f64> {
    let chance = match text.split_once(" in ") {
        Some((part, whole)) => {
            let (part, whole) =
                (part.trim().parse::<f64>().ok()?, whole.trim().parse::<f64>().ok()?);
            (whole > 0.0).then(|| part / whole)?
        }
        None => text.trim().parse::<f64>().ok()?,
    };
    (0.0..=1.0).contains(&chance).then_some(chance)
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
    meant.then(|| format!("did you mean {number} in 100?"))
}

fn bare(what: &str) -> String {
    let what = what.strip_prefix("a ").or_else(|| what.strip_prefix("an ")).unwrap_or(what);
    what.replace(" or a ", " or ")
}

/// The start of what was written, fit to stand in a message.
pub(super) fn shown(text: &str) -> Clean {
    excerpt(text, 40)
}
