//! A formula with the numbers put in: `highest_boost - rod_fully_out` becomes
//! `0.92 bar - 0.69 bar`.

use std::collections::HashMap;

use crate::formula::{Expression, Form, Printer, VarId, parse};
use crate::rules::{AnswerForm, VarOwner};
use crate::text::{listed, spaced};

use crate::interview::evidence::facts::Facts;

/// Longer than this a formula explains nothing at a glance.
const MAX_LETTERS: usize = 160;

/// The formula's text with each name replaced by its value; none where it has cases, of which the
/// person would have to find the one that holds, grows too long, or a name has no value.
#[must_use]
pub fn with_numbers(facts: &Facts<'_>, formula: &str) -> Option<String> {
    let tree = parse(formula).ok()?;
    let mut has_cases = false;
    tree.walk(&mut |part| has_cases |= matches!(part.form, Form::IfElse { .. }));
    if has_cases {
        return None;
    }
    let mut values: HashMap<&str, String> = HashMap::new();
    for (name, _) in tree.names() {
        if let Some(slot) = slot(facts, name) {
            values.insert(name, facts.shown(slot)?);
        }
    }
    let value = |name: &str| values.get(name).cloned();
    let printer = Printer { value: &value, max_arguments: usize::MAX };
    let filled = printer.print(formula, &tree);
    (filled.chars().count() <= MAX_LETTERS).then_some(filled)
}

/// Longer than this a sum in words and numbers is no longer taken in.
const MAX_SUM: usize = 110;
/// The most values named from which something was worked out.
const MAX_VALUES: usize = 4;

/// How a number came about, for a person who reads no formulas.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// Plain arithmetic, in words and with the numbers: `gauge reading - drop = 0.92 bar - 0.1 bar`.
    Sum { words: String, numbers: String },
    /// What went into anything else: `gauge reading 0.92 bar and port 24 mm`.
    Values(String),
}

/// How a working's number came about; none where neither says anything.
#[must_use]
pub fn origin(facts: &Facts<'_>, formula: &str) -> Option<Origin> {
    let tree = parse(formula).ok()?;
    sum(facts, formula, &tree).or_else(|| values(facts, &tree))
}

fn sum(facts: &Facts<'_>, formula: &str, tree: &Expression) -> Option<Origin> {
    let mut is_plain = true;
    tree.walk(&mut |part| {
        is_plain &= matches!(
            part.form,
            Form::Literal { .. } | Form::Name(_) | Form::Negated(_) | Form::Arithmetic { .. }
        );
    });
    if !is_plain {
        return None;
    }
    let words = |name: &str| Some(spaced(name));
    let words = Printer { value: &words, max_arguments: usize::MAX }.print(formula, tree);
    let numbers = with_numbers(facts, formula)?;
    let letters = words.chars().count() + numbers.chars().count();
    (letters <= MAX_SUM).then_some(Origin::Sum { words, numbers })
}

/// The numbers that a formula reads, in its order.
fn values(facts: &Facts<'_>, tree: &Expression) -> Option<Origin> {
    let mut seen: Vec<&str> = Vec::new();
    let mut named = Vec::new();
    for (name, _) in tree.names() {
        if seen.contains(&name) {
            continue;
        }
        seen.push(name);
        if let Some(value) = number(facts, name) {
            named.push(format!("{} {value}", spaced(name)));
        }
    }
    let more = named.len().saturating_sub(MAX_VALUES);
    // One more takes no more room than to say so.
    if more > 1 {
        named.truncate(MAX_VALUES);
        named.push(format!("{more} more"));
    }
    (!named.is_empty()).then(|| Origin::Values(listed(&named)))
}

/// The value of a number; none of what was told or chosen.
fn number(facts: &Facts<'_>, name: &str) -> Option<String> {
    let slot = slot(facts, name)?;
    if let VarOwner::Question(question) = facts.pack.owner_of(slot)
        && !matches!(facts.pack.questions[question].answer, AnswerForm::Measure(_))
    {
        return None;
    }
    facts.shown(slot)
}

fn slot(facts: &Facts<'_>, name: &str) -> Option<VarId> {
    let pack = facts.pack;
    let question = pack.questions.find(name).map(|question| pack.question_slot(question));
    question.or_else(|| pack.workings.find(name).map(|working| pack.working_slot(working)))
}
