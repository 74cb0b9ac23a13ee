//! How it was worked out: workings with formula, numbers and source; curves as plot and table.

use crate::quantity::print_chance;
use crate::report::model::{Conclusion, CurveLine, WorkingLine};

use super::block::{Block, Entry, Section, Table};
use super::sources::Sources;
use super::words::{open_ended, with_band};

/// An input that makes less of the band is not named.
const WORTH_NAMING: f64 = 0.1;

pub(super) fn workings(conclusion: &Conclusion, sources: &mut Sources) -> Option<Section> {
    // What rests on typical values alone says nothing about this car.
    let worth_showing = |working: &&WorkingLine| {
        working.rests_on_answers && (working.named || working.says.is_some())
    };
    let entries: Vec<Entry> = conclusion
        .workings
        .iter()
        .filter(worth_showing)
        .map(|working| entry(working, sources))
        .collect();
    if entries.is_empty() {
        return None;
    }
    let mut section = Section::new("How it was worked out");
    section.say("In brackets the 95 % band; behind ± one standard uncertainty.");
    section.blocks.push(Block::Entries(entries));
    Some(section)
}

fn entry(working: &WorkingLine, sources: &mut Sources) -> Entry {
    let cited = sources.cite(&working.sources);
    let mut entry = Entry::new("", format!("{} {cited}", headline(working)));
    let numbers =
        working.with_numbers.as_ref().map_or_else(String::new, |numbers| format!(" = {numbers}"));
    entry.formula(format!("{}{numbers}", working.formula_in_short));
    let wide: Vec<String> = working
        .widest
        .iter()
        .filter(|share| share.share >= WORTH_NAMING)
        .map(|share| {
            let assumed = if share.assumed { ", assumed" } else { "" };
            format!("{} ({}{assumed})", share.title, print_chance(share.share))
        })
        .collect();
    if working.widest.len() > 1 || working.widest.iter().any(|share| share.assumed) {
        entry.detail("band from", wide.join(", "));
    }
    if !working.assumed.is_empty() {
        let values = if working.assumed.len() == 1 { "value" } else { "values" };
        entry.detail("rests on", format!("{} typical {values} below", working.assumed.len()));
    }
    entry
}

/// What it says, where that holds the value; else title and value. The band behind either.
fn headline(working: &WorkingLine) -> String {
    let shown = &working.shown;
    match &working.says {
        Some(says) if says.contains(&shown.value) => {
            with_band(open_ended(says), shown.band.as_deref()) + "."
        }
        Some(says) => {
            format!("{}: {}. {says}", working.title, with_band(&shown.best, shown.band.as_deref()))
        }
        None => format!("{}: {}", working.title, with_band(&shown.best, shown.band.as_deref())),
    }
}

pub(super) fn curves(conclusion: &Conclusion, sources: &mut Sources) -> Vec<Section> {
    conclusion.curves.iter().map(|curve| section(curve, sources)).collect()
}

fn section(curve: &CurveLine, sources: &mut Sources) -> Section {
    let mut section = Section::new(&curve.title);
    let cited = sources.cite(&curve.sources);
    section.say(format!(
        "Across: {}. Up: {}, with its 95 % band. {cited}",
        curve.drawing.along, curve.drawing.across
    ));
    section.blocks.push(Block::Plot(curve.drawing.clone()));
    let head = vec![curve.over.replace('_', " "), "value".to_owned(), "95 % band".to_owned()];
    let rows = curve
        .shown_rows
        .iter()
        .map(|row| vec![row.at.clone(), row.value.clone(), row.band.clone()])
        .collect();
    section.blocks.push(Block::Table(Table { head, rows }));
    section
}
