//! Whether one more answer could make a truth hold. No answer is guessed at: only what the truth still
//! hangs on counts.

use super::point::{EvalError, Point};
use super::sheet::Evaluator;
use crate::formula::check::node::{Formula, Node, VarId};

/// What a truth may come to.
#[derive(Clone, Copy)]
struct Outcomes {
    yes: bool,
    no: bool,
}

impl Outcomes {
    const EITHER: Self = Self { yes: true, no: true };
    const NEITHER: Self = Self { yes: false, no: false };
}

impl Evaluator<'_> {
    /// Whether some answer in a slot would make a truth hold that doesn't hold yet, while everything
    /// else that is not known stays so. Of a comparison with anything else unknown below it, no answer
    /// does; of several pieces that rest on the slot each is taken by itself, so that they may seem to
    /// hold together where they can't.
    #[must_use]
    pub fn may_hold(&self, formula: &Formula, slot: VarId) -> bool {
        let spreads: Vec<f64> = formula.spreads.iter().map(|(value, _)| *value).collect();
        let chances = self.chances(formula);
        let now = Point { data: self, spreads: &spreads, chances: &chances };
        let hangs_on_it = self.below(&formula.node).contains(&slot);
        hangs_on_it
            && now.truth(&formula.node) != Ok(true)
            && self.outcomes(now, &formula.node, slot).yes
    }

    fn outcomes(&self, now: Point<'_>, node: &Node, slot: VarId) -> Outcomes {
        let below = self.below(node);
        if !below.contains(&slot) {
            return match now.truth(node) {
                Ok(truth) => Outcomes { yes: truth, no: !truth },
                Err(EvalError::Unknown | EvalError::Refused(_)) => Outcomes::NEITHER,
            };
        }
        let of = |node: &Node| self.outcomes(now, node, slot);
        match node {
            Node::And(left, right) => {
                let (left, right) = (of(left), of(right));
                Outcomes { yes: left.yes && right.yes, no: left.no || right.no }
            }
            Node::Or(left, right) => {
                let (left, right) = (of(left), of(right));
                Outcomes { yes: left.yes || right.yes, no: left.no && right.no }
            }
            Node::Not(inner) => {
                let inner = of(inner);
                Outcomes { yes: inner.no, no: inner.yes }
            }
            Node::Compared { .. } => {
                let told = |other: &VarId| *other == slot || self.answered(*other).is_some();
                if below.iter().all(told) { Outcomes::EITHER } else { Outcomes::NEITHER }
            }
            _ => Outcomes::EITHER,
        }
    }
}
