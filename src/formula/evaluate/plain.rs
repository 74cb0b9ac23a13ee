//! Formulas at plain values: nothing uncertain about them, nobody's doubts. What a drawn car really
//! shows is told this way.

use std::cell::RefCell;
use std::collections::HashMap;
use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

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
    /// What other values have given before.
    before: Option<&'a Worked>,
}

/// What formulas gave at values that were tried before: to draw a car, thousands are tried that leave most
/// of what was worked out as it is.
pub struct Worked {
    /// By formula: the values it rests on, however far below.
    below: Vec<Vec<usize>>,
    /// Values that some formula asks of whether they are known.
    asked: Vec<bool>,
    known: RefCell<HashMap<(usize, u64), Result<f64, EvalError>>>,
}

/// So many results are kept.
const MAX_KEPT: usize = 1 << 18;

fn places(variables: &[VarId]) -> Vec<usize> {
    variables.iter().map(|variable| variable.0).collect()
}

impl Worked {
    /// For `values` values, and formulas behind the variables that follow.
    #[must_use]
    pub fn new(values: usize, formulas: &[&Formula]) -> Self {
        let reads: Vec<Vec<usize>> = formulas.iter().map(|own| places(&own.node.reads())).collect();
        let below = |own: &[usize]| -> Vec<usize> {
            let (mut seen, mut next) = (vec![false; values + formulas.len()], own.to_vec());
            while let Some(read) = next.pop() {
                if !std::mem::replace(&mut seen[read], true) {
                    next.extend(read.checked_sub(values).iter().flat_map(|place| &reads[*place]));
                }
            }
            (0..values).filter(|value| seen[*value]).collect()
        };
        let mut asked = vec![false; values];
        for formula in formulas {
            formula.node.walk(&mut |node| {
                if let Node::Known(variable) = node {
                    below(&[variable.0]).into_iter().for_each(|value| asked[value] = true);
                }
            });
        }
        let below = reads.iter().map(|own| below(own)).collect();
        Self { below, asked, known: RefCell::default() }
    }

    fn result(
        &self,
        place: usize,
        values: u64,
        work: impl FnOnce() -> Result<f64, EvalError>,
    ) -> Result<f64, EvalError> {
        let key = (place, values);
        if let Some(known) = self.known.borrow().get(&key) {
            return known.clone();
        }
        let result = work();
        let mut known = self.known.borrow_mut();
        if known.len() >= MAX_KEPT {
            known.clear();
        }
        known.insert(key, result.clone());
        result
    }
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
        Self { values, told, hides, formulas, worked: RefCell::default(), before: None }
    }

    /// The same, with what these formulas have given before.
    #[must_use]
    pub fn remembering(self, before: &'a Worked) -> Self {
        Self { before: Some(before), ..self }
    }

    /// What formula `place` gives.
    fn worked(&self, place: usize) -> Result<f64, EvalError> {
        let work = || self.number(self.formulas.get(place).ok_or(EvalError::Unknown)?);
        match self.before.and_then(|before| Some((before, before.below.get(place)?))) {
            Some((before, below)) => before.result(place, self.mark(below, &before.asked), work),
            None => work(),
        }
    }

    /// A number for these values and what may be read of them. That two have the same is as likely as not
    /// only among billions.
    fn mark(&self, of: &[usize], asked: &[bool]) -> u64 {
        let mut hasher = DefaultHasher::new();
        for place in of {
            let is_told = self.told.is_none_or(|told| told[*place]);
            (is_told && asked[*place]).hash(&mut hasher);
            let readable = self.values[*place].as_ref();
            match readable.filter(|_| is_told || !self.hides[*place]) {
                None => 0_u8.hash(&mut hasher),
                Some(InputValue::Number { value, .. }) => (1_u8, value.to_bits()).hash(&mut hasher),
                Some(InputValue::Bool(truth)) => (2_u8, truth).hash(&mut hasher),
                Some(InputValue::Option(option)) => (3_u8, option).hash(&mut hasher),
                Some(InputValue::Table(rows)) => {
                    rows.iter().for_each(|row| row.map(f64::to_bits).hash(&mut hasher));
                }
            }
        }
        hasher.finish()
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
                let value = self.worked(place);
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
