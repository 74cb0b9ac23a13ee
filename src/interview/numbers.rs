//! A formula with the numbers put in: `highest_boost - rod_fully_out` becomes
//! `0.92 bar − 0.69 bar`.

use crate::formula::VarId;

use super::facts::Facts;

/// Longer than this a formula explains nothing at a glance.
const LONGEST: usize = 160;

/// The formula's text with each name replaced by its value; none where it has cases, grows
/// too long, or a name has no value.
#[must_use]
pub fn with_numbers(facts: &Facts<'_>, formula: &str) -> Option<String> {
    // Of a formula with cases the person would have to find the one that holds.
    if formula.split_whitespace().any(|word| word == "if") {
        return None;
    }
    let mut filled = String::new();
    let mut rest = formula;
    while let Some(start) = rest.find(|letter: char| letter.is_ascii_alphabetic() || letter == '_')
    {
        let (before, from) = rest.split_at(start);
        let end = from
            .find(|letter: char| !(letter.is_ascii_alphanumeric() || letter == '_'))
            .unwrap_or(from.len());
        let (name, behind) = from.split_at(end);
        filled.push_str(before);
        // A unit behind a number, a function and the name of an argument are no values.
        let glued = before.ends_with(|letter: char| letter.is_alphanumeric());
        match slot(facts, name).filter(|_| !glued && !names_an_argument(behind)) {
            Some(slot) => filled.push_str(&facts.shown(slot)?),
            None => filled.push_str(name),
        }
        rest = behind;
        if filled.len() > LONGEST {
            return None;
        }
    }
    filled.push_str(rest);
    (filled.chars().count() <= LONGEST).then_some(filled)
}

fn names_an_argument(behind: &str) -> bool {
    let behind = behind.trim_start();
    behind.starts_with('(') || (behind.starts_with('=') && !behind.starts_with("=="))
}

fn slot(facts: &Facts<'_>, name: &str) -> Option<VarId> {
    let pack = facts.pack;
    let question = pack.questions.find(name).map(|question| pack.question_slot(question));
    question.or_else(|| pack.workings.find(name).map(|working| pack.working_slot(working)))
}
