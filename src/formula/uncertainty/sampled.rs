//! Formulas at random draws of all their uncertain inputs (JCGM 101:2008). Each step of a formula is
//! taken for many draws before the next one, so that what a step costs besides its arithmetic is paid
//! once. What a formula gives is kept, so that all that read it share the work.

use std::sync::{Arc, Mutex, OnceLock};

use rayon::prelude::*;

use super::column::{Column, Holds};
use super::input_draws::InputDraws;
use super::lock::lock;
use super::piece::Piece;
use crate::formula::check::{Node, VarId};
use crate::formula::evaluate::{
    CompactError, Datum, Domain, EvalError, Logic, Model, Values, finite, number, told,
};
use crate::formula::syntax::Comparison;

/// How many draws take a step together: few enough that what they give stays in the nearest memory,
/// enough for every core to have some.
const TOGETHER: usize = 1_000;

/// What a piece gives at one draw.
type AtDraw = Result<f64, CompactError>;

/// What was worked out at random draws, by how many there are; a program knows few sizes.
#[derive(Default)]
pub(crate) struct Samples(Mutex<Vec<Arc<Sample>>>);

impl Samples {
    /// What a piece gives at each of so many draws; none where it is refused.
    pub(crate) fn of(&self, model: &Model<'_>, piece: Piece<'_>, draws: usize) -> Vec<Option<f64>> {
        let sample = self.sample(model, draws);
        let literals = sample.inputs.literals(piece.formula, 0);
        let steps = Steps { model, sample: &sample, literals: &literals, chances: piece.chances };
        steps.all(piece.node).into_iter().map(Result::ok).collect()
    }

    fn sample(&self, model: &Model<'_>, draws: usize) -> Arc<Sample> {
        let mut kept = lock(&self.0);
        if let Some(found) = kept.iter().find(|sample| sample.inputs.count() == draws) {
            return Arc::clone(found);
        }
        let empty = Arc::new(Sample {
            inputs: InputDraws::new(draws, model.inputs().len()),
            formulas: vec![OnceLock::new(); model.formulas().len()],
        });
        kept.push(Arc::clone(&empty));
        empty
    }
}

/// A number of draws of every input, and what was worked out at them.
struct Sample {
    inputs: InputDraws,
    /// By formula: what it gives at each draw.
    formulas: Vec<OnceLock<Box<[AtDraw]>>>,
}

impl Sample {
    /// What a formula of the model gives at every draw.
    fn formula(&self, model: &Model<'_>, index: usize) -> &[AtDraw] {
        if let Some(known) = self.formulas[index].get() {
            return known;
        }
        // Not within `get_or_init`: while a thread waits for others to do their share of a slow call,
        // rayon may give it a piece of work that asks for this very formula, and it would wait for
        // itself. At worst two threads work out the same.
        let prepared = &model.formulas()[index];
        let literals = self.inputs.literals(&prepared.formula, occurrence(model, index));
        let chances = &prepared.chances;
        let steps = Steps { model, sample: self, literals: &literals, chances };
        let found = steps.all(&prepared.formula.node);
        self.formulas[index].get_or_init(|| found.into())
    }
}

/// How many formulas before it have its very text: their literals are drawn apart.
fn occurrence(model: &Model<'_>, index: usize) -> usize {
    let formula = &model.formulas()[index].formula;
    if formula.spreads.is_empty() {
        return 0;
    }
    let before = model.formulas()[..index].iter();
    before.filter(|other| other.formula.text == formula.text).count()
}

/// The steps of one formula.
struct Steps<'a, 'f> {
    model: &'a Model<'f>,
    sample: &'a Sample,
    literals: &'a [Box<[f64]>],
    chances: &'a [Result<f64, EvalError>],
}

impl Steps<'_, '_> {
    /// What a piece gives at all draws.
    fn all(&self, node: &Node) -> Vec<AtDraw> {
        let count = self.sample.inputs.count();
        let mut found = Vec::with_capacity(count);
        for from in (0..count).step_by(TOGETHER) {
            let at: Vec<usize> = (from..count.min(from + TOGETHER)).collect();
            found.extend(number(&Rows { steps: self, at: &at }, node).rows(at.len()));
        }
        found
    }
}

/// The steps of one formula at some of the draws, one at least.
struct Rows<'a, 'f> {
    steps: &'a Steps<'a, 'f>,
    at: &'a [usize],
}

impl Rows<'_, '_> {
    fn each(&self, value: impl Fn(usize) -> AtDraw) -> Column<AtDraw> {
        Column::Each(self.at.iter().map(|draw| value(*draw)).collect())
    }

    /// What a branch gives at those of the draws that take it, in their order.
    fn taken(&self, branch: &Node, conditions: &[Holds], taken: bool) -> Vec<AtDraw> {
        let draws = self.at.iter().zip(conditions).filter(|(_, holds)| **holds == Ok(taken));
        let at: Vec<usize> = draws.map(|(draw, _)| *draw).collect();
        // A branch that no draw takes isn't worked out.
        if at.is_empty() {
            return Vec::new();
        }
        number(&Rows { steps: self.steps, at: &at }, branch).rows(at.len())
    }
}

impl Logic for Rows<'_, '_> {
    type Truth = Column<Holds>;

    fn atom(&self, atom: &Node) -> Self::Truth {
        told(self, atom)
    }
}

impl Domain for Rows<'_, '_> {
    type Error = CompactError;
    type Number = Column<AtDraw>;

    fn values(&self) -> &impl Values {
        self.steps.model
    }

    fn chances(&self) -> &[Result<f64, EvalError>] {
        self.steps.chances
    }

    fn constant(&self, value: AtDraw) -> Self::Number {
        Column::Same(value)
    }

    fn literal(&self, index: usize, value: f64) -> Self::Number {
        match self.steps.literals.get(index) {
            Some(drawn) => self.each(|draw| finite(drawn[draw])),
            None => Column::Same(finite(value)),
        }
    }

    fn read(&self, variable: VarId) -> Self::Number {
        let Steps { model, sample, .. } = *self.steps;
        match model.formula_at(variable) {
            Some(index) if !model.formulas()[index].uncertain.is_empty() => {
                let drawn = sample.formula(model, index);
                self.each(|draw| drawn[draw])
            }
            None if model.given(variable).uncertainty > 0.0 => {
                let drawn = sample.inputs.given(model, variable);
                self.each(|draw| finite(drawn[draw]))
            }
            _ => {
                let value = model.datum(variable).and_then(Datum::number);
                Column::Same(value.map_err(CompactError::from).and_then(finite))
            }
        }
    }

    fn lift(
        &self,
        arguments: impl Iterator<Item = Self::Number>,
        slow: bool,
        step: impl Fn(&mut dyn Iterator<Item = AtDraw>) -> AtDraw + Sync,
    ) -> Self::Number {
        let columns: Vec<Self::Number> = arguments.collect();
        let row = |row: usize| step(&mut columns.iter().map(|column| column.at(row)));
        if columns.iter().all(Column::is_same) {
            return Column::Same(row(0));
        }
        let rows = 0..self.at.len();
        Column::Each(if slow {
            rows.into_par_iter().map(row).collect()
        } else {
            rows.map(row).collect()
        })
    }

    fn join(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        step: impl Fn(AtDraw, AtDraw) -> AtDraw,
    ) -> Self::Number {
        left.zip(right(), step)
    }

    fn compare(
        &self,
        left: Self::Number,
        right: impl FnOnce() -> Self::Number,
        operator: Comparison,
    ) -> Self::Truth {
        left.zip(right(), |left, right| Ok(operator.holds(left? - right?)))
    }

    /// Each draw takes the branch that is its own.
    fn branch(&self, condition: Self::Truth, then: &Node, otherwise: &Node) -> Self::Number {
        let conditions = match condition {
            Column::Same(Ok(holds)) => return number(self, if holds { then } else { otherwise }),
            Column::Same(Err(error)) => return Column::Same(Err(error)),
            Column::Each(conditions) => conditions,
        };
        let mut then = self.taken(then, &conditions, true).into_iter();
        let mut otherwise = self.taken(otherwise, &conditions, false).into_iter();
        let each = conditions.iter().map(|holds| match holds {
            Ok(true) => then.next(),
            Ok(false) => otherwise.next(),
            Err(error) => Some(Err(*error)),
        });
        Column::Each(each.map(|value| value.unwrap_or(Err(CompactError::Unknown))).collect())
    }
}
