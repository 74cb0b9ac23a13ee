//! Whether one more answer could make a truth hold. No answer is guessed at: only what the truth still
//! depends on counts.

use super::domain::{Logic, truth};
use super::error::EvalError;
use super::kleene::Kleene;
use super::model::Model;
use super::point::Point;
use crate::formula::check::{Node, VarId};

/// What a truth may come to; neither where nothing decides it.
#[derive(Clone, Copy)]
pub(super) struct Outcomes {
    pub(super) yes: bool,
    pub(super) no: bool,
}

impl Outcomes {
    pub(super) const EITHER: Self = Self { yes: true, no: true };
}

impl From<Result<bool, EvalError>> for Outcomes {
    fn from(truth: Result<bool, EvalError>) -> Self {
        Self { yes: truth == Ok(true), no: truth == Ok(false) }
    }
}

impl Kleene for Outcomes {
    fn negation(self) -> Self {
        Self { yes: self.no, no: self.yes }
    }

    fn conjunction(self, other: impl FnOnce() -> Self) -> Self {
        let other = other();
        Self { yes: self.yes && other.yes, no: self.no || other.no }
    }
}

/// A truth as far as the answer behind one variable still decides it.
struct Open<'a, 'f> {
    now: Point<'a, Model<'f>>,
    variable: VarId,
}

impl Logic for Open<'_, '_> {
    type Truth = Outcomes;

    fn atom(&self, atom: &Node) -> Outcomes {
        let model = self.now.values;
        let below = model.below(atom);
        if !below.contains(&self.variable) {
            return self.now.atom(atom).into();
        }
        let given = |other: VarId| model.input(other).is_some_and(|input| input.value.is_some());
        match atom {
            Node::Compared { .. } | Node::ReadsAs { .. }
                if !below.iter().all(|other| *other == self.variable || given(*other)) =>
            {
                Err(EvalError::Unknown).into()
            }
            _ => Outcomes::EITHER,
        }
    }
}

/// Whether some answer behind a variable would make a truth hold that doesn't hold yet, while
/// everything else that is not known stays so. No answer decides a comparison with anything else
/// unknown below it. Each atom that rests on the variable is taken by itself, so that several of them
/// may seem to hold together where they can't.
pub(crate) fn may_hold(now: Point<'_, Model<'_>>, node: &Node, variable: VarId) -> bool {
    let depends = now.values.below(node).contains(&variable);
    depends && truth(&now, node) != Ok(true) && truth(&Open { now, variable }, node).yes
}
