//! A formula at one set of values.

use super::arithmetic::finite;
use super::domain::{Domain, Logic, number, told};
use super::error::EvalError;
use super::values::{Datum, Values};
use crate::formula::check::{Node, VarId};
use crate::formula::syntax::Comparison;

/// One formula at one set of values.
#[derive(Clone, Copy)]
pub(crate) struct Point<'a, V> {
    pub(crate) values: &'a V,
    /// The literal with `±` that has another value than its own, by its index.
    pub(crate) literal: Option<(usize, f64)>,
    /// The chances that the formula holds.
    pub(crate) chances: &'a [Result<f64, EvalError>],
}

impl<V: Values> Logic for Point<'_, V> {
    type Truth = Result<bool, EvalError>;

    fn atom(&self, atom: &Node) -> Self::Truth {
        told(self, atom)
    }
}

impl<V: Values> Domain for Point<'_, V> {
    type Error = EvalError;
    type Number = Result<f64, EvalError>;

    fn values(&self) -> &impl Values {
        self.values
    }

    fn chances(&self) -> &[Result<f64, EvalError>] {
        self.chances
    }

    fn constant(&self, value: Self::Number) -> Self::Number {
        value
    }

    fn literal(&self, index: usize, value: f64) -> Self::Number {
        finite(match self.literal {
            Some((moved, to)) if moved == index => to,
            _ => value,
        })
    }

    fn read(&self, variable: VarId) -> Self::Number {
        self.values.datum(variable).and_then(Datum::number).and_then(finite)
    }

    fn lift(
        &self,
        mut arguments: impl Iterator<Item = Self::Number>,
        _slow: bool,
        step: impl Fn(&mut dyn Iterator<Item = Self::Number>) -> Self::Number,
    ) -> Self::Number {
        step(&mut arguments)
    }

    fn join(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        step: impl Fn(Self::Number, Self::Number) -> Self::Number,
    ) -> Self::Number {
        match left {
            Ok(_) => step(left, right()),
            Err(_) => step(left, Err(EvalError::Unknown)),
        }
    }

    fn compare(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        operator: Comparison,
    ) -> Self::Truth {
        Ok(operator.holds(left? - right()?))
    }

    fn branch(&self, condition: Self::Truth, then: &Node, otherwise: &Node) -> Self::Number {
        number(self, if condition? { then } else { otherwise })
    }
}
