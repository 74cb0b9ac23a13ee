//! The one recursion over a checked formula. What a number and a truth are is left to a domain: one
//! value, a column of draws, what an answer could still make of it.

use super::arithmetic::{arithmetic, call, finite, interpolate, math, rising};
use super::error::{EvalError, EvalFailure};
use super::kleene::Kleene;
use super::values::{Datum, Values};
use crate::formula::check::{Node, TruthId, VarId};
use crate::formula::syntax::Comparison;

/// How a truth is told.
pub trait Logic {
    type Truth: Kleene + From<Result<bool, EvalError>>;

    /// Whether an atom holds: a [`Node::Answered`], [`Node::Chosen`], [`Node::Known`],
    /// [`Node::Compared`] or [`Node::ReadsAs`].
    fn atom(&self, atom: &Node) -> Self::Truth;

    /// Whether a truth with a name of its own holds, where that is known by its name.
    fn named(&self, _name: TruthId) -> Option<Self::Truth> {
        None
    }
}

/// Whether a truth holds.
pub fn truth<L: Logic>(logic: &L, node: &Node) -> L::Truth {
    match node {
        Node::Bool(truth) => Ok(*truth).into(),
        Node::Answered(_)
        | Node::Chosen { .. }
        | Node::Known(_)
        | Node::Compared { .. }
        | Node::ReadsAs { .. } => logic.atom(node),
        Node::Named { name, truth: inner } => {
            logic.named(*name).unwrap_or_else(|| truth(logic, inner))
        }
        Node::Not(inner) => truth(logic, inner).negation(),
        Node::And(left, right) => truth(logic, left).conjunction(|| truth(logic, right)),
        Node::Or(left, right) => truth(logic, left).disjunction(|| truth(logic, right)),
        Node::Iff { left, right } => truth(logic, left).equivalence(|| truth(logic, right)),
        Node::IfElse { condition, then, otherwise } => {
            truth(logic, condition).conditional(|| truth(logic, then), || truth(logic, otherwise))
        }
        // Left out, or a number, which the checker lets stand nowhere that a truth is wanted.
        _ => Err(EvalError::Unknown).into(),
    }
}

/// How a number is worked out.
pub(crate) trait Domain: Logic {
    type Error: EvalFailure;
    type Number;

    /// What stands behind the variables, for all but the numbers.
    fn values(&self) -> &impl Values;

    /// The chances that the formula holds, by their index.
    fn chances(&self) -> &[Result<f64, EvalError>];

    /// The same number wherever it is asked for.
    fn constant(&self, value: Result<f64, Self::Error>) -> Self::Number;

    /// The n-th literal with `±`.
    fn literal(&self, index: usize, value: f64) -> Self::Number;

    fn read(&self, variable: VarId) -> Self::Number;

    /// A step of any number of arguments; a slow one is worth sharing among the cores.
    fn lift(
        &self,
        arguments: impl Iterator<Item = Self::Number>,
        slow: bool,
        step: impl Fn(&mut dyn Iterator<Item = Result<f64, Self::Error>>) -> Result<f64, Self::Error>
        + Sync,
    ) -> Self::Number;

    /// A step of two; the right side is only asked for where the left one is there.
    fn join(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        step: impl Fn(Result<f64, Self::Error>, Result<f64, Self::Error>) -> Result<f64, Self::Error>,
    ) -> Self::Number;

    fn compare(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        operator: Comparison,
    ) -> Self::Truth;

    /// The branch that a condition decides for.
    fn branch(&self, condition: Self::Truth, then: &Node, otherwise: &Node) -> Self::Number;
}

/// The number that a piece gives, in coherent SI. Never one that isn't finite.
pub(crate) fn number<D: Domain>(domain: &D, node: &Node) -> D::Number {
    match node {
        Node::Number(value) => domain.constant(finite(*value)),
        Node::Spread { value, index, .. } => domain.literal(*index, *value),
        Node::Read(variable) => domain.read(*variable),
        Node::Chance { index, .. } => {
            let chance = domain.chances().get(*index).cloned().unwrap_or(Err(EvalError::Unknown));
            domain.constant(chance.map_err(D::Error::from).and_then(finite))
        }
        Node::AsOf { value, .. } | Node::AtFirst { value, .. } => number(domain, value),
        Node::Arithmetic { operator, left, right } => domain.join(
            number(domain, left),
            || number(domain, right),
            |left, right| arithmetic(*operator, left, right),
        ),
        Node::Negated(inner) => {
            domain.lift(std::iter::once(number(domain, inner)), false, |values| {
                let value = values.next().unwrap_or(Err(EvalError::Unknown.into()));
                value.map(|value| -value).map_err(D::Error::of_dependent)
            })
        }
        Node::Math { operation, arguments } => domain.lift(
            arguments.iter().map(|argument| number(domain, argument)),
            false,
            |values| math(*operation, values),
        ),
        Node::Call { function, arguments } => domain.lift(
            arguments.iter().map(|argument| number(domain, argument)),
            function.slow,
            |values| call(function, values),
        ),
        Node::Interpolate { table, along, at } => {
            let points = match domain.values().datum(*table).and_then(Datum::table) {
                Ok(rows) => rising(rows, *along),
                Err(error) => return domain.constant(Err(error.into())),
            };
            domain.lift(std::iter::once(number(domain, at)), false, |values| {
                let at = values.next().unwrap_or(Err(EvalError::Unknown.into()))?;
                interpolate(&points, at).and_then(finite)
            })
        }
        Node::IfElse { condition, then, otherwise } => {
            domain.branch(truth(domain, condition), then, otherwise)
        }
        // The checker lets no truth stand where a number is wanted.
        _ => domain.constant(Err(EvalError::Unknown.into())),
    }
}

/// Whether an atom holds, by what stands behind its variables.
pub(crate) fn told<D: Domain>(domain: &D, atom: &Node) -> D::Truth {
    match atom {
        Node::Answered(variable) => domain.values().datum(*variable).and_then(Datum::truth).into(),
        Node::Chosen { variable, option } => domain
            .values()
            .datum(*variable)
            .and_then(Datum::option)
            .map(|chosen| chosen == *option)
            .into(),
        Node::Known(variable) => Ok(domain.values().known(*variable)).into(),
        Node::Compared { operator, left, right } => {
            domain.compare(number(domain, left), || number(domain, right), *operator)
        }
        // At exact values: which of the two it lies nearer to.
        Node::ReadsAs { reading, with, without, .. } => {
            let off = |expected: &Node| {
                let read = domain.read(*reading);
                domain.join(read, || number(domain, expected), |read, be| Ok((read? - be?).abs()))
            };
            domain.compare(off(with), || off(without), Comparison::Less)
        }
        _ => Err(EvalError::Unknown).into(),
    }
}
