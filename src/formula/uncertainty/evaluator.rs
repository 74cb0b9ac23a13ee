//! The evaluator: everything that can be asked about formulas over given values. What an interview
//! knows at one moment is such an evaluator; so is a single calculation.

use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::band::{CURVE_DRAWS, DRAWS, FEW_DRAWS, Response, band, conditioned_band, sampled_band};
use super::chance::chances;
use super::estimate::Estimate;
use super::expected::Expected;
use super::input_draws::InputDraws;
use super::joint_draws::JointDraws;
use super::memo::{Key, Memo, key};
use super::perturbed::Perturbations;
use super::piece::Piece;
use super::sampled::{Sample, Samples};
use crate::formula::check::{Formula, Node, VarId};
use crate::formula::evaluate::{
    Alternatives, EvalError, Input, InputValue, Model, Point, UncertainInput, may_hold, number,
    remarks,
};
use crate::formula::functions::Function;

/// Given values, and formulas whose variables stand behind theirs: every formula's value with its
/// band, and what is known about a truth.
///
/// ```
/// use std::sync::Arc;
///
/// use boostwright::formula::{Evaluator, Input, InputValue, Meaning, Names, VarId, check};
/// use boostwright::quantity::Kind;
///
/// struct Ratio;
///
/// impl Names for Ratio {
///     fn find(&self, name: &str) -> Option<Meaning<'_>> {
///         (name == "ratio").then_some(Meaning::Value { variable: VarId(0), kind: Kind::NUMBER })
///     }
///
///     fn all(&self) -> Vec<&str> {
///         vec!["ratio"]
///     }
/// }
///
/// let value = InputValue::Number { value: 2.0, uncertainty: 0.1 };
/// let input = Input { value: Some(value), known: true, ..Input::default() };
/// let evaluator = Evaluator::new(vec![input], Vec::new(), &[], Arc::default());
/// let formula = check("3 * ratio", &Ratio, None).expect("a sound formula");
/// let band = evaluator.estimate(&formula).expect("a value").band;
/// assert!((band.value - 6.0).abs() < 1e-12);
/// assert!((band.uncertainty - 0.3).abs() < 1e-9);
/// ```
pub struct Evaluator<'f> {
    pub(super) model: Model<'f>,
    pub(super) memo: Arc<Memo>,
    perturbations: Perturbations,
    pub(super) samples: Samples,
    pub(super) conditioned: Option<Conditioned>,
    /// For readings that findings judge: the draws that all others have taught.
    pub(super) judged: HashMap<VarId, Sample>,
    pub(super) expected: Expected,
    alternatives: Alternatives,
}

/// What readings have taught, and what was worked out at it.
pub(super) struct Conditioned {
    joint: Arc<JointDraws>,
    pub(super) sample: Sample,
    /// Some of the same draws, for what is worked out at many points.
    few: OnceLock<Sample>,
}

impl Conditioned {
    fn few(&self, model: &Model<'_>) -> &Sample {
        self.few.get_or_init(|| {
            let few = Arc::new(self.joint.spaced(CURVE_DRAWS));
            Sample::new(model, InputDraws::joint(few, model.inputs().len()))
        })
    }
}

impl<'f> Evaluator<'f> {
    /// Given values behind the variables from 0 on, and formulas behind those that follow. `order`
    /// lists the formulas so that each stands behind those it reads; one left out has no value.
    #[must_use]
    pub fn new(
        inputs: Vec<Input>,
        formulas: Vec<Cow<'f, Formula>>,
        order: &[usize],
        memo: Arc<Memo>,
    ) -> Self {
        Self::conditioned(inputs, formulas, order, memo, None)
    }

    /// The same where readings have taught what some of the inputs may be together: their own middles
    /// and deviations take the place of those given, and all that rests on them is worked out at these
    /// draws.
    #[must_use]
    pub fn conditioned(
        mut inputs: Vec<Input>,
        formulas: Vec<Cow<'f, Formula>>,
        order: &[usize],
        memo: Arc<Memo>,
        joint: Option<Arc<JointDraws>>,
    ) -> Self {
        for (index, input) in inputs.iter_mut().enumerate() {
            let taught = joint.as_ref().and_then(|joint| joint.summary(VarId(index)));
            if let Some((value, uncertainty)) = taught {
                input.value = Some(InputValue::Number { value, uncertainty });
                input.taught = joint.as_ref().and_then(|joint| joint.mark(VarId(index)));
            }
        }
        let model = Model::new(inputs, formulas);
        let conditioned = joint.map(|joint| {
            let inputs = InputDraws::joint(Arc::clone(&joint), model.inputs().len());
            Conditioned { sample: Sample::new(&model, inputs), joint, few: OnceLock::new() }
        });
        let mut evaluator = Self {
            alternatives: Alternatives::new(&model),
            model,
            memo,
            perturbations: Perturbations::default(),
            samples: Samples::default(),
            conditioned,
            judged: HashMap::new(),
            expected: Expected::default(),
        };
        let count = evaluator.model.formulas().len();
        for index in order.iter().copied().filter(|index| *index < count) {
            let (value, chances) = match evaluator.model.prepare(index) {
                Ok(()) => evaluator.own_value(index),
                Err(too_deep) => (Err(too_deep), Vec::new()),
            };
            evaluator.model.keep(index, value, chances);
        }
        evaluator
    }

    /// The same where each of these readings is judged by draws that it had no part in.
    #[must_use]
    pub fn judging(mut self, besides: impl IntoIterator<Item = (VarId, Arc<JointDraws>)>) -> Self {
        let inputs = self.model.inputs().len();
        let sample = |joint| Sample::new(&self.model, InputDraws::joint(joint, inputs));
        self.judged = besides.into_iter().map(|(own, joint)| (own, sample(joint))).collect();
        self
    }

    /// What a prepared formula gives at the inputs' own values, and the chances it holds.
    fn own_value(&self, index: usize) -> (Result<f64, EvalError>, Vec<Result<f64, EvalError>>) {
        let formula = self.model.formulas()[index].formula.as_ref();
        let chances = self.chances(formula);
        let key = self.key(&formula.node);
        let value = self.memo.value(key).unwrap_or_else(|| {
            let value = self.centre(Piece::whole(formula, &chances));
            self.memo.keep_value(key, &value);
            value
        });
        (value, chances)
    }

    fn key(&self, node: &Node) -> Key {
        let below = self.model.below(node);
        key(
            self.model.fingerprint(node),
            below.iter().filter_map(|given| Some((given.0, self.model.input(*given)?))),
        )
    }

    /// A formula at the inputs' own values.
    fn point<'a>(&'a self, chances: &'a [Result<f64, EvalError>]) -> Point<'a, Model<'f>> {
        Point { values: &self.model, literal: None, chances }
    }

    /// What a piece gives at the inputs' own values.
    fn centre(&self, piece: Piece<'_>) -> Result<f64, EvalError> {
        number(&self.point(piece.chances), piece.node)
    }

    /// The chances that a formula holds, at the inputs' own values.
    pub(super) fn chances(&self, formula: &Formula) -> Vec<Result<f64, EvalError>> {
        chances(formula, &|piece| self.estimate_piece(piece, DRAWS))
    }

    /// What a formula gives at the inputs' own values, in coherent SI.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn value(&self, formula: &Formula) -> Result<f64, EvalError> {
        self.centre(Piece::whole(formula, &self.chances(formula)))
    }

    /// What a formula gives, with its band.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn estimate(&self, formula: &Formula) -> Result<Estimate, EvalError> {
        self.remembered(Piece::whole(formula, &self.chances(formula)))
    }

    /// What the formula at a place gives, with its band.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out, or there is none.
    pub fn estimate_at(&self, index: usize) -> Result<Estimate, EvalError> {
        let prepared = self.model.formulas().get(index).ok_or(EvalError::Unknown)?;
        self.estimate(&prepared.formula)
    }

    /// Works out the formulas at these places on every core, so that whoever asks for one finds it.
    pub fn prepare(&self, indexes: &[usize]) {
        indexes.par_iter().for_each(|index| drop(self.estimate_at(*index)));
    }

    /// What a piece gives, with its band; from the memo where it is there.
    pub(super) fn remembered(&self, piece: Piece<'_>) -> Result<Estimate, EvalError> {
        let key = self.key(piece.node);
        self.memo.estimate(key).unwrap_or_else(|| {
            let draws = if self.model.is_slow(piece.node) { FEW_DRAWS } else { DRAWS };
            let estimate = self.estimate_piece(piece, draws);
            self.memo.keep_estimate(key, &estimate);
            estimate
        })
    }

    /// What a formula gives, with its band; where the first order fails the inputs are drawn
    /// `draws` times.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn estimate_by(&self, formula: &Formula, draws: usize) -> Result<Estimate, EvalError> {
        self.estimate_piece(Piece::whole(formula, &self.chances(formula)), draws)
    }

    /// What a formula gives at one point of a curve: its inputs are drawn a few times, from what readings
    /// have taught where they have, without a look at the first order; no shares.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn on_a_curve(&self, formula: &Formula) -> Result<Estimate, EvalError> {
        let chances = self.chances(formula);
        let piece = Piece::whole(formula, &chances);
        if let Some(conditioned) = self.taught_below(formula) {
            let few = conditioned.few(&self.model);
            return self.conditioned_estimate(conditioned, few, piece, Vec::new());
        }
        let value = self.centre(piece)?;
        let answers = PieceResponse { evaluator: self, piece, inputs: &[] };
        Ok(Estimate { band: sampled_band(value, CURVE_DRAWS, &answers)?, inputs: Vec::new() })
    }

    fn estimate_piece(&self, piece: Piece<'_>, draws: usize) -> Result<Estimate, EvalError> {
        let own = |index| UncertainInput::Own { index };
        let inputs: Vec<UncertainInput> =
            self.model.uncertain_below(piece.node, own).into_iter().collect();
        if let Some(conditioned) = self.conditioned_below(&inputs) {
            return self.conditioned_estimate(conditioned, &conditioned.sample, piece, inputs);
        }
        let value = self.centre(piece)?;
        let answers = PieceResponse { evaluator: self, piece, inputs: &inputs };
        let band = band(value, inputs.len(), draws, &answers)?;
        Ok(Estimate { band, inputs })
    }

    /// Whether readings have taught anything that a formula rests on.
    #[must_use]
    pub fn is_taught(&self, formula: &Formula) -> bool {
        self.taught_below(formula).is_some()
    }

    fn taught_below(&self, formula: &Formula) -> Option<&Conditioned> {
        let own = |index| UncertainInput::Own { index };
        let inputs: Vec<UncertainInput> =
            self.model.uncertain_below(&formula.node, own).into_iter().collect();
        self.conditioned_below(&inputs)
    }

    /// What readings have taught, where it bears on any of these inputs.
    fn conditioned_below(&self, inputs: &[UncertainInput]) -> Option<&Conditioned> {
        self.conditioned.as_ref().filter(|conditioned| {
            inputs.iter().any(|input| match input {
                UncertainInput::Given(variable) => conditioned.joint.column(*variable).is_some(),
                _ => false,
            })
        })
    }

    fn conditioned_estimate(
        &self,
        conditioned: &Conditioned,
        sample: &Sample,
        piece: Piece<'_>,
        inputs: Vec<UncertainInput>,
    ) -> Result<Estimate, EvalError> {
        let seen = sample.of(&self.model, piece);
        // Where most draws have no value the reason at the middle says more than their number.
        if 2 * seen.iter().flatten().count() < seen.len() {
            self.centre(piece)?;
        }
        let column = |input: &UncertainInput| match input {
            UncertainInput::Given(variable) => Some(sample.given(&self.model, *variable)),
            _ => None,
        };
        let columns: Vec<Option<&[f64]>> = inputs.iter().map(column).collect();
        let band = conditioned_band(&seen, &columns, conditioned.joint.effective())?;
        Ok(Estimate { band, inputs })
    }

    /// What a piece gives at the draws that readings have taught, or nothing where they have taught none.
    pub(super) fn at_taught_draws(&self, piece: Piece<'_>) -> Option<Vec<Option<f64>>> {
        self.conditioned.as_ref().map(|taught| taught.sample.of(&self.model, piece))
    }

    /// What a formula gives at draws of some of the inputs together, the others at draws of their own;
    /// none where it is refused.
    #[must_use]
    pub fn at_draws(&self, formula: &Formula, joint: &Arc<JointDraws>) -> Vec<Option<f64>> {
        let inputs = InputDraws::joint(Arc::clone(joint), self.model.inputs().len());
        let chances = self.chances(formula);
        Sample::new(&self.model, inputs).of(&self.model, Piece::whole(formula, &chances))
    }

    /// The same, the others at their middles.
    #[must_use]
    pub fn at_draws_alone(&self, formula: &Formula, joint: &Arc<JointDraws>) -> Vec<Option<f64>> {
        let inputs = InputDraws::alone(Arc::clone(joint), self.model.inputs().len());
        let chances = self.chances(formula);
        Sample::new(&self.model, inputs).of(&self.model, Piece::whole(formula, &chances))
    }

    /// Where results are kept.
    #[must_use]
    pub fn memo(&self) -> &Memo {
        &self.memo
    }

    /// A number that stands for a formula and all that it rests on.
    #[must_use]
    pub fn fingerprint(&self, formula: &Formula) -> u64 {
        let mut hash = DefaultHasher::new();
        self.key(&formula.node).hash(&mut hash);
        hash.finish()
    }

    /// A given number with its standard uncertainty, SI; nothing where none was.
    #[must_use]
    pub fn given(&self, variable: VarId) -> (f64, f64) {
        let estimate = self.model.given(variable);
        (estimate.value, estimate.uncertainty)
    }

    /// The given values below a piece that are uncertain.
    #[must_use]
    pub fn uncertain_below(&self, node: &Node) -> Vec<VarId> {
        let own = |index| UncertainInput::Own { index };
        let inputs = self.model.uncertain_below(node, own).into_iter();
        let given = inputs.filter_map(|input| match input {
            UncertainInput::Given(variable) => Some(variable),
            _ => None,
        });
        given.collect()
    }

    /// A given value at so many standard uncertainties from its middle.
    #[must_use]
    pub fn input_at(&self, variable: VarId, z: f64) -> f64 {
        self.model.given(variable).at(z)
    }

    /// Every given variable that a piece rests on.
    #[must_use]
    pub fn below(&self, node: &Node) -> BTreeSet<VarId> {
        self.model.below(node)
    }

    /// The same by the branches that are taken as things are known now.
    #[must_use]
    pub fn taken_below(&self, node: &Node) -> BTreeSet<VarId> {
        self.model.taken_below(node)
    }

    /// The physics functions that a piece itself calls on those branches, each once.
    #[must_use]
    pub fn taken_functions(&self, node: &Node) -> Vec<&'static Function> {
        self.model.taken_functions(node)
    }

    /// The ways to tell a piece, each a set of given variables that are all needed: one way, but
    /// where rules say what stands in for a value that nobody knows.
    #[must_use]
    pub fn ways_to_tell(&self, node: &Node) -> Vec<BTreeSet<VarId>> {
        self.alternatives.all(&self.model, node)
    }

    /// Whether some answer behind a variable would make a truth hold that doesn't hold yet, while
    /// everything else that is not known stays so.
    #[must_use]
    pub fn may_hold(&self, formula: &Formula, variable: VarId) -> bool {
        may_hold(self.point(&self.chances(formula)), &formula.node, variable)
    }

    /// The remarks of the functions that a formula calls at the given values, each once; those of
    /// a branch that isn't taken, and of a call that is refused, are left out.
    #[must_use]
    pub fn remarks(&self, formula: &Formula) -> Vec<String> {
        let mut found = Vec::new();
        remarks(&self.point(&self.chances(formula)), &formula.node, &mut found);
        found
    }
}

/// How a piece answers to its inputs.
struct PieceResponse<'a, 'f> {
    evaluator: &'a Evaluator<'f>,
    piece: Piece<'a>,
    inputs: &'a [UncertainInput],
}

impl Response for PieceResponse<'_, '_> {
    fn perturbed(&self, input: usize, step: usize) -> Option<f64> {
        let Evaluator { model, perturbations, .. } = self.evaluator;
        perturbations.of(model, self.piece, self.inputs[input], step).ok()
    }

    fn sampled(&self, draws: usize) -> Vec<Option<f64>> {
        self.evaluator.samples.of(&self.evaluator.model, self.piece, draws)
    }
}
