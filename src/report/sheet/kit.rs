//! The kit to fetch, each piece once.

use super::plan::Plan;
use crate::rules::{AnswerForm, Pack};

/// Stands between instruments any one of which will do.
const ANY_OF: &str = ", or ";

/// The tools and instruments that the plan needs, as they are first needed.
pub(super) fn kit(plan: &Plan, pack: &Pack) -> Vec<String> {
    let mut kit: Vec<String> = Vec::new();
    for question in plan.questions().map(|question| &pack.questions[question]) {
        let instruments = match &question.answer {
            AnswerForm::Measure(measure) => measure.read_with.as_slice(),
            _ => &[],
        };
        // Any one of the instruments that a reading may be taken with will do.
        let titles: Vec<&str> = instruments
            .iter()
            .map(|instrument| pack.instruments[*instrument].title.as_str())
            .collect();
        let instrument = (!titles.is_empty()).then(|| titles.join(ANY_OF));
        kit.extend(question.tools.iter().cloned().chain(instrument));
    }
    kit
}

/// The same pieces, each once, however it is written; of pieces any one of which will do, none where
/// one is in the kit anyway.
pub(super) fn without_doubles(pieces: impl IntoIterator<Item = String>) -> Vec<String> {
    let mut kit: Vec<String> = Vec::new();
    for piece in pieces {
        if !kit.iter().any(|known| is_same(known, &piece)) {
            kit.push(piece);
        }
    }
    let taken = |piece: &str| kit.iter().any(|known| is_same(known, piece));
    let is_needed = |piece: &&String| {
        let ways = ways(piece);
        ways.len() == 1 || !ways.into_iter().any(taken)
    };
    kit.iter().filter(is_needed).cloned().collect()
}

/// The pieces any one of which will do.
fn ways(piece: &str) -> Vec<&str> {
    let between = if piece.contains(ANY_OF) { ANY_OF } else { " or " };
    piece.split(between).map(str::trim).collect()
}

fn is_same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kit_of(pieces: &[&str]) -> Vec<String> {
        without_doubles(pieces.iter().map(|piece| (*piece).to_owned()))
    }

    #[test]
    fn what_is_fetched_anyway_is_not_fetched_twice() {
        assert_eq!(kit_of(&["lamp", "Lamp ", "mirror"]), ["lamp", "mirror"]);
        assert_eq!(kit_of(&["dial gauge or strip of paper", "dial gauge"]), ["dial gauge"]);
        let sensor = "intake sensor, read through the ECU, or workshop gauge, 1.6 bar span";
        assert_eq!(kit_of(&["workshop gauge, 1.6 bar span", sensor]).len(), 1);
    }

    #[test]
    fn what_only_sounds_alike_stays() {
        assert_eq!(kit_of(&["hose", "short hose"]), ["hose", "short hose"]);
        assert_eq!(kit_of(&["caliper or rule", "gauge"]), ["caliper or rule", "gauge"]);
    }
}
