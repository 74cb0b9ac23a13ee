//! How an answer moved the ranking, in one line.

use crate::interview::{Ranked, State};
use crate::quantity::print_chance;
use crate::rules::{CauseId, TypedIndex};

/// A move of less than this is not worth a word.
const NOTICEABLE: f64 = 0.01;

/// `Lead: hose off 12 % → 41 %; port too small 20 % → 11 %.`
#[must_use]
pub(in crate::terminal) fn moved(before: &State<'_>, now: &State<'_>) -> String {
    let pack = now.pack;
    if let Some(error) = now.internal_error() {
        return error.to_string();
    }
    if let Ranked::Contradiction(answers) = &now.ranked {
        return clash(answers.iter().map(|question| pack.questions[*question].text.as_str()));
    }
    let (old, new) = (before.ranked.probabilities(), now.ranked.probabilities());
    let Some(lead) = largest(new) else { return String::new() };
    let change = |cause: CauseId| (before.ranked.probability(cause), now.ranked.probability(cause));
    let mover = pack
        .causes
        .indices()
        .filter(|cause| *cause != lead)
        .map(|cause| (cause, change(cause)))
        .max_by(|(_, a), (_, b)| (a.1 - a.0).abs().total_cmp(&(b.1 - b.0).abs()))
        .filter(|(_, (from, to))| (to - from).abs() >= NOTICEABLE);
    let (from, to) = change(lead);
    let title = lower(&pack.causes[lead].title);
    let mut line = if old.is_empty() || (to - from).abs() < NOTICEABLE {
        format!("Most likely: {title}, {}", print_chance(to))
    } else {
        format!("Most likely: {title}, {} → {}", print_chance(from), print_chance(to))
    };
    if let Some((cause, (from, to))) = mover
        && !old.is_empty()
    {
        let title = lower(&pack.causes[cause].title);
        line.push_str(&format!("; {title}, {} → {}", print_chance(from), print_chance(to)));
    }
    line + "."
}

fn clash<'t>(answers: impl Iterator<Item = &'t str>) -> String {
    let texts: Vec<String> = answers.map(|text| format!("\"{text}\"")).collect();
    format!(
        "These answers can't all be true: {}. Go back with b and change the one that is wrong.",
        texts.join(" ")
    )
}

/// What an interview has come to, in a line for the session's file.
#[must_use]
pub fn summary(state: &State<'_>) -> String {
    let probabilities = state.ranked.probabilities();
    let Some(lead) = largest(probabilities) else {
        return "the answers clash".to_owned();
    };
    let chance = state.ranked.probability(lead);
    let title = lower(&state.pack.causes[lead].title);
    if state.cured {
        return "cured".to_owned();
    }
    match state.walk.next {
        Some(_) => format!("{title} leads with {}; questions still open", print_chance(chance)),
        None => format!("{title} leads with {}", print_chance(chance)),
    }
}

/// The likeliest cause.
#[must_use]
pub(in crate::terminal) fn largest(probabilities: &[f64]) -> Option<CauseId> {
    let best = probabilities.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    probabilities.iter().position(|chance| *chance == best).map(CauseId::from_index)
}

/// A title inside a sentence. An abbreviation keeps its capitals.
#[must_use]
pub(in crate::terminal) fn lower(title: &str) -> String {
    let mut letters = title.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() || second == ' ' => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => title.to_owned(),
    }
}
