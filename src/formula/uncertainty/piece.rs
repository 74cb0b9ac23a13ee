//! A piece of a formula, with what the formula holds besides.

use crate::formula::check::{Formula, Node};
use crate::formula::evaluate::EvalError;

/// A piece of a formula that is to be worked out.
#[derive(Clone, Copy)]
pub(crate) struct Piece<'a> {
    pub(crate) formula: &'a Formula,
    pub(crate) node: &'a Node,
    /// The chances that the formula holds, at the inputs' own values.
    pub(crate) chances: &'a [Result<f64, EvalError>],
}

impl<'a> Piece<'a> {
    /// A whole formula.
    pub(crate) fn whole(formula: &'a Formula, chances: &'a [Result<f64, EvalError>]) -> Self {
        Self { formula, node: &formula.node, chances }
    }

    /// Another piece of the same formula.
    pub(crate) fn at(self, node: &'a Node) -> Self {
        Self { node, ..self }
    }
}
