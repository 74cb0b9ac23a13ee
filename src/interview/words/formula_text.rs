//! A formula with the numbers put in: `highest_boost - rod_fully_out` becomes
//! `0.92 bar - 0.69 bar`.

use std::collections::HashMap;

use crate::formula::{Expression, Form, Formula, Node, Printer, Type, VarId, parse};
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
pub fn origin(facts: &Facts<'_>, formula: &Formula) -> Option<Origin> {
    let tree = parse(&formula.text).ok()?;
    sum(facts, &formula.text, &tree).or_else(|| values(facts, formula, &tree))
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

/// The numbers that a formula's value comes from, in its order.
fn values(facts: &Facts<'_>, formula: &Formula, tree: &Expression) -> Option<Origin> {
    let mut used = Used { facts, formula, variables: Vec::new(), conditions: 0 };
    used.gather(&formula.node);
    let mut seen: Vec<&str> = Vec::new();
    let mut named = Vec::new();
    for (name, _) in tree.names() {
        let is_used = slot(facts, name).is_some_and(|slot| used.variables.contains(&slot));
        if !is_used || seen.contains(&name) {
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

/// The variables that a value comes from: of cases only those of the one that holds.
struct Used<'a, 'p> {
    facts: &'a Facts<'p>,
    formula: &'a Formula,
    variables: Vec<VarId>,
    conditions: usize,
}

/// With more cases than this nobody waits for all of them to be told apart.
const MAX_CONDITIONS: usize = 8;

impl Used<'_, '_> {
    fn gather(&mut self, node: &Node) {
        match node {
            Node::Read(variable) => self.variables.push(*variable),
            Node::IfElse { condition, then, otherwise } => match self.holds(condition) {
                Some(true) => self.gather(then),
                Some(false) => self.gather(otherwise),
                None => {
                    self.gather(then);
                    self.gather(otherwise);
                }
            },
            _ => node.each_part(&mut |part| self.gather(part)),
        }
    }

    /// Whether a condition likely holds; none where that can't be told.
    fn holds(&mut self, condition: &Node) -> Option<bool> {
        self.conditions += 1;
        if self.conditions > MAX_CONDITIONS {
            return None;
        }
        let asked = Formula {
            text: String::new(),
            node: condition.clone(),
            gives: Type::Bool,
            spreads: self.formula.spreads.clone(),
            chances: self.formula.chances,
        };
        self.facts.evaluator.chance(&asked).ok().map(|chance| chance > 0.5)
    }
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
