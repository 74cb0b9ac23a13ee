//! What to do next, what to put back, and what to take care of.

use crate::quantity::print_chance;
use crate::report::model::{
    AlternativeLine, CautionLine, Conclusion, SizeLine, WorkKind, WorkLine,
};

use super::block::{Block, Entry, Section, all_set};
use super::causes::is_for_the_plan;
use super::room::Room;
use crate::report::words::duration;
use crate::text::{capital, spaced};

/// A check that seldom settles anything by itself is still one of several; its chance is not told.
const WORTH_TELLING: f64 = 0.05;
/// A repair from this many minutes on, half a day, is more than most people do beside their own work.
const LONG_JOB: f64 = 240.0;

pub(super) fn next(conclusion: &Conclusion) -> Option<Section> {
    let mut section = Section::new("What to do next");
    // Where nobody complains there is nothing to repair.
    let is_due = |work: &&WorkLine| work.kind != WorkKind::Repair || !is_for_the_plan(conclusion);
    let due: Vec<&WorkLine> = conclusion.next_work.iter().filter(is_due).collect();
    if !due.is_empty() {
        let entries = due.into_iter().enumerate();
        let entries = entries.map(|(place, work)| entry(place + 1, work)).collect();
        section.blocks.push(Block::Entries(entries));
    }
    if let Some(check) = workshop_check(conclusion) {
        section.say(check);
    }
    if let Some(question) = next_question(conclusion) {
        section.say(question);
    }
    section.if_any()
}

/// What a workshop would look at where nothing stands clear.
pub(super) fn workshop_check(conclusion: &Conclusion) -> Option<String> {
    let check = conclusion.workshop_check.as_ref()?;
    Some(format!(
        "Nothing stands clear yet. A workshop, with all its tools, would look at this next: {}",
        check.text
    ))
}

pub(super) fn next_question(conclusion: &Conclusion) -> Option<String> {
    let question = conclusion.next_question.as_ref()?;
    Some(format!("Next question: {}", question.text))
}

/// Jobs by their titles, behind the first.
const MAX_LATER: usize = 2;

/// What may come behind the first job.
pub(super) fn later(others: &[WorkLine]) -> Option<String> {
    let named = others.iter().take(MAX_LATER);
    let named: Vec<String> =
        named.map(|work| format!("{} ({})", work.title, duration(work.minutes))).collect();
    (!named.is_empty()).then(|| named.join("; "))
}

fn entry(number: usize, work: &WorkLine) -> Entry {
    let mut entry = opened(format!("{number}."), work);
    if let Some(how) = &work.how {
        entry.detail("how", how);
    }
    let sizes = work.sizes.iter().map(sized).map(|[title, value, band]| match band.as_str() {
        "" => format!("{title}: {value}"),
        band => format!("{title}: {value} ({band})"),
    });
    entry.detail("sizes", sizes.collect::<Vec<String>>().join("; "));
    entry.detail("measure first", missing(work));
    entry.detail("tools", work.tools.join(", "));
    entry.detail("parts", work.parts.join(", "));
    let cautions: Vec<String> = work.cautions.iter().map(|caution| spaced(caution)).collect();
    entry.detail("cautions", cautions.join(", "));
    entry.detail(expected(work), &work.expect);
    let others: Vec<String> = work.alternatives.iter().map(other_way).collect();
    entry.detail("or", others.join("; "));
    entry
}

/// What must be measured before anything is cut or set, and was not.
fn missing(work: &WorkLine) -> String {
    let named: Vec<&str> = work.missing.iter().map(|question| question.text.as_str()).collect();
    named.join(" / ")
}

/// The work whose plan was asked for, with its sizes and what they still lack.
pub(super) fn planned(conclusion: &Conclusion, room: Option<Room>) -> Option<Section> {
    let title = if room.is_some() { "The plan" } else { "The plan in full" };
    let mut section = Section::new(title);
    for (place, work) in conclusion.planned.iter().enumerate() {
        let Some(room) = room else {
            section.blocks.push(Block::Entries(vec![entry(place + 1, work)]));
            continue;
        };
        let mut entry = entry_in_short(work, room, true);
        work_cautions(work, conclusion, room, &mut entry);
        section.blocks.push(Block::Entries(vec![entry]));
        sizes_and_needs(work, room, 0, &mut section);
    }
    section.if_any()
}

/// The most numbers of a work where there is hardly room: its first are those that it is cut by.
const MAX_SCARCE_SIZES: usize = 5;
/// The same where there is none.
const MAX_LEAST_SIZES: usize = 2;

/// The numbers that a work is done by, and those that must be measured first.
pub(super) fn sizes_and_needs(
    work: &WorkLine,
    room: Room,
    more_sizes: usize,
    section: &mut Section,
) {
    let most = match room {
        Room::Least => MAX_LEAST_SIZES + more_sizes,
        Room::Scarce => MAX_SCARCE_SIZES + more_sizes,
        _ => work.sizes.len(),
    };
    if !work.sizes.is_empty() {
        let sizes = work.sizes.iter().take(most).map(sized);
        section.table(["Sizes for it", "value", "95 % band"], sizes);
    }
    if work.sizes.len() > most {
        section.say(format!("{} more sizes stand on the full page.", work.sizes.len() - most));
    }
    const FIRST: &str = "Measure this before cutting or setting anything";
    match room {
        _ if work.missing.is_empty() => {}
        Room::Scarce | Room::Least if work.missing.len() > 3 => {
            let left = work.missing.len();
            section.say(format!("{FIRST}: {left} sizes (full page)."));
        }
        Room::Scarce | Room::Least => {
            let named = work.missing.iter().map(|needed| spaced(&needed.id));
            section.say(format!("{FIRST}: {}", named.collect::<Vec<_>>().join(", ")));
        }
        _ => section.points(work.missing.iter().map(|needed| format!("{FIRST}: {}", needed.text))),
    }
}

/// The same on the first page: how it is done stands on the sheet for the garage. Where no cause leads,
/// that a check would put another first says nothing, so that its chance is not told.
pub(super) fn entry_in_short(work: &WorkLine, room: Room, is_led: bool) -> Entry {
    let told = if is_led || work.kind != WorkKind::Check { work.chance } else { 0.0 };
    let mut entry = opened(String::new(), &WorkLine { chance: told, ..work.clone() });
    if room >= Room::Tight {
        entry.detail("tools", work.tools.join(", "));
        entry.detail("parts", work.parts.join(", "));
    }
    entry.detail(expected(work), &work.expect);
    if room == Room::Ample {
        let others: Vec<String> = work.alternatives.iter().map(other_way).collect();
        entry.detail("or", others.join("; "));
    }
    entry
}

/// What can hurt in a work: the gravest in full where there is room, the others by their names, for the
/// sheet and the full page have them whole. What is in force stands at the top of the page.
pub(super) fn work_cautions(
    work: &WorkLine,
    conclusion: &Conclusion,
    room: Room,
    entry: &mut Entry,
) {
    let gravity = |caution: &&CautionLine| match caution.level.as_str() {
        "stop" => 0,
        "danger" => 1,
        _ => 2,
    };
    let ahead = |caution: &&CautionLine| !caution.in_force && work.cautions.contains(&caution.id);
    let mut own: Vec<&CautionLine> = conclusion.cautions.iter().filter(ahead).collect();
    own.sort_by_key(gravity);
    let told = usize::from(room > Room::Least).min(own.len());
    for caution in &own[..told] {
        let label = match caution.level.as_str() {
            "stop" => "stop",
            "danger" => "danger",
            _ => "care",
        };
        entry.detail(label, &caution.text);
    }
    let names: Vec<String> = own[told..].iter().map(|caution| spaced(&caution.id)).collect();
    if !names.is_empty() {
        let label = if told > 0 { "mind also" } else { "mind" };
        entry.detail(label, format!("{} (in full: sheet, full page)", names.join(", ")));
    }
}

/// What is done, how long it takes and what goes before it.
fn opened(mark: String, work: &WorkLine) -> Entry {
    let kind = match work.kind {
        WorkKind::Check => "Check",
        WorkKind::Repair => "Repair",
        WorkKind::Planned => "Plan",
    };
    let mut entry = Entry::new(mark, format!("{kind}: {}", work.title));
    entry.detail("takes", takes(work));
    entry.detail("check first", work.after_check.as_ref().map_or("", |check| &check.text));
    if let Some(repair) = &work.made_for {
        entry.detail("then", format!("{}, if this shows the fault", repair.text));
    }
    entry
}

fn expected(work: &WorkLine) -> &'static str {
    match work.kind {
        WorkKind::Check => "normal",
        WorkKind::Repair | WorkKind::Planned => "expect",
    }
}

/// What a size is, its value and its band.
pub(super) fn sized(size: &SizeLine) -> [String; 3] {
    let band = size.shown.band.clone().unwrap_or_default();
    [capital(&size.title), size.shown.best.clone(), band]
}

fn other_way(other: &AlternativeLine) -> String {
    let leaves_it = if other.mends { "" } else { "; no cure, a way to live with it" };
    format!("{} ({}{leaves_it})", other.title, duration(other.minutes))
}

fn takes(work: &WorkLine) -> String {
    let time = duration(work.minutes);
    let chance = print_chance(work.chance);
    match work.kind {
        WorkKind::Repair if work.leaves_as_is => {
            format!("{time}; by the forecast it leaves the fault as it is")
        }
        WorkKind::Repair if work.minutes >= LONG_JOB => {
            format!(
                "{time}, a long job that many leave to a workshop; {chance} likely to cure the \
                 fault"
            )
        }
        WorkKind::Repair => format!("{time}; {chance} likely to cure the fault"),
        WorkKind::Planned if work.minutes >= LONG_JOB => {
            format!("{time}, a long job that many leave to a workshop")
        }
        WorkKind::Planned => time,
        WorkKind::Check if work.chance < WORTH_TELLING => time,
        WorkKind::Check if work.made_for.is_some() => {
            format!("{time}; {chance} likely to find the fault")
        }
        WorkKind::Check => {
            format!("{time}; {chance} likely to settle it or to put another cause first")
        }
    }
}

pub(super) fn put_back(conclusion: &Conclusion) -> Option<Section> {
    if conclusion.put_back.is_empty() {
        return None;
    }
    let mut section = Section::new("Put back before the next drive");
    section.blocks.push(Block::Ticks(all_set(&conclusion.put_back)));
    Some(section)
}

/// What goes with the work ahead; what is in force now stands first in the document.
pub(super) fn cautions(conclusion: &Conclusion) -> Option<Section> {
    let mut section = Section::new("Take care");
    let with_tasks = conclusion.cautions.iter().filter(|caution| !caution.in_force);
    with_tasks.for_each(|caution| section.warn(&caution.level, &caution.text));
    section.if_any()
}

pub(super) fn the_law() -> Section {
    let mut section = Section::new("Before you start");
    section.say(
        "Local law and licensed practice take precedence over anything said here: welding, fuel \
         lines, emission parts and road tests may call for a qualified person or a permit.",
    );
    section
}
