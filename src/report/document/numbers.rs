//! How it was worked out: workings with formula, numbers and source; curves as plot and table.

use crate::interview::Origin;
use crate::quantity::print_chance;
use crate::report::model::{Conclusion, CurveLine, NarrowingLine, WorkingLine};

use super::block::{Block, Entry, Section};
use super::sources::Sources;
use crate::text::{capital, spaced};

/// An input that makes less of the band is not named.
const WORTH_NAMING: f64 = 0.1;

/// Fewer numbers than this are read as quickly one by one.
const WORTH_A_TABLE: usize = 8;
/// Reasons given for what could not be worked out.
const MAX_REFUSED: usize = 8;
/// Rows of a curve's table.
const MAX_ROWS: usize = 12;

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
    section.say("Brackets hold the 95 % band; ± gives one standard uncertainty.");
    section.blocks.push(Block::Entries(entries));
    Some(section)
}

/// The numbers of the steps on the way as tables, a step each, where there are too many to read one
/// by one.
pub(super) fn at_a_glance(conclusion: &Conclusion) -> Option<Section> {
    let named = |working: &&WorkingLine| working.rests_on_answers && working.named;
    let lines: Vec<&WorkingLine> = conclusion.workings.iter().filter(named).collect();
    if lines.len() < WORTH_A_TABLE {
        return None;
    }
    let mut section = Section::new("The numbers at a glance");
    for lines in lines.chunk_by(|one, next| one.step == next.step) {
        let step = lines.first().and_then(|line| line.step.clone()).unwrap_or_default();
        section.table([&step, "value", "95 % band"], lines.iter().map(|line| row(line)));
    }
    if !conclusion.narrowing.is_empty() {
        section.say("What to measure, or measure more closely, to narrow these bands most:");
        section.points(conclusion.narrowing.iter().map(narrowing));
    }
    Some(section)
}

pub(super) fn narrowing(line: &NarrowingLine) -> String {
    let now = if line.assumed { "typical value so far" } else { "as measured so far" };
    format!(
        "{} ({now}): would narrow the bands as a whole by {}, and this one by {}: {}",
        capital(&line.title),
        up_to(line.narrower),
        up_to(line.most_narrower),
        line.most_title,
    )
}

fn up_to(share: f64) -> String {
    let shown = print_chance(share);
    if shown.starts_with("over") { shown } else { format!("up to {shown}") }
}

/// What a working is, its value and its band.
pub(super) fn row(working: &WorkingLine) -> [String; 3] {
    let band = working.shown.band.clone().unwrap_or_default();
    [capital(&working.title), working.shown.best.clone(), band]
}

/// What could not be worked out, those with one reason together.
pub(super) fn refused(conclusion: &Conclusion) -> Option<Section> {
    let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
    for line in &conclusion.refused {
        let title = capital(&line.title);
        match reasons.iter_mut().find(|(reason, _)| *reason == line.reason) {
            Some((_, titles)) => titles.push(title),
            None => reasons.push((&line.reason, vec![title])),
        }
    }
    let more = reasons.len().saturating_sub(MAX_REFUSED);
    let mut points: Vec<String> = reasons
        .iter()
        .take(MAX_REFUSED)
        .map(|(reason, titles)| format!("{} ({reason})", titles.join("; ")))
        .collect();
    if more > 0 {
        points.push(format!("and {more} more, for lack of answers"));
    }
    if points.is_empty() {
        return None;
    }
    let mut section = Section::new("What could not be worked out");
    section.points(points);
    Some(section)
}

fn entry(working: &WorkingLine, sources: &mut Sources) -> Entry {
    let cited = sources.cite(&working.sources);
    let mut entry = Entry::new("", format!("{} {cited}", working.headline));
    match &working.origin {
        Some(Origin::Sum { words, numbers }) => entry.formula(format!("{words} = {numbers}")),
        Some(Origin::Values(values)) => entry.detail("from", values),
        None => {}
    }
    entry.detail("assumed", assumed(working));
    entry
}

/// How much rests on typical values, and which of them would narrow the band most if measured.
fn assumed(working: &WorkingLine) -> String {
    let Some(basis) = &working.basis else { return String::new() };
    let number = match basis.assumed.len() {
        0 => return String::new(),
        1 => "one typical value".to_owned(),
        several => format!("{several} typical values"),
    };
    let worth_measuring: Vec<String> = basis
        .widest
        .iter()
        .filter(|share| share.assumed && share.share >= WORTH_NAMING)
        .map(|share| format!("{} ({})", share.title, print_chance(share.share)))
        .collect();
    if worth_measuring.is_empty() {
        format!("{number}, listed below")
    } else {
        format!("{number}, listed below; share of the band: {}", worth_measuring.join(", "))
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
    // The plot has them all; a page of numbers nobody reads.
    let every = curve.shown_rows.len().div_ceil(MAX_ROWS).max(1);
    let rows = curve
        .shown_rows
        .iter()
        .step_by(every)
        .map(|row| [row.at.clone(), row.value.clone(), row.band.clone()]);
    section.table([&spaced(&curve.over), "value", "95 % band"], rows);
    section
}
