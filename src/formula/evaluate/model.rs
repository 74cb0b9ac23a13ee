//! What is prepared once: the inputs and the formulas behind them, what rests on what, how deep and
//! how slow each formula is, and its value at the inputs' own values. Evaluators only read it.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::error::EvalError;
use super::fingerprint::fingerprint;
use super::input::{Input, InputEstimate, InputValue, UncertainInput};
use super::values::{Datum, Values};
use crate::formula::check::{Formula, Node, VarId};
use crate::physics::Refusal;

/// How deep formulas may rest on one another, all their steps counted: a perturbed input is followed
/// through them by recursion, so this bounds the stack that it takes.
const MAX_FORMULA_DEPTH: usize = 1000;

/// One formula, prepared.
pub(crate) struct Prepared<'f> {
    pub(crate) formula: Cow<'f, Formula>,
    /// At the inputs' own values.
    pub(crate) value: Result<f64, EvalError>,
    /// The chances that it holds, at the inputs' own values.
    pub(crate) chances: Vec<Result<f64, EvalError>>,
    /// The uncertain inputs below it.
    pub(crate) uncertain: BTreeSet<UncertainInput>,
    /// Every given variable below it, certain or not.
    below: BTreeSet<VarId>,
    /// Whether it takes long to work out.
    slow: bool,
    /// How deep it goes, the formulas it reads written out; 0 before it is prepared.
    depth: usize,
    /// What it is, and all that it reads.
    fingerprint: u64,
}

/// Given values, and formulas whose variables stand behind theirs.
pub(crate) struct Model<'f> {
    inputs: Vec<Input>,
    formulas: Vec<Prepared<'f>>,
}

impl<'f> Model<'f> {
    /// Nothing is prepared yet.
    pub(crate) fn new(inputs: Vec<Input>, formulas: Vec<Cow<'f, Formula>>) -> Self {
        let unprepared = |formula| Prepared {
            formula,
            value: Err(EvalError::Unknown),
            chances: Vec::new(),
            uncertain: BTreeSet::new(),
            below: BTreeSet::new(),
            slow: false,
            depth: 0,
            fingerprint: 0,
        };
        Self { inputs, formulas: formulas.into_iter().map(unprepared).collect() }
    }

    /// Notes what a formula rests on, all that it reads being prepared.
    ///
    /// # Errors
    /// Where it rests on others too deep, so that nothing of it may be worked out.
    pub(crate) fn prepare(&mut self, index: usize) -> Result<(), EvalError> {
        let formula = self.formulas[index].formula.clone();
        let (node, variable) = (&formula.node, self.variable(index));
        let depth = self.depth(node);
        self.formulas[index].depth = depth;
        if depth > MAX_FORMULA_DEPTH {
            let reason = "workings depend on one another too deeply";
            return Err(Refusal::new("working", reason).into());
        }
        let (below, slow) = (self.below(node), self.is_slow(node));
        let uncertain =
            self.uncertain_below(node, |index| UncertainInput::Literal { variable, index });
        let fingerprint = self.fingerprint(node);
        let prepared = &mut self.formulas[index];
        (prepared.below, prepared.slow, prepared.uncertain) = (below, slow, uncertain);
        prepared.fingerprint = fingerprint;
        Ok(())
    }

    /// Keeps what a formula gives at the inputs' own values.
    pub(crate) fn keep(
        &mut self,
        index: usize,
        value: Result<f64, EvalError>,
        chances: Vec<Result<f64, EvalError>>,
    ) {
        let prepared = &mut self.formulas[index];
        (prepared.value, prepared.chances) = (value, chances);
    }

    pub(crate) fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    pub(crate) fn formulas(&self) -> &[Prepared<'f>] {
        &self.formulas
    }

    pub(crate) fn input(&self, variable: VarId) -> Option<&Input> {
        self.inputs.get(variable.0)
    }

    /// The variable that a formula gives.
    pub(crate) fn variable(&self, formula: usize) -> VarId {
        VarId(self.inputs.len() + formula)
    }

    /// The place of the formula behind a variable.
    pub(crate) fn formula_at(&self, variable: VarId) -> Option<usize> {
        let index = variable.0.checked_sub(self.inputs.len())?;
        (index < self.formulas.len()).then_some(index)
    }

    fn behind(&self, variable: VarId) -> Option<&Prepared<'f>> {
        self.formula_at(variable).map(|index| &self.formulas[index])
    }

    /// How deep a piece goes, the formulas it reads written out.
    fn depth(&self, node: &Node) -> usize {
        let read = node.reads().into_iter().filter_map(|variable| self.behind(variable));
        node.extent().1 + read.map(|formula| formula.depth).max().unwrap_or(0)
    }

    /// Every given variable that a piece rests on.
    pub(crate) fn below(&self, node: &Node) -> BTreeSet<VarId> {
        let mut found = BTreeSet::new();
        for variable in node.reads() {
            match self.behind(variable) {
                Some(formula) => found.extend(formula.below.iter().copied()),
                None => {
                    found.insert(variable);
                }
            }
        }
        found
    }

    /// Whether a piece, or a formula below it, solves the balances of a whole engine.
    pub(crate) fn is_slow(&self, node: &Node) -> bool {
        let mut slow = false;
        node.walk(&mut |part| {
            slow |= match part {
                Node::Call { function, .. } => function.slow,
                Node::Read(variable) => self.behind(*variable).is_some_and(|formula| formula.slow),
                _ => false,
            };
        });
        slow
    }

    /// The uncertain inputs below a piece; `own` names the literals with `±` in it.
    pub(crate) fn uncertain_below(
        &self,
        node: &Node,
        own: impl Fn(usize) -> UncertainInput,
    ) -> BTreeSet<UncertainInput> {
        let mut found = BTreeSet::new();
        for variable in node.reads() {
            match self.behind(variable) {
                Some(formula) => found.extend(formula.uncertain.iter().copied()),
                None if self.given(variable).uncertainty > 0.0 => {
                    found.insert(UncertainInput::Given(variable));
                }
                None => {}
            }
        }
        node.walk(&mut |part| {
            if let Node::Spread { uncertainty, index, .. } = part
                && *uncertainty > 0.0
            {
                found.insert(own(*index));
            }
        });
        found
    }

    /// What a piece is, and all that it reads.
    pub(crate) fn fingerprint(&self, node: &Node) -> u64 {
        let read = node.reads().into_iter().filter_map(|variable| self.behind(variable));
        fingerprint(node, read.map(|formula| formula.fingerprint))
    }

    /// Whether a formula was worked out: not left out, nor too deep.
    pub(crate) fn is_prepared(&self, index: usize) -> bool {
        (1..=MAX_FORMULA_DEPTH).contains(&self.formulas[index].depth)
    }

    /// A given number; nothing where none was.
    pub(crate) fn given(&self, variable: VarId) -> InputEstimate {
        let Some(input) = self.input(variable) else { return InputEstimate::NOTHING };
        match &input.value {
            Some(InputValue::Number { value, uncertainty }) => InputEstimate {
                value: *value,
                uncertainty: *uncertainty,
                is_log: input.is_positive,
            },
            _ => InputEstimate::NOTHING,
        }
    }

    /// An uncertain input; `own` is the formula that is asked for.
    pub(crate) fn estimate_of(&self, input: UncertainInput, own: &Formula) -> InputEstimate {
        let literal = |formula: &Formula, index: usize| {
            let (value, uncertainty) = formula.spreads.get(index).copied().unwrap_or_default();
            InputEstimate::normal(value, uncertainty)
        };
        match input {
            UncertainInput::Given(variable) => self.given(variable),
            UncertainInput::Own { index } => literal(own, index),
            UncertainInput::Literal { variable, index } => self
                .behind(variable)
                .map_or(InputEstimate::NOTHING, |formula| literal(&formula.formula, index)),
        }
    }
}

impl Values for Model<'_> {
    fn datum(&self, variable: VarId) -> Result<Datum<'_>, EvalError> {
        if let Some(formula) = self.behind(variable) {
            return formula.value.clone().map(Datum::Number);
        }
        match self.input(variable).and_then(|input| input.value.as_ref()) {
            None => Err(EvalError::Unknown),
            Some(InputValue::Number { value, .. }) => Ok(Datum::Number(*value)),
            Some(InputValue::Bool(truth)) => Ok(Datum::Bool(*truth)),
            Some(InputValue::Option(option)) => Ok(Datum::Option(*option)),
            Some(InputValue::Table(rows)) => Ok(Datum::Table(rows)),
        }
    }

    fn known(&self, variable: VarId) -> bool {
        match self.behind(variable) {
            // A working counts as known where it rests on nothing but what people answered.
            Some(formula) => {
                formula.value.is_ok() && formula.below.iter().all(|given| self.known(*given))
            }
            None => self.input(variable).is_some_and(|input| input.known),
        }
    }
}
