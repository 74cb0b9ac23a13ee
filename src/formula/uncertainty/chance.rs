//! The chances that a formula holds (`chance_below`, `chance_between`): from the uncertainty of the
//! whole difference of a value to its limit (JCGM 106:2012, 7), so that what the two share counts
//! once.

use super::estimate::Estimate;
use super::joint::{correlation, rectangle};
use super::normal::chance_negative;
use super::piece::Piece;
use crate::formula::check::{Formula, Node};
use crate::formula::evaluate::EvalError;
use crate::formula::syntax::Arithmetic;

type Chance = Result<f64, EvalError>;

/// Every chance of a formula by its index, at the inputs' own values; `estimate` works out a piece.
/// Chances inside chances are worked out first.
pub(crate) fn chances(
    formula: &Formula,
    estimate: &dyn Fn(Piece<'_>) -> Result<Estimate, EvalError>,
) -> Vec<Chance> {
    let mut found = vec![Err(EvalError::Unknown); formula.chances];
    for (index, piece) in formula.chance_nodes() {
        if let Node::Chance { value, lower, upper, .. } = piece {
            let to = |limit: &Node| {
                let node = difference(value, limit);
                estimate(Piece { formula, node: &node, chances: &found })
            };
            let chance = within(&to, lower.as_deref(), upper.as_deref());
            found[index] = chance;
        }
    }
    found
}

/// left − right.
pub(crate) fn difference(left: &Node, right: &Node) -> Node {
    Node::Arithmetic {
        operator: Arithmetic::Subtract,
        left: Box::new(left.clone()),
        right: Box::new(right.clone()),
    }
}

/// The chance to lie within limits; `to` gives the difference to one.
fn within(
    to: &dyn Fn(&Node) -> Result<Estimate, EvalError>,
    lower: Option<&Node>,
    upper: Option<&Node>,
) -> Chance {
    match (lower, upper) {
        (None, None) => Ok(1.0),
        (None, Some(upper)) => Ok(below(&to(upper)?)),
        (Some(lower), None) => Ok(1.0 - below(&to(lower)?)),
        (Some(lower), Some(upper)) => Ok(between(&to(lower)?, &to(upper)?)),
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
    let edge = |estimate: &Estimate| -estimate.band.value / estimate.band.uncertainty;
    let above_lower = (edge(lower), f64::INFINITY);
    let below_upper = (f64::NEG_INFINITY, edge(upper));
    let (to_lower, to_upper) = (lower.directions(), upper.directions());
    // Where the first order sees nothing of the value, it is still one and the same value.
    let unseen = to_lower.is_empty() && to_upper.is_empty();
    let correlation = if unseen { 1.0 } else { correlation(&to_lower, &to_upper) };
    rectangle(above_lower, below_upper, correlation)
}
