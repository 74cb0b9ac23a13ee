//! Formulas with one of their uncertain inputs moved by a step. What a formula gives then is kept, so
//! that all that read it share the work.

use std::collections::HashMap;
use std::sync::Mutex;

use super::band::OFFSETS;
use super::lock::lock;
use super::piece::Piece;
use crate::formula::check::VarId;
use crate::formula::evaluate::{Datum, EvalError, Model, Point, UncertainInput, Values, number};

type Value = Result<f64, EvalError>;

/// What formulas gave with an input moved: by formula, input and place of the step in [`OFFSETS`].
#[derive(Default)]
pub(crate) struct Perturbations(Mutex<HashMap<(usize, UncertainInput, usize), Value>>);

impl Perturbations {
    /// What a piece gives with one input moved by a step of [`OFFSETS`].
    pub(crate) fn of(
        &self,
        model: &Model<'_>,
        piece: Piece<'_>,
        input: UncertainInput,
        step: usize,
    ) -> Value {
        let at = model.estimate_of(input, piece.formula);
        let to = at.value + OFFSETS[step] * at.uncertainty;
        let literal = match input {
            UncertainInput::Own { index } => Some((index, to)),
            _ => None,
        };
        let values = Perturbed { model, kept: self, input, step, to };
        number(&Point { values: &values, literal, chances: piece.chances }, piece.node)
    }
}

/// The values of a model with one input moved.
struct Perturbed<'a, 'f> {
    model: &'a Model<'f>,
    kept: &'a Perturbations,
    input: UncertainInput,
    step: usize,
    /// What it is moved to.
    to: f64,
}

impl Perturbed<'_, '_> {
    fn formula(&self, index: usize) -> Value {
        let prepared = &self.model.formulas()[index];
        if !prepared.uncertain.contains(&self.input) {
            return prepared.value.clone();
        }
        let key = (index, self.input, self.step);
        let kept = lock(&self.kept.0).get(&key).cloned();
        if let Some(found) = kept {
            return found;
        }
        let literal = match self.input {
            UncertainInput::Literal { variable, index: place }
                if variable == self.model.variable(index) =>
            {
                Some((place, self.to))
            }
            _ => None,
        };
        let point = Point { values: self, literal, chances: &prepared.chances };
        let found = number(&point, &prepared.formula.node);
        lock(&self.kept.0).insert(key, found.clone());
        found
    }
}

impl Values for Perturbed<'_, '_> {
    fn datum(&self, variable: VarId) -> Result<Datum<'_>, EvalError> {
        if let Some(index) = self.model.formula_at(variable) {
            return self.formula(index).map(Datum::Number);
        }
        if self.input == UncertainInput::Given(variable) {
            return Ok(Datum::Number(self.to));
        }
        self.model.datum(variable)
    }

    fn known(&self, variable: VarId) -> bool {
        self.model.known(variable)
    }
}
