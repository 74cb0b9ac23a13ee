//! Formulas at plain values: nothing uncertain about them, nobody's doubts. What a drawn car really
//! shows is told this way.

use std::cell::RefCell;
use std::collections::HashMap;

use super::domain::{number, truth};
use super::error::EvalError;
use super::input::InputValue;
use super::point::Point;
use super::values::{Datum, Values};
use crate::formula::check::{Formula, Node, VarId};

/// Values, and formulas behind them that are worked out when they are first wanted.
pub struct Plain<'a, 'f> {
    values: &'a [Option<InputValue>],
    /// Which values count as told; all others can be read all the same, where `hides` doesn't say no.
    told: Option<&'a [bool]>,
    /// Which values can't be read unless they are told.
    hides: &'a [bool],
    formulas: &'a [&'f Formula],
    worked: RefCell<HashMap<usize, Result<f64, EvalError>>>,
}

impl<'a, 'f> Plain<'a, 'f> {
    /// Values behind the variables from 0 on, formulas behind those that follow. With `told` only these
    /// values are known, and of the rest those that `hides` names can't be read.
    #[must_use]
    pub fn new(
        values: &'a [Option<InputValue>],
        told: Option<&'a [bool]>,
        hides: &'a [bool],
        formulas: &'a [&'f Formula],
    ) -> Self {
        Self { values, told, hides, formulas, worked: RefCell::default() }
    }

    /// Whether a truth holds.
    ///
    /// # Errors
    /// [`EvalError`] where the values don't tell.
    pub fn holds(&self, formula: &Formula) -> Result<bool, EvalError> {
        let chances = self.chances(formula);
        truth(&Point { values: self, literal: None, chances: &chances }, &formula.node)
    }

    /// What a formula gives, SI.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn number(&self, formula: &Formula) -> Result<f64, EvalError> {
        let chances = self.chances(formula);
        number(&Point { values: self, literal: None, chances: &chances }, &formula.node)
    }

    /// Where nothing is uncertain, the chance to lie within limits is 0 or 1.
    fn chances(&self, formula: &Formula) -> Vec<Result<f64, EvalError>> {
        let mut found = vec![Err(EvalError::Unknown); formula.chances];
        for (index, piece) in formula.chance_nodes() {
            if let Node::Chance { value, lower, upper, .. } = piece {
                let within = {
                    let at = |node: &Node| {
                        number(&Point { values: self, literal: None, chances: &found }, node)
                    };
                    let inside = || -> Result<bool, EvalError> {
                        let value = at(value)?;
                        let above = lower.as_ref().map(|low| at(low)).transpose()?;
                        let below = upper.as_ref().map(|top| at(top)).transpose()?;
                        let is_above = above.is_none_or(|above| value >= above);
                        Ok(is_above && below.is_none_or(|below| value <= below))
                    };
                    inside().map(f64::from)
                };
                found[index] = within;
            }
        }
        found
    }
}

impl Values for Plain<'_, '_> {
    fn datum(&self, variable: VarId) -> Result<Datum<'_>, EvalError> {
        if let Some(place) = variable.0.checked_sub(self.values.len()) {
            let kept = self.worked.borrow().get(&place).cloned();
            let value = kept.unwrap_or_else(|| {
                let formula = self.formulas.get(place).ok_or(EvalError::Unknown);
                let value = formula.and_then(|formula| self.number(formula));
                self.worked.borrow_mut().insert(place, value.clone());
                value
            });
            return value.map(Datum::Number);
        }
        if self.hides[variable.0] && self.told.is_some_and(|told| !told[variable.0]) {
            return Err(EvalError::Unknown);
        }
        match self.values[variable.0].as_ref().ok_or(EvalError::Unknown)? {
            InputValue::Number { value, .. } => Ok(Datum::Number(*value)),
            InputValue::Bool(truth) => Ok(Datum::Bool(*truth)),
            InputValue::Option(option) => Ok(Datum::Option(*option)),
            InputValue::Table(rows) => Ok(Datum::Table(rows)),
        }
    }

    fn known(&self, variable: VarId) -> bool {
        match variable.0.checked_sub(self.values.len()) {
            Some(place) => self.formulas.get(place).is_some_and(|formula| {
                let reads = formula.node.reads();
                reads.into_iter().all(|read| self.known(read)) && self.datum(variable).is_ok()
            }),
            None => {
                self.values[variable.0].is_some() && self.told.is_none_or(|told| told[variable.0])
            }
        }
    }
}
