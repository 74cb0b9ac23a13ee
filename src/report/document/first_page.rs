//! The first page: all that matters on one screen. What must not be done, what is wrong and how sure
//! that is, what to do now with its numbers beside it, what would change that, and how to go on.

use crate::quantity::print_chance;
use crate::report::model::{CauseLine, Conclusion, WorkKind, WorkLine, WorkingLine};

use super::block::{Block, Document, Section};
use super::causes::{doubted, is_for_the_plan, leads, reasons_in_short, worst_doubt};
use super::cured::{is_cured, to_watch};
use super::numbers::{narrowing, row};
use super::opening::{
    after_the_repair, clash, internal_error, news, stops_in, supposed, suspects, title,
};
use super::room::Room;
use super::work::{
    entry_in_short, later, next_question, planned, put_back, sizes_and_needs, work_cautions,
    workshop_check,
};
use crate::report::words::set;

/// What a conclusion comes to, in so much room, with so many sizes more than that has room for of itself;
/// `commands` say how to go on.
pub(in crate::report) fn first_page(
    conclusion: &Conclusion,
    commands: &[String],
    room: Room,
    more_sizes: usize,
) -> Document {
    let mut sections = Vec::new();
    sections.extend(stops_in(conclusion, room));
    sections.extend(internal_error(conclusion));
    sections.extend(clash(conclusion));
    sections.extend(after_the_repair(conclusion));
    sections.extend(planned(conclusion, Some(room)));
    sections.extend(wrong(conclusion, room));
    if !is_cured(conclusion) {
        sections.extend(reckoned(conclusion, room));
        sections.extend(now(conclusion, room, more_sizes));
    }
    sections.extend(put_back(conclusion));
    if is_cured(conclusion) {
        sections.extend(to_watch(conclusion));
    } else if !is_for_the_plan(conclusion) {
        sections.extend(would_change(conclusion, room));
    }
    if !commands.is_empty() {
        let mut section = Section::new("To go on");
        section.points(commands);
        sections.push(section);
    }
    Document { title: set(title(conclusion)), opening: supposed(conclusion), sections }
}

fn wrong(conclusion: &Conclusion, room: Room) -> Option<Section> {
    let mut section = Section::new("What is wrong");
    news(conclusion, &mut section);
    if is_cured(conclusion) || conclusion.causes.is_empty() || is_for_the_plan(conclusion) {
        return section.if_any();
    }
    suspects(conclusion, &mut section);
    if room >= Room::Tight {
        section.points(reasons_in_short(conclusion));
    }
    section.if_any()
}

fn now(conclusion: &Conclusion, room: Room, more_sizes: usize) -> Option<Section> {
    let mut section = Section::new("What to do now");
    let work = conclusion.next_work.split_first().filter(|_| !is_for_the_plan(conclusion));
    if let Some((work, others)) = work {
        let mut entry = entry_in_short(work, room, !leads(conclusion).is_empty());
        work_cautions(work, conclusion, room, &mut entry);
        section.blocks.push(Block::Entries(vec![entry]));
        sizes_and_needs(work, room, more_sizes, &mut section);
        if let Some(later) = later(others) {
            section.say(format!("{}: {later}", before_later(work, conclusion)));
        }
    }
    let check = workshop_check(conclusion).filter(|_| !is_for_the_plan(conclusion));
    let question = next_question(conclusion).filter(|_| room >= Room::Tight);
    for said in [check, question].into_iter().flatten() {
        section.say(said);
    }
    section.if_any()
}

/// A repair of the one likely fault is the end of the work, if it cures.
fn before_later(first: &WorkLine, conclusion: &Conclusion) -> &'static str {
    match first.kind {
        WorkKind::Repair if conclusion.standing_clear.len() < 2 => "If that doesn't cure it",
        _ => "After that",
    }
}

/// Rows of numbers that one screen has room for beside the rest.
const MAX_RECKONED: usize = 9;

/// Where nothing is wrong the numbers are what was asked for: those of the step that the interview came
/// to last, the results of which stand at its end.
fn reckoned(conclusion: &Conclusion, room: Room) -> Option<Section> {
    let named = conclusion.workings.iter().filter(|own| own.rests_on_answers && own.named);
    let named: Vec<&WorkingLine> = named.collect();
    let last = named.last()?.step.as_ref();
    let rows = named.iter().rev().take_while(|own| own.step.as_ref() == last).take(MAX_RECKONED);
    let mut rows: Vec<[String; 3]> = rows.map(|own| row(own)).collect();
    let is_told = !leads(conclusion).is_empty() || !conclusion.planned.is_empty();
    if is_told || room < Room::Tight {
        return None;
    }
    rows.reverse();
    let mut section = Section::new("The numbers so far");
    section.table([last.map_or("", String::as_str), "value", "95 % band"], rows);
    Some(section)
}

/// The answer most to be doubted, and the measurement that would narrow the numbers most; where no
/// answer is, the cause that is next in line and what would show it.
fn would_change(conclusion: &Conclusion, room: Room) -> Option<Section> {
    let mut section = Section::new("What would change this result");
    match worst_doubt(conclusion) {
        Some(doubt) => section.say(doubted(doubt, true)),
        None => section.say(next_in_line(conclusion, room)?),
    }
    if let Some(line) = conclusion.narrowing.first().filter(|_| room == Room::Ample) {
        section.say(format!("To narrow the numbers, measure this: {}.", narrowing(line)));
    }
    section.if_any()
}

/// Causes less likely than this would change nobody's mind.
const WORTH_NAMING: f64 = 1e-2;

/// What would put another cause first, where no answer given would by being wrong.
fn next_in_line(conclusion: &Conclusion, room: Room) -> Option<String> {
    let stands = |cause: &&CauseLine| conclusion.standing_clear.contains(&cause.id);
    let leading = conclusion.causes.iter().take_while(stands).count().max(1);
    let next = conclusion.causes.get(leading)?;
    let alone = if leads(conclusion).is_empty() {
        "No single answer, were it wrong, would point to a fault."
    } else {
        "No single answer, were it wrong, would put another cause first."
    };
    if next.probability < WORTH_NAMING || room == Room::Least {
        return (room > Room::Least).then(|| alone.to_owned());
    }
    let shown = match next.confirmed_by.first() {
        Some(question) => format!("; this could show it: {}", question.text),
        None => ".".to_owned(),
    };
    let chance = print_chance(next.probability);
    Some(format!("{alone} Next in line: {} ({chance}){shown}", next.title))
}
