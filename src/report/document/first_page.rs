//! The first page: all that matters on one screen. What must not be done, what is wrong and how sure
//! that is, what to do now with its numbers beside it, what would change that, and how to go on.

use crate::report::model::Conclusion;

use super::block::{Block, Document, Section};
use super::causes::{doubted, reasons_in_short};
use super::cured::{is_cured, to_watch};
use super::numbers::narrowing;
use super::opening::{
    after_the_repair, clash, internal_error, news, stops_in, supposed, suspects, title,
};
use super::room::Room;
use super::work::{
    entry_in_short, later, next_question, planned, put_back, sizes_and_needs, workshop_check,
};
use crate::report::words::set;

/// What a conclusion comes to, in so much room; `commands` say how to go on.
pub(in crate::report) fn first_page(
    conclusion: &Conclusion,
    commands: &[String],
    room: Room,
) -> Document {
    let mut sections = Vec::new();
    sections.extend(stops_in(conclusion, room));
    sections.extend(internal_error(conclusion));
    sections.extend(clash(conclusion));
    sections.extend(after_the_repair(conclusion));
    sections.extend(planned(conclusion, Some(room)));
    sections.extend(wrong(conclusion, room));
    if !is_cured(conclusion) {
        sections.extend(now(conclusion, room));
    }
    sections.extend(put_back(conclusion));
    if is_cured(conclusion) {
        sections.extend(to_watch(conclusion));
    } else if room == Room::Ample && !is_for_the_plan(conclusion) {
        sections.extend(would_change(conclusion));
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

/// Whether a plan is all that was asked for: then chances of faults that nobody complains of are no news.
fn is_for_the_plan(conclusion: &Conclusion) -> bool {
    !conclusion.planned.is_empty() && !conclusion.clear
}

fn now(conclusion: &Conclusion, room: Room) -> Option<Section> {
    let mut section = Section::new("What to do now");
    let work = conclusion.next_work.split_first().filter(|_| !is_for_the_plan(conclusion));
    if let Some((work, others)) = work {
        section.blocks.push(Block::Entries(vec![entry_in_short(work, room)]));
        sizes_and_needs(work, room, &mut section);
        if let Some(later) = later(others) {
            section.say(later);
        }
    }
    let check = workshop_check(conclusion).filter(|_| !is_for_the_plan(conclusion));
    for said in [check, next_question(conclusion)].into_iter().flatten() {
        section.say(said);
    }
    section.if_any()
}

/// The answer most to be doubted, and the measurement that would narrow the numbers most.
fn would_change(conclusion: &Conclusion) -> Option<Section> {
    let mut section = Section::new("What would change this");
    if let Some(doubt) = conclusion.doubts.first() {
        section.say(doubted(doubt, true));
    }
    if let Some(line) = conclusion.narrowing.first() {
        section.say(format!("To narrow the numbers, measure: {}.", narrowing(line)));
    }
    section.if_any()
}
