//! What is likely wrong, and why.

use crate::quantity::print_chance;
use crate::report::model::{CauseLine, Conclusion, DoubtLine, ReasonLine, SetLine};

use super::block::{Block, Entry, Section};
use crate::report::words::{open_ended, times};
use crate::text::listed;

/// Causes less likely than this are not worth a line.
const WORTH_A_LINE: f64 = 0.03;
const MAX_CAUSES: usize = 8;
/// Causes whose reasons are given: those that others would have to overtake.
const MAX_EXPLAINED: usize = 3;
const MAX_REASONS: usize = 3;
/// Odds that change by less than this factor either way are no reason.
const NOTICEABLE: f64 = 1.15;
/// Questions named that would confirm a cause.
const MAX_CONFIRMING: usize = 2;
/// Several causes at once that are less likely are not worth a line.
const WORTH_A_SET: f64 = 0.05;
const MAX_SETS: usize = 3;
/// An answer that all else gives less chance than this looks like a slip.
const ODD: f64 = 0.15;

/// The causes that are worth a line, the likeliest first.
pub(super) fn leads(conclusion: &Conclusion) -> Vec<&CauseLine> {
    let worth = |cause: &&CauseLine| cause.probability >= WORTH_A_LINE;
    conclusion.causes.iter().filter(worth).take(MAX_CAUSES).collect()
}

/// Causes that are likely present together.
pub(super) fn several(conclusion: &Conclusion) -> Option<String> {
    let sets: Vec<&SetLine> = conclusion
        .likely_sets
        .iter()
        .filter(|set| set.causes.len() > 1 && set.probability >= WORTH_A_SET)
        .take(MAX_SETS)
        .collect();
    let first = conclusion.likely_sets.first()?;
    let opening = if first.causes.len() > 1 {
        "There is probably more than one fault"
    } else {
        "One fault may not explain everything"
    };
    let named: Vec<String> = sets
        .iter()
        .map(|set| format!("{} together ({})", listed(&set.titles), print_chance(set.probability)))
        .collect();
    (!named.is_empty()).then(|| format!("{opening}: {}.", named.join("; ")))
}

pub(super) fn causes(conclusion: &Conclusion) -> Option<Section> {
    let leads = leads(conclusion);
    if leads.is_empty() {
        return None;
    }
    let mut section = Section::new("What is likely wrong");
    let entries: Vec<Entry> = leads
        .iter()
        .enumerate()
        .map(|(place, cause)| entry(cause, place < MAX_EXPLAINED))
        .collect();
    let explained = entries.iter().any(|entry| !entry.details.is_empty());
    section.blocks.push(Block::Entries(entries));
    if explained {
        section.say("\"× 3\" means that the finding triples the odds of the cause.");
    }
    for (place, doubt) in conclusion.doubts.iter().enumerate() {
        section.say(doubted(doubt, place == 0));
    }
    if !conclusion.inference.exact {
        section.say(left_out(conclusion.inference.left_out));
    }
    Some(section)
}

/// Reasons for the lead on the first page.
const MAX_IN_SHORT: usize = 2;

/// What speaks most for the lead.
pub(super) fn reasons_in_short(conclusion: &Conclusion) -> Vec<String> {
    let reasons = conclusion.causes.first().map_or(&[][..], |lead| &lead.speaks_for);
    // Without the line below the causes that says what is multiplied.
    let named = |reason: &ReasonLine| said(reason).replacen("× ", "odds × ", 1);
    worth_saying(reasons).into_iter().take(MAX_IN_SHORT).map(named).collect()
}

fn entry(cause: &CauseLine, explained: bool) -> Entry {
    let mut entry = Entry::new(print_chance(cause.probability), &cause.title);
    if !explained {
        return entry;
    }
    for (label, reasons) in [("for", &cause.speaks_for), ("against", &cause.against)] {
        for reason in worth_saying(reasons) {
            entry.detail(label, said(reason));
        }
    }
    let confirming: Vec<String> = cause
        .confirmed_by
        .iter()
        .take(MAX_CONFIRMING)
        .map(|question| question.text.clone())
        .collect();
    entry.detail("to confirm", confirming.join(" "));
    entry
}

/// Whether a plan is all that was asked for: then chances of faults that nobody complains of are no news.
pub(in crate::report) fn is_for_the_plan(conclusion: &Conclusion) -> bool {
    !conclusion.planned.is_empty() && !conclusion.clear && conclusion.only_planned
}

/// The strongest reasons; what was found comes before what was not.
fn worth_saying(reasons: &[ReasonLine]) -> Vec<&ReasonLine> {
    let noticeable = |reason: &&ReasonLine| {
        reason.times.is_none_or(|times| !(1.0 / NOTICEABLE..NOTICEABLE).contains(&times))
    };
    let mut worth: Vec<&ReasonLine> = reasons.iter().filter(noticeable).collect();
    worth.sort_by_key(|reason| !reason.holds);
    worth.truncate(MAX_REASONS);
    worth
}

fn said(reason: &ReasonLine) -> String {
    let not = match (reason.holds, reason.earlier) {
        (true, false) => "",
        (false, false) => "not the case; ",
        (true, true) => "before the repair; ",
        (false, true) => "not the case before the repair; ",
    };
    let weight = match reason.times {
        None => "settles it".to_owned(),
        Some(factor) => format!("× {}", times(factor)),
    };
    format!("{} ({not}{weight})", open_ended(&reason.says))
}

/// How far the chances may be off; rounded up.
fn left_out(doubt: f64) -> String {
    // Rounded up.
    let percent = (doubt * 100.0).ceil();
    format!(
        "Too many causes interact for every combination to be evaluated; each percentage may be off by \
         up to {percent:.0} percentage point{}.",
        if percent > 1.0 { "s" } else { "" }
    )
}

/// The answer most to be doubted, unless what would lead then is not worth a line either.
pub(in crate::report) fn worst_doubt(conclusion: &Conclusion) -> Option<&DoubtLine> {
    conclusion.doubts.first().filter(|doubt| doubt.probability >= WORTH_A_LINE)
}

/// An answer whose slip would carry the lead, and what would lead then.
pub(in crate::report) fn doubted(doubt: &DoubtLine, most_doubtful: bool) -> String {
    let asked: Vec<&str> = doubt.answers.iter().map(|answer| answer.text.as_str()).collect();
    let (these, they) = match asked.len() {
        0 | 1 => ("this answer", "it is"),
        _ => ("these answers", "they are"),
    };
    let opening = if most_doubtful && doubt.fits < ODD {
        format!("Check {these} again, as {they} at odds with the others")
    } else {
        format!("The result depends on {these}")
    };
    // An option of a list is no sentence.
    let mut asked = asked.join(" / ");
    if !asked.ends_with(['?', '.', '!']) {
        asked.push('.');
    }
    format!(
        "{opening}: {asked} If {they} wrong, the most likely cause is: {} ({}).",
        doubt.lead_title,
        print_chance(doubt.probability)
    )
}
