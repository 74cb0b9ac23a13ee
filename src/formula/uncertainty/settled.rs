//! Answers of which it is taken as settled whether they are right or off altogether, so that truths
//! that rest on the same of them can be weighed for each case and put together.

use std::collections::BTreeMap;

use super::basis::{Asked, Basis, Question, Questions};
use super::evaluator::Evaluator;
use crate::formula::check::{Formula, Node, VarId};
use crate::formula::evaluate::{InputValue, Values};

/// Which answers are settled, and how many truths rest on each that may be off.
#[derive(Debug, Clone, Default)]
pub struct Settled {
    /// Whether each of these is off.
    pub off: BTreeMap<VarId, bool>,
    /// How many truths rest on an answer: of several readings below one expression that are as often
    /// off, the one with most truths stands for all, so that one slip counts once wherever it can.
    pub truths: BTreeMap<VarId, usize>,
}

/// An answer that one of a truth's bases may be off by.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubtful {
    pub basis: Basis,
    /// The answers that may be off: of an expression the least sure of its readings, of all else the one
    /// it is.
    pub answers: Vec<VarId>,
    /// The chance, 0 to 1, that such an answer is right.
    pub sure: f64,
    /// The limits that an expression is held against; empty of all else.
    pub limits: Vec<f64>,
}

impl Settled {
    /// Whether the answer that stands for a basis is off; nothing where that isn't settled.
    pub(crate) fn is_off(&self, evaluator: &Evaluator<'_>, basis: &Basis) -> Option<bool> {
        if self.off.is_empty() {
            return None;
        }
        let (answers, _) = least_sure(evaluator, basis);
        self.off.get(&self.standing_for(&answers)?).copied()
    }

    /// The one of these answers that stands for all: the one with most truths, of equals the first.
    #[must_use]
    pub fn standing_for(&self, answers: &[VarId]) -> Option<VarId> {
        let truths = |variable: &VarId| self.truths.get(variable).copied().unwrap_or(0);
        let most = answers.iter().map(truths).max()?;
        answers.iter().copied().find(|variable| truths(variable) == most)
    }
}

impl Evaluator<'_> {
    /// The bases of some truths that an answer may be off for. A choice is none: it may be off in several
    /// ways, and its options are patterns of their own.
    #[must_use]
    pub fn doubtful(&self, truths: &[&Formula]) -> Vec<Doubtful> {
        let questions = Questions::of(truths.iter().map(|formula| &formula.node));
        let doubtful = |Question { basis, asked }: Question| {
            if matches!(basis, Basis::Choice(_)) {
                return None;
            }
            let (answers, sure) = least_sure(self, &basis);
            let mut limits: Vec<f64> = asked
                .iter()
                .filter_map(|asked| match asked {
                    Asked::Limit(limit) => Some(limit.at),
                    _ => None,
                })
                .collect();
            // Each way that a reading may be taken parts what it shows once more, as a limit does.
            if matches!(basis, Basis::Reading { .. }) {
                #[expect(clippy::cast_precision_loss, reason = "a handful")]
                limits.extend((0..asked.len()).map(|way| way as f64));
            }
            limits.sort_by(f64::total_cmp);
            limits.dedup();
            (!answers.is_empty()).then_some(Doubtful { basis, answers, sure, limits })
        };
        questions.all.into_iter().filter_map(doubtful).collect()
    }
}

/// The answers below a basis that are least sure, in the order of the pack, and how sure they are; none
/// where all of them are always right.
pub(crate) fn least_sure(evaluator: &Evaluator<'_>, basis: &Basis) -> (Vec<VarId>, f64) {
    let sure = |variable: VarId| {
        let input = evaluator.model.input(variable)?;
        let number = match input.value.as_ref()? {
            InputValue::Number { .. } | InputValue::Table(_) => true,
            InputValue::Bool(_) => false,
            // One option alone can't be mistaken for another.
            InputValue::Option(_) if input.options < 2 => return None,
            InputValue::Option(_) => false,
        };
        Some((number, input.sure))
    };
    let one = |variable: VarId| match sure(variable) {
        Some((false, sure)) if sure < 1.0 => (vec![variable], sure),
        _ => (Vec::new(), 1.0),
    };
    match basis {
        Basis::Answer(variable) | Basis::Choice(variable) => one(*variable),
        Basis::Reading { reading, .. } => match sure(*reading) {
            Some((_, sure)) if sure < 1.0 => (vec![*reading], sure),
            _ => (Vec::new(), 1.0),
        },
        Basis::Expression(node) => {
            let read = readings(evaluator, node);
            let all: Vec<(VarId, f64)> = read
                .filter_map(|variable| Some((variable, sure(variable)?)))
                .filter_map(|(variable, (number, sure))| number.then_some((variable, sure)))
                .collect();
            let least = all.iter().map(|(_, sure)| *sure).fold(1.0, f64::min);
            let unsure = all.into_iter().filter(|(_, sure)| *sure == least && least < 1.0);
            (unsure.map(|(variable, _)| variable).collect(), least)
        }
    }
}

/// What a person answered below an expression.
fn readings<'e>(
    evaluator: &'e Evaluator<'_>,
    node: &Node,
) -> impl Iterator<Item = VarId> + use<'e> {
    let below = evaluator.model.below(node);
    below.into_iter().filter(|variable| evaluator.model.known(*variable))
}
