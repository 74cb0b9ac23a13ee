//! A formula with the numbers put in: `highest_boost - rod_fully_out` becomes
//! `0.92 bar - 0.69 bar`.

use std::collections::HashMap;

use crate::formula::{Form, Printer, VarId, parse};

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

fn slot(facts: &Facts<'_>, name: &str) -> Option<VarId> {
    let pack = facts.pack;
    let question = pack.questions.find(name).map(|question| pack.question_slot(question));
    question.or_else(|| pack.workings.find(name).map(|working| pack.working_slot(working)))
}
