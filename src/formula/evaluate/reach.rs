//! What a formula may come to, whatever is answered within the ranges that the rules give; so that one
//! that no answer decides is told before anybody is asked.

use super::domain::{Logic, number, truth};
use super::error::EvalError;
use super::may_hold::Outcomes;
use super::plain::Plain;
use super::point::Point;
use crate::formula::check::{Math, Node, VarId};
use crate::formula::syntax::{Arithmetic, Comparison};
use crate::physics::Refusal;

/// Where a number may lie, SI: from and to, both within.
pub type Reach = (f64, f64);

/// Nothing is known of it.
pub const ANYWHERE: Reach = (f64::NEG_INFINITY, f64::INFINITY);

/// Where variables may lie.
struct Within<'a>(&'a dyn Fn(VarId) -> Reach);

/// Where a number may lie; never narrower than it does.
pub fn reach(node: &Node, read: &dyn Fn(VarId) -> Reach) -> Reach {
    Within(read).number(node)
}

/// The one truth that a condition always comes to, where no answer decides it. Each part is taken by
/// itself, so that none is found where two parts exclude one another.
pub fn fixed_truth(node: &Node, read: &dyn Fn(VarId) -> Reach) -> Option<bool> {
    match truth(&Within(read), node) {
        Outcomes { yes: true, no: false } => Some(true),
        Outcomes { yes: false, no: true } => Some(false),
        _ => None,
    }
}

/// Why a part that no answer enters can't be worked out, if one can't.
#[must_use]
pub fn constant_refusal(node: &Node) -> Option<Refusal> {
    let mut found = None;
    is_constant(node, &mut found);
    found
}

/// Whether no answer enters; notes the first such part, the innermost, that is refused.
fn is_constant(node: &Node, found: &mut Option<Refusal>) -> bool {
    if let Node::Arithmetic { operator: Arithmetic::Divide, right, .. } = node
        && right.fixed() == Some(0.0)
    {
        *found = Some(Refusal::new("division", "the divisor is 0"));
    }
    let mut constant = match node {
        Node::Number(_) => return true,
        Node::Negated(_) | Node::Arithmetic { .. } | Node::Math { .. } | Node::Call { .. } => true,
        _ => false,
    };
    node.each_part(&mut |part| constant &= is_constant(part, found));
    if constant && found.is_none() {
        let none = Plain::new(&[], None, &[], &[]);
        let point = Point { values: &none, literal: None, chances: &[] };
        if let Err(EvalError::Refused(refusal)) = number(&point, node) {
            *found = Some(refusal);
        }
    }
    constant
}

impl Logic for Within<'_> {
    type Truth = Outcomes;

    fn atom(&self, atom: &Node) -> Outcomes {
        let Node::Compared { operator, left, right } = atom else { return Outcomes::EITHER };
        let ((low, high), (from, to)) = (self.number(left), self.number(right));
        let (less, greater) = (low < to, high > from);
        let apart = less || greater;
        let equal = low <= to && high >= from;
        let (yes, no) = match operator {
            Comparison::Less => (less, high >= from),
            Comparison::LessOrEqual => (low <= to, greater),
            Comparison::Greater => (greater, low <= to),
            Comparison::GreaterOrEqual => (high >= from, less),
            Comparison::Equal => (equal, apart),
            Comparison::Unequal => (apart, equal),
        };
        Outcomes { yes, no }
    }
}

impl Within<'_> {
    fn number(&self, node: &Node) -> Reach {
        let (low, high) = match node {
            Node::Number(value) => (*value, *value),
            Node::Read(variable) => (self.0)(*variable),
            Node::Chance { .. } => (0.0, 1.0),
            Node::AsOf { value, .. } | Node::AtFirst { value, .. } => self.number(value),
            Node::Negated(inner) => {
                let (low, high) = self.number(inner);
                (-high, -low)
            }
            Node::Arithmetic { operator, left, right } => {
                combined(*operator, self.number(left), self.number(right))
            }
            Node::Math { operation, arguments } => {
                let reaches: Vec<Reach> = arguments.iter().map(|part| self.number(part)).collect();
                chosen(*operation, &reaches)
            }
            Node::IfElse { then, otherwise, .. } => {
                let (then, otherwise) = (self.number(then), self.number(otherwise));
                (then.0.min(otherwise.0), then.1.max(otherwise.1))
            }
            _ => ANYWHERE,
        };
        if low.is_nan() || high.is_nan() { ANYWHERE } else { (low, high) }
    }
}

/// Sum, difference, product or quotient of what lies within two ranges.
fn combined(operator: Arithmetic, (low, high): Reach, (from, to): Reach) -> Reach {
    let corners = |step: fn(f64, f64) -> f64| {
        let all = [step(low, from), step(low, to), step(high, from), step(high, to)];
        if all.iter().any(|corner| corner.is_nan()) {
            return ANYWHERE;
        }
        let least = all.into_iter().fold(f64::INFINITY, f64::min);
        (least, all.into_iter().fold(f64::NEG_INFINITY, f64::max))
    };
    match operator {
        Arithmetic::Add => (low + from, high + to),
        Arithmetic::Subtract => (low - to, high - from),
        Arithmetic::Multiply => corners(|a, b| a * b),
        Arithmetic::Divide if from > 0.0 || to < 0.0 => corners(|a, b| a / b),
        Arithmetic::Divide | Arithmetic::Power => ANYWHERE,
    }
}

fn chosen(operation: Math, reaches: &[Reach]) -> Reach {
    let lows = || reaches.iter().map(|reach| reach.0);
    let highs = || reaches.iter().map(|reach| reach.1);
    let least = |numbers: &mut dyn Iterator<Item = f64>| numbers.fold(f64::INFINITY, f64::min);
    let most = |numbers: &mut dyn Iterator<Item = f64>| numbers.fold(f64::NEG_INFINITY, f64::max);
    match operation {
        Math::Least => (least(&mut lows()), least(&mut highs())),
        Math::LeastKnown => (least(&mut lows()), most(&mut highs())),
        Math::Greatest => (most(&mut lows()), most(&mut highs())),
        Math::SquareRoot => (0.0, most(&mut highs()).max(0.0).sqrt()),
        Math::Magnitude => (0.0, most(&mut highs()).max(-least(&mut lows()))),
        Math::NaturalLogarithm => ANYWHERE,
        Math::Exponential => (0.0, f64::INFINITY),
    }
}
