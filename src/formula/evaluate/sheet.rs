//! A sheet of named values and the formulas that rest on them: every formula's value with its
//! band. What an interview knows at one moment is such a sheet; so is a single calculation.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, OnceLock};

use super::alternatives::Way;
use super::point::{Datum, EvalError, Point, Values};
use crate::cores::on_all;
use crate::formula::check::node::{Formula, Node, VarId};
use crate::formula::uncertainty::band::{
    Band, DRAWS, FEW_DRAWS, InputEstimate, Response, band, sampled_band,
};
use crate::formula::uncertainty::latin_hypercube;
use crate::formula::uncertainty::memo::{self, Key, Memo};
use crate::formula::uncertainty::perturbed::Kept;
use crate::formula::uncertainty::sampled::Draws;
use crate::physics::Refusal;

/// A value that was given.
#[derive(Debug, Clone, PartialEq)]
pub enum InputValue {
    /// Value and one standard uncertainty, SI.
    Number {
        value: f64,
        uncertainty: f64,
    },
    Bool(bool),
    /// Index of the chosen option.
    Option(usize),
    Table(Vec<[f64; 2]>),
}

/// What stands in a slot that no formula fills.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    pub entry: Option<InputValue>,
    /// A person answered it; otherwise it is assumed or missing.
    pub known: bool,
    /// How often such an answer is right, 0 to 1.
    pub sure: f64,
    /// How many options a choice has.
    pub options: usize,
    /// What starts its random draws, [`super::stream`] of its name; 0 where its slot does.
    pub stream: u64,
}

impl Default for Input {
    fn default() -> Self {
        Self { entry: None, known: false, sure: 1.0, options: 0, stream: 0 }
    }
}

/// An uncertain number at the bottom of a calculation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum UncertainInput {
    /// A given value.
    Given(VarId),
    /// The n-th literal with `±` of the formula in a slot.
    Literal { slot: VarId, index: usize },
    /// The n-th literal with `±` of the formula that is asked for.
    Own { index: usize },
}

/// A band with the roots that its shares belong to.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    pub band: Band,
    pub roots: Vec<UncertainInput>,
}

impl Estimate {
    /// The first-order change for one uncertainty of that root; 0 where it doesn't matter.
    #[must_use]
    pub fn share(&self, root: UncertainInput) -> f64 {
        let place = self.roots.iter().position(|known| *known == root);
        place.and_then(|place| self.band.shares.get(place)).copied().unwrap_or(0.0)
    }

    /// What the uncertainty owes to each root, as a unit vector; empty where there is none of
    /// first order.
    pub(crate) fn directions(&self) -> Vec<(UncertainInput, f64)> {
        let length = self.band.shares.iter().map(|share| share * share).sum::<f64>().sqrt();
        if length <= 0.0 {
            return Vec::new();
        }
        let parts = self.band.shares.iter().map(|share| share / length);
        self.roots.iter().copied().zip(parts).collect()
    }
}

/// Given values, and formulas that stand behind them in the slots.
pub struct Evaluator<'f> {
    cells: Vec<Input>,
    formulas: Vec<Cow<'f, Formula>>,
    /// By formula: value at the given values, and the chances it holds.
    values: Vec<Result<f64, EvalError>>,
    chances: Vec<Vec<Result<f64, EvalError>>>,
    /// By formula: the uncertain roots below it.
    roots: Vec<BTreeSet<UncertainInput>>,
    /// By formula: every given slot below it, certain or not.
    below: Vec<BTreeSet<VarId>>,
    /// By formula: whether it takes long to work out.
    slow: Vec<bool>,
    memo: Arc<Memo>,
    /// By formula: how deep it goes, the formulas it reads put in.
    depths: Vec<usize>,
    /// What was worked out with one root moved.
    pub(crate) moved: Kept,
    /// What was worked out at random draws of all roots.
    pub(crate) drawn: Mutex<Vec<Arc<Draws>>>,
    /// By formula: the ways to tell it, where there are several. Few are asked for.
    ways: Vec<OnceLock<Option<Vec<Way>>>>,
}

/// How deep formulas may rest on one another, all their steps counted: a moved root is followed
/// through them by recursion, so this bounds the stack that it takes.
const MAX_FORMULA_DEPTH: usize = 1000;

impl<'f> Evaluator<'f> {
    /// A sheet of given values in the slots from 0 on, and formulas in the slots behind them.
    /// `order` lists the formulas so that each stands behind those it reads; one left out has no
    /// value.
    #[must_use]
    pub fn new(
        cells: Vec<Input>,
        formulas: Vec<Cow<'f, Formula>>,
        order: &[usize],
        memo: Arc<Memo>,
    ) -> Self {
        let count = formulas.len();
        let mut sheet = Self {
            cells,
            formulas,
            values: vec![Err(EvalError::Unknown); count],
            chances: vec![Vec::new(); count],
            roots: vec![BTreeSet::new(); count],
            below: vec![BTreeSet::new(); count],
            slow: vec![false; count],
            memo,
            depths: vec![0; count],
            moved: Kept::default(),
            drawn: Mutex::default(),
            ways: vec![OnceLock::new(); count],
        };
        for index in order {
            sheet.work(*index);
        }
        sheet
    }

    fn work(&mut self, index: usize) {
        let Some(formula) = self.formulas.get(index).cloned() else { return };
        let slot = self.slot(index);
        self.depths[index] = self.depth(&formula.node);
        if self.depths[index] > MAX_FORMULA_DEPTH {
            let reason = "workings rest on one another too deep";
            self.values[index] = Err(EvalError::Refused(Refusal::new("working", reason)));
            return;
        }
        self.below[index] = self.below(&formula.node);
        self.slow[index] = self.is_slow(&formula.node);
        self.roots[index] =
            self.roots_below(&formula.node, |index| UncertainInput::Literal { slot, index });
        let chances = self.chances(&formula);
        let spreads: Vec<f64> = formula.spreads.iter().map(|(value, _)| *value).collect();
        let key = self.key(&formula.node);
        let value = self.memo.value(key).unwrap_or_else(|| {
            let evaluation = Point { data: &*self, spreads: &spreads, chances: &chances };
            let value = evaluation.number(&formula.node);
            self.memo.keep_value(key, &value);
            value
        });
        self.values[index] = value;
        self.chances[index] = chances;
    }

    fn key(&self, node: &Node) -> Key {
        let below = self.below(node);
        memo::key(node, below.iter().filter_map(|slot| Some((slot.0, self.cells.get(slot.0)?))))
    }

    pub(crate) fn slot(&self, formula: usize) -> VarId {
        VarId(self.cells.len() + formula)
    }

    /// How deep a piece goes, the formulas it reads put in.
    fn depth(&self, node: &Node) -> usize {
        let read = node.reads().into_iter().filter_map(|slot| self.formula_at(slot));
        node.extent().1 + read.map(|index| self.depths[index]).max().unwrap_or(0)
    }

    pub(crate) fn formula_at(&self, slot: VarId) -> Option<usize> {
        slot.0.checked_sub(self.cells.len()).filter(|index| *index < self.formulas.len())
    }

    /// Every given slot that a piece rests on.
    #[must_use]
    pub fn below(&self, node: &Node) -> BTreeSet<VarId> {
        let mut found = BTreeSet::new();
        for slot in node.reads() {
            match self.formula_at(slot) {
                Some(index) => found.extend(self.below[index].iter().copied()),
                None => {
                    found.insert(slot);
                }
            }
        }
        found
    }

    /// The ways to tell a formula, where there are several.
    pub(crate) fn ways_of(&self, index: usize) -> Option<&[Way]> {
        // Left out, or too deep: nothing was worked out, so nothing below it is asked for.
        if !(1..=MAX_FORMULA_DEPTH).contains(&self.depths[index]) {
            return None;
        }
        let ways = || self.several_ways(&self.formulas[index].node);
        self.ways[index].get_or_init(ways).as_deref()
    }

    fn roots_below(
        &self,
        node: &Node,
        own: impl Fn(usize) -> UncertainInput,
    ) -> BTreeSet<UncertainInput> {
        let mut found = BTreeSet::new();
        for slot in node.reads() {
            match self.formula_at(slot) {
                Some(index) => found.extend(self.roots[index].iter().copied()),
                None => {
                    if self.given(slot).uncertainty > 0.0 {
                        found.insert(UncertainInput::Given(slot));
                    }
                }
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

    /// An answer with how often such an answer is right.
    pub(crate) fn answered(&self, slot: VarId) -> Option<(&InputValue, f64)> {
        let cell = self.cells.get(slot.0)?;
        cell.entry.as_ref().map(|entry| (entry, cell.sure))
    }

    /// How many options a choice has.
    pub(crate) fn options(&self, slot: VarId) -> usize {
        self.cells.get(slot.0).map_or(0, |cell| cell.options)
    }

    pub(crate) fn given(&self, slot: VarId) -> InputEstimate {
        match self.cells.get(slot.0).and_then(|cell| cell.entry.as_ref()) {
            Some(InputValue::Number { value, uncertainty }) => {
                InputEstimate { value: *value, uncertainty: *uncertainty }
            }
            _ => InputEstimate { value: 0.0, uncertainty: 0.0 },
        }
    }

    pub(crate) fn root(&self, id: UncertainInput, own: &Formula) -> InputEstimate {
        let literal = |formula: &Formula, index: usize| {
            let (value, uncertainty) = formula.spreads.get(index).copied().unwrap_or_default();
            InputEstimate { value, uncertainty }
        };
        match id {
            UncertainInput::Given(slot) => self.given(slot),
            UncertainInput::Own { index } => literal(own, index),
            UncertainInput::Literal { slot, index } => match self.formula_at(slot) {
                Some(formula) => literal(&self.formulas[formula], index),
                None => InputEstimate { value: 0.0, uncertainty: 0.0 },
            },
        }
    }

    /// What a formula gives, with its band.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn estimate(&self, formula: &Formula) -> Result<Estimate, EvalError> {
        self.piece(Piece { formula, node: &formula.node }, &self.chances(formula))
    }

    /// What the formula at a place gives, with its band.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out, or there is none.
    pub fn estimate_at(&self, index: usize) -> Result<Estimate, EvalError> {
        self.formulas.get(index).map_or(Err(EvalError::Unknown), |formula| self.estimate(formula))
    }

    /// Works out the formulas at these places on every core, so that whoever asks for one finds it.
    pub fn prepare(&self, indexes: &[usize]) {
        on_all(indexes.len(), |stretch| {
            indexes[stretch].iter().map(|index| drop(self.estimate_at(*index))).collect()
        });
    }

    /// What a piece of a formula gives, with its band, given the chances that the formula holds.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub(crate) fn piece(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, EvalError>],
    ) -> Result<Estimate, EvalError> {
        let key = self.key(piece.node);
        self.memo.band(key).unwrap_or_else(|| {
            let draws = if self.is_slow(piece.node) { FEW_DRAWS } else { DRAWS };
            let worked = self.estimate_piece(piece, chances, draws);
            self.memo.keep_band(key, &worked);
            worked
        })
    }

    /// What a formula gives, with its band; where the first order fails the roots are drawn
    /// `draws` times.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn estimate_by(&self, formula: &Formula, draws: usize) -> Result<Estimate, EvalError> {
        self.estimate_piece(Piece { formula, node: &formula.node }, &self.chances(formula), draws)
    }

    /// What a formula gives, its roots drawn `draws` times without a look at the first order; no
    /// shares.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn sampled_by(&self, formula: &Formula, draws: usize) -> Result<Estimate, EvalError> {
        let piece = Piece { formula, node: &formula.node };
        let chances = self.chances(formula);
        let value = self.centre(piece, &chances)?;
        let answers = PieceAnswers { sheet: self, piece, chances: &chances, roots: &[] };
        Ok(Estimate { band: sampled_band(value, draws, &answers)?, roots: Vec::new() })
    }

    /// What a piece gives at the given values.
    fn centre(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, EvalError>],
    ) -> Result<f64, EvalError> {
        let spreads: Vec<f64> = piece.formula.spreads.iter().map(|(value, _)| *value).collect();
        Point { data: self, spreads: &spreads, chances }.number(piece.node)
    }

    /// [`Self::piece`] by so many draws.
    pub(crate) fn estimate_piece(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, EvalError>],
        draws: usize,
    ) -> Result<Estimate, EvalError> {
        let own = |index| UncertainInput::Own { index };
        let roots: Vec<UncertainInput> = self.roots_below(piece.node, own).into_iter().collect();
        let value = self.centre(piece, chances)?;
        let answers = PieceAnswers { sheet: self, piece, chances, roots: &roots };
        let band = band(value, roots.len(), draws, &answers)?;
        Ok(Estimate { band, roots })
    }

    /// Whether a piece, or a formula below it, solves the balances of a whole engine.
    fn is_slow(&self, node: &Node) -> bool {
        let mut slow = false;
        node.walk(&mut |part| {
            slow |= match part {
                Node::Call { function, .. } => function.is_slow(),
                Node::Read(slot) => self.formula_at(*slot).is_some_and(|index| self.slow[index]),
                _ => false,
            };
        });
        slow
    }

    /// How many given slots there are.
    pub(crate) fn givens(&self) -> usize {
        self.cells.len()
    }

    /// How many formulas there are.
    pub(crate) fn formulas(&self) -> usize {
        self.formulas.len()
    }

    /// A formula's value at the given values.
    pub(crate) fn value(&self, index: usize) -> Result<f64, EvalError> {
        self.values[index].clone()
    }

    /// The chances that a formula holds, at the given values.
    pub(crate) fn chances_of(&self, index: usize) -> &[Result<f64, EvalError>] {
        &self.chances[index]
    }

    /// A formula as a piece.
    pub(crate) fn whole(&self, index: usize) -> Piece<'_> {
        let formula = self.formulas[index].as_ref();
        Piece { formula, node: &formula.node }
    }

    pub(crate) fn rests_on(&self, index: usize, root: UncertainInput) -> bool {
        self.roots[index].contains(&root)
    }

    /// Whether nothing below a formula is uncertain.
    pub(crate) fn is_certain(&self, index: usize) -> bool {
        self.roots[index].is_empty()
    }

    /// How many formulas before it have its very text: their literals are drawn apart.
    pub(crate) fn occurrence(&self, index: usize) -> usize {
        let text = &self.formulas[index].text;
        if self.formulas[index].spreads.is_empty() {
            return 0;
        }
        self.formulas[..index].iter().filter(|formula| formula.text == *text).count()
    }

    /// What starts the random draws of a given value.
    pub(crate) fn stream(&self, slot: VarId) -> u64 {
        let named = self.cells.get(slot.0).map_or(0, |cell| cell.stream);
        if named == 0 { latin_hypercube::within(0, slot.0) } else { named }
    }
}

/// How a piece answers to its roots.
struct PieceAnswers<'a, 'f> {
    sheet: &'a Evaluator<'f>,
    piece: Piece<'a>,
    chances: &'a [Result<f64, EvalError>],
    roots: &'a [UncertainInput],
}

impl Response for PieceAnswers<'_, '_> {
    fn stepped(&self, root: usize, step: usize) -> Option<f64> {
        self.sheet.stepped(self.piece, self.chances, self.roots[root], step).ok()
    }

    fn drawn(&self, draws: usize) -> Vec<Option<f64>> {
        self.sheet.at_draws(self.piece, self.chances, draws)
    }
}

/// A piece of a formula whose band is wanted.
#[derive(Clone, Copy)]
pub struct Piece<'a> {
    pub formula: &'a Formula,
    pub node: &'a Node,
}

impl Values for Evaluator<'_> {
    fn datum(&self, slot: VarId) -> Result<Datum<'_>, EvalError> {
        if let Some(index) = self.formula_at(slot) {
            return self.values[index].clone().map(Datum::Number);
        }
        match self.cells.get(slot.0).and_then(|cell| cell.entry.as_ref()) {
            None => Err(EvalError::Unknown),
            Some(InputValue::Number { value, .. }) => Ok(Datum::Number(*value)),
            Some(InputValue::Bool(truth)) => Ok(Datum::Bool(*truth)),
            Some(InputValue::Option(option)) => Ok(Datum::Option(*option)),
            Some(InputValue::Table(rows)) => Ok(Datum::Table(rows)),
        }
    }

    fn known(&self, slot: VarId) -> bool {
        match self.formula_at(slot) {
            // A working counts as known where it rests on nothing but what people answered.
            Some(index) => {
                self.values[index].is_ok() && self.below[index].iter().all(|slot| self.known(*slot))
            }
            None => self.cells.get(slot.0).is_some_and(|cell| cell.known),
        }
    }
}
