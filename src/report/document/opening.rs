//! How the document opens: what must not be done, what it comes to in a few lines, and what became
//! of the last repair.

use crate::quantity::print_chance;
use crate::report::model::{
    CauseLine, CautionLine, Conclusion, FigureLine, ReadingLine, VerdictLine, WorkKind,
};

use super::block::{Block, Section};
use super::causes::{leads, several};
use super::cured::is_cured;
use super::given::pair;
use super::room::Room;
use crate::report::words::{duration, open_ended, set};
use crate::text::{capital, listed, spaced};

pub(super) fn title(conclusion: &Conclusion) -> String {
    format!("{}: round {}", conclusion.complaint_titles.join(" / "), conclusion.round)
}

/// What was supposed, so that nobody takes it for an answer.
pub(super) fn supposed(conclusion: &Conclusion) -> Vec<Block> {
    if conclusion.supposed.is_empty() {
        return Vec::new();
    }
    let supposed = conclusion.supposed.join(", ");
    vec![Block::Paragraph(set(format!("SUPPOSED, NOT ANSWERED: {supposed}")))]
}

/// What is forbidden for now.
pub(super) fn stops(conclusion: &Conclusion) -> Option<Section> {
    stops_in(conclusion, Room::Ample)
}

/// What is forbidden for now: where there is little room, of what asks for no more than care just how
/// much there is, but never of nothing else.
pub(super) fn stops_in(conclusion: &Conclusion, room: Room) -> Option<Section> {
    let mut section = Section::new("Before anything else");
    let in_force = conclusion.cautions.iter().filter(|caution| caution.in_force);
    let (mut told, mut left): (Vec<&CautionLine>, Vec<&CautionLine>) =
        in_force.partition(|caution| room >= Room::Fair || caution.level != "care");
    if told.is_empty() && !left.is_empty() {
        told.push(left.remove(0));
    }
    told.iter().for_each(|caution| section.warn(&caution.level, &caution.text));
    match left.len() {
        0 => {}
        1 => section.warn("care", "One more caution stands on the full page."),
        more => section.warn("care", &format!("{more} more cautions stand on the full page.")),
    }
    section.if_any()
}

/// The program itself failed: what follows is not whole.
pub(super) fn internal_error(conclusion: &Conclusion) -> Option<Section> {
    let error = conclusion.internal_error.as_ref()?;
    let mut section = Section::new("The program failed");
    section.say(error.as_str());
    section.say("What follows is only what could still be worked out.");
    Some(section)
}

pub(super) fn clash(conclusion: &Conclusion) -> Option<Section> {
    let answers = conclusion.contradiction.as_ref()?;
    let mut section = Section::new("The answers clash");
    if conclusion.round > 1 {
        section.say(
            "The work may have caused a new fault: a hose left off, a clip not tightened. Look \
             first at whatever was touched.",
        );
    }
    section.say("These can't all be true. Check them again and change the one that is wrong:");
    let points = answers.iter().map(|id| {
        let known = conclusion.clashing.iter().find(|answer| answer.id == *id);
        known.map_or_else(|| spaced(id), pair)
    });
    section.points(points);
    Some(section)
}

/// What is new, and what doesn't fit.
pub(super) fn news(conclusion: &Conclusion, section: &mut Section) {
    if is_cured(conclusion) {
        section.say("No further questions or repairs are needed.");
        return;
    }
    for new in &conclusion.new_since_repair {
        section.say(format!(
            "New since the repair: {}. The work may have caused it. Put this right first: {}.",
            open_ended(&new.says),
            new.cause_title
        ));
    }
    for denied in &conclusion.denied {
        let answers: Vec<&str> =
            denied.answers.iter().map(|question| question.text.as_str()).collect();
        section.say(format!(
            "The answers contradict the complaint. By them, this is not the case: {} Check these \
             before anything else; if they are right, there may be nothing wrong: {}",
            denied.says,
            answers.join(" / ")
        ));
    }
    for reading in &conclusion.readings {
        if let Some(told) = hardly_explained(reading) {
            section.say(told);
        }
    }
}

/// What it comes to, for those who read no further.
pub(super) fn in_short(conclusion: &Conclusion) -> Option<Section> {
    let mut section = Section::new("In short");
    if let Some(verdict) = &conclusion.verdict {
        section.say(format!("After the repair: {}.", outcome(verdict)));
    }
    news(conclusion, &mut section);
    if is_cured(conclusion) {
        return section.if_any();
    }
    suspects(conclusion, &mut section);
    if let Some(work) = conclusion.next_work.first() {
        let kind = match work.kind {
            WorkKind::Check => "check",
            WorkKind::Repair | WorkKind::Planned => "repair",
        };
        let expected = match work.kind {
            WorkKind::Repair if !work.expect.is_empty() => {
                format!(", expected result: {}", work.expect)
            }
            _ => String::new(),
        };
        section.say(format!("Next {kind}: {} ({}){expected}", work.title, duration(work.minutes)));
    }
    section.if_any()
}

/// A reading that the engine can hardly explain, and what to look at.
fn hardly_explained(reading: &ReadingLine) -> Option<String> {
    let clash = reading.clash.as_ref()?;
    let expected = reading.shown_expected.as_ref()?;
    let look = match &clash.doubt {
        Some(doubt) => format!("Check this again first: {}", doubt.text),
        None => "Check the reading, and how it was taken.".to_owned(),
    };
    Some(format!(
        "{} was read as {}, where everything else known points to {expected}. {} would read so far \
         off. Until it is checked, forecasts give it less weight. {look}",
        capital(&reading.title),
        reading.shown,
        one_engine_in(reading.chance),
    ))
}

fn one_engine_in(chance: f64) -> String {
    // Beyond this nobody has seen so many engines.
    const MAX_ENGINES: f64 = 10_000.0;
    let engines = (1.0 / chance.max(1e-300)).min(MAX_ENGINES);
    if engines >= MAX_ENGINES {
        return "Fewer than one engine in 10,000 of this kind".to_owned();
    }
    // Two digits say all that is known of such a chance.
    let step = 10.0_f64.powf(engines.log10().floor() - 1.0).max(1.0);
    format!("Only one engine in {} of this kind", (engines / step).round() * step)
}

/// What is most likely wrong, one fault or several.
pub(super) fn suspects(conclusion: &Conclusion, section: &mut Section) {
    if !conclusion.causes.is_empty() {
        section.say(lead(conclusion));
    }
    // Those that stand clear together were just named.
    if conclusion.standing_clear.len() < 2
        && let Some(several) = several(conclusion)
    {
        section.say(several);
    }
}

fn lead(conclusion: &Conclusion) -> String {
    let leads = leads(conclusion);
    let named =
        |cause: &&CauseLine| format!("{} ({})", cause.title, print_chance(cause.probability));
    let doubt = conclusion.inference.left_out;
    match leads.as_slice() {
        _ if doubt > TELLS_NOTHING => format!(
            "The answers so far fit too many combinations of faults to tell how likely each is: the \
             percentages may be off by up to {:.0}\u{a0}%. Don't go by them before more is answered.",
            (doubt * 100.0).ceil()
        ),
        leads if points_nowhere(conclusion, leads) => after_all(conclusion),
        [] => "Nothing stands out. There may be nothing wrong.".to_owned(),
        leads if conclusion.standing_clear.len() > 1 => {
            let clear = |cause: &&&CauseLine| conclusion.standing_clear.contains(&cause.id);
            let names: Vec<String> = leads.iter().filter(clear).map(named).collect();
            format!("There is more than one fault: {}, well ahead of any other.", listed(&names))
        }
        [lead, ..] if conclusion.clear => {
            format!("Most likely: {}, well ahead of any other cause.", named(lead))
        }
        leads => {
            let names: Vec<String> = leads.iter().take(3).map(named).collect();
            format!("No cause is clearly ahead yet. The most likely: {}.", listed(&names))
        }
    }
}

/// Chances that may be off by more than this are not told as a lead.
const TELLS_NOTHING: f64 = 0.25;

/// After a repair no cause this unlikely is what the car has.
const POINTS_TO_IT: f64 = 0.1;

/// Whether since the repair no fault at all is likelier than any.
fn points_nowhere(conclusion: &Conclusion, leads: &[&CauseLine]) -> bool {
    let sound = conclusion.likely_sets.first().is_some_and(|set| set.causes.is_empty());
    conclusion.round > 1 && sound && leads.iter().all(|cause| cause.probability < POINTS_TO_IT)
}

fn after_all(conclusion: &Conclusion) -> String {
    let told = conclusion.verdict.as_ref().and_then(|verdict| verdict.told.as_deref());
    match told {
        Some("better" | "unchanged" | "worse") => {
            "None of the answers points to a fault any more, but the trouble remains. Look \
             further."
                .to_owned()
        }
        _ => "Nothing points to a fault any more.".to_owned(),
    }
}

fn outcome(verdict: &VerdictLine) -> String {
    let word = spaced(&verdict.verdict);
    match (&verdict.because_text, verdict.by_word) {
        (Some(because), _) => format!("can't be judged, since {because}"),
        (None, true) => format!("{word}, by your account"),
        (None, false) => format!("{word} ({})", print_chance(verdict.probability)),
    }
}

/// The person's word where it is another than that of the numbers.
fn told_otherwise(verdict: &VerdictLine) -> Option<String> {
    let told = verdict.told.as_ref().filter(|told| **told != verdict.verdict)?;
    Some(format!(
        "By your account the trouble is {}.",
        match told.as_str() {
            "cured" => "gone",
            "unchanged" => "no different",
            other => other,
        }
    ))
}

pub(super) fn after_the_repair(conclusion: &Conclusion) -> Option<Section> {
    let verdict = conclusion.verdict.as_ref()?;
    let mut section = Section::new("After the repair");
    if let Some(repair) = &verdict.repair {
        section.say(format!("Done: {}.", repair.text));
    }
    section.say(format!("Verdict: {}.", outcome(verdict)));
    if let Some(told) = told_otherwise(verdict) {
        section.say(told);
    }
    let figures = [
        ("before", verdict.before.as_ref()),
        ("predicted", verdict.predicted.as_ref()),
        ("after", verdict.after.as_ref()),
        ("forecast now", verdict.forecast_now.as_ref()),
    ];
    let rows: Vec<[String; 3]> =
        figures.iter().filter_map(|(name, figure)| Some(row(name, (*figure)?))).collect();
    if !rows.is_empty() {
        let what = verdict.judged_by_title.as_deref().map_or_else(String::new, capital);
        section.table([&what, "value", "95 % band"], rows);
    }
    if let Some(fell) = where_it_fell(verdict) {
        section.say(fell);
    }
    Some(section)
}

/// Where what was measured fell in what was predicted.
fn where_it_fell(verdict: &VerdictLine) -> Option<String> {
    let held = verdict.model_held?;
    let expected = verdict.expected_reading.as_ref()?;
    let band = expected.shown.band.as_ref().map_or_else(String::new, |band| format!(", {band}"));
    let chance = verdict.chance?;
    if held && chance < 0.05 {
        return Some("What was measured lies as near to the forecast as anyone would notice: the calculation held.".to_owned());
    }
    if held {
        return Some(format!(
            "What was measured lies inside the forecast's 95 % band for such a reading{band}: the calculation held."
        ));
    }
    let side = match &verdict.after {
        Some(after) if after.value < expected.low => "below",
        _ => "above",
    };
    Some(format!(
        "What was measured lies {side} the forecast's 95 % band for such a reading{band}: {} would read so far off. The calculation did not hold for this car. The forecast now uses newer readings.",
        uncapital(&one_engine_in(chance)),
    ))
}

fn uncapital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn row(name: &str, figure: &FigureLine) -> [String; 3] {
    let band = figure.shown.band.clone().unwrap_or_default();
    [name.to_owned(), figure.shown.best.clone(), band]
}
