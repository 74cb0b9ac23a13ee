//! The chances that a formula holds (`chance_below`, `chance_between`): from the uncertainty of the
//! whole difference of a value to its limit (JCGM 106:2012, 7), so that what the two share counts
//! once.

use super::band::DRAWS;
use super::joint::{correlation, rectangle};
use super::normal::chance_negative;
use crate::formula::check::node::{Formula, Node};
use crate::formula::evaluate::point::EvalError;
use crate::formula::evaluate::sheet::{Estimate, Evaluator, Piece};
use crate::formula::syntax::expression::Arithmetic;

impl Evaluator<'_> {
    /// Every chance of a formula by its index, at the given values. Chances inside chances are
    /// worked out first, since the checker numbers the inner ones lower.
    pub(crate) fn chances(&self, formula: &Formula) -> Vec<Result<f64, EvalError>> {
        if formula.chances == 0 {
            return Vec::new();
        }
        let mut pieces: Vec<(usize, &Node)> = Vec::new();
        formula.node.walk(&mut |part| {
            if let Node::Chance { index, .. } = part {
                pieces.push((*index, part));
            }
        });
        // A relation may put one and the same chance in more than once.
        pieces.sort_by_key(|(index, _)| *index);
        pieces.dedup_by_key(|(index, _)| *index);
        let mut found = vec![Err(EvalError::Unknown); formula.chances];
        for (index, piece) in pieces {
            if let Node::Chance { value, lower, upper, .. } = piece {
                let limits = (lower.as_deref(), upper.as_deref());
                found[index] = self.chance_within(formula, value, limits, &found);
            }
        }
        found
    }

    fn chance_within(
        &self,
        formula: &Formula,
        value: &Node,
        (lower, upper): (Option<&Node>, Option<&Node>),
        chances: &[Result<f64, EvalError>],
    ) -> Result<f64, EvalError> {
        let to = |limit: &Node| self.difference(formula, value, limit, chances);
        match (lower, upper) {
            (None, None) => Ok(1.0),
            (None, Some(upper)) => Ok(below(&to(upper)?)),
            (Some(lower), None) => Ok(1.0 - below(&to(lower)?)),
            (Some(lower), Some(upper)) => Ok(between(&to(lower)?, &to(upper)?)),
        }
    }

    /// left − right of one formula's piece, with its band.
    fn difference(
        &self,
        formula: &Formula,
        left: &Node,
        right: &Node,
        chances: &[Result<f64, EvalError>],
    ) -> Result<Estimate, EvalError> {
        let node = Node::Arithmetic {
            operator: Arithmetic::Subtract,
            left: Box::new(left.clone()),
            right: Box::new(right.clone()),
        };
        let piece = Piece { formula, node: &node };
        self.estimate_piece(piece, chances, DRAWS)
    }
}

/// The chance that a difference to the limit is negative.
fn below(difference: &Estimate) -> f64 {
    chance_negative(difference.band.value, difference.band.uncertainty)
}

/// The chance that the difference to the lower limit isn't negative while that to the upper one
/// is. The two share the value, and perhaps more.
fn between(lower: &Estimate, upper: &Estimate) -> f64 {
    if lower.band.uncertainty <= 0.0 || upper.band.uncertainty <= 0.0 {
        return (1.0 - below(lower)) * below(upper);
    }
    let edge = |worked: &Estimate| -worked.band.value / worked.band.uncertainty;
    let above_lower = (edge(lower), f64::INFINITY);
    let below_upper = (f64::NEG_INFINITY, edge(upper));
    let (to_lower, to_upper) = (lower.directions(), upper.directions());
    // Where the first order sees nothing of the value, it is still one and the same value.
    let depends_on_error = to_lower.is_empty() && to_upper.is_empty();
    let correlation = if depends_on_error { 1.0 } else { correlation(&to_lower, &to_upper) };
    rectangle(above_lower, below_upper, correlation)
}
