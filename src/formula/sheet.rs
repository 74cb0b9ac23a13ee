//! A sheet of named values and the formulas that rest on them: every formula's value with its
//! band. What an interview knows at one moment is such a sheet; so is a single calculation.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, OnceLock};

use rayon::prelude::*;

use super::band::{Answers, Band, DRAWS, FEW_DRAWS, Root, band, drawn_band, length};
use super::drawn::Draws;
use super::evaluate::{Data, Datum, Evaluation, Gap};
use super::memo::{self, Key, Memo};
use super::moved::Kept;
use super::node::{Formula, Node, Slot};
use super::sample;
use super::ways::Way;
use crate::physics::Refusal;

/// A value that was given.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// Value and one standard uncertainty, SI.
    Number {
        value: f64,
        uncertainty: f64,
    },
    Truth(bool),
    /// Index of the chosen option.
    Option(usize),
    Table(Vec<[f64; 2]>),
}

/// What stands in a slot that no formula fills.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    pub entry: Option<Entry>,
    /// A person answered it; otherwise it is assumed or missing.
    pub known: bool,
    /// How often such an answer is right, 0 to 1.
    pub sure: f64,
    /// How many options a choice has.
    pub options: usize,
    /// What starts its random draws, [`super::stream`] of its name; 0 where its slot does.
    pub stream: u64,
}

impl Default for Cell {
    fn default() -> Self {
        Self { entry: None, known: false, sure: 1.0, options: 0, stream: 0 }
    }
}

/// An uncertain number at the bottom of a calculation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RootId {
    /// A given value.
    Given(Slot),
    /// The n-th literal with `±` of the formula in a slot.
    Literal { slot: Slot, index: usize },
    /// The n-th literal with `±` of the formula that is asked for.
    Own { index: usize },
}

/// A band with the roots that its shares belong to.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    pub band: Band,
    pub roots: Vec<RootId>,
}

impl Worked {
    /// The first-order change for one uncertainty of that root; 0 where it doesn't matter.
    #[must_use]
    pub fn share(&self, root: RootId) -> f64 {
        let place = self.roots.iter().position(|known| *known == root);
        place.and_then(|place| self.band.shares.get(place)).copied().unwrap_or(0.0)
    }

    /// What the uncertainty owes to each root, as a unit vector; empty where there is none of
    /// first order.
    pub(super) fn directions(&self) -> Vec<(RootId, f64)> {
        let length = length(&self.band.shares);
        if length <= 0.0 {
            return Vec::new();
        }
        let parts = self.band.shares.iter().map(|share| share / length);
        self.roots.iter().copied().zip(parts).collect()
    }
}

/// Given values, and formulas that stand behind them in the slots.
pub struct Sheet<'f> {
    cells: Vec<Cell>,
    formulas: Vec<Cow<'f, Formula>>,
    /// By formula: value at the given values, and the chances it holds.
    values: Vec<Result<f64, Gap>>,
    chances: Vec<Vec<Result<f64, Gap>>>,
    /// By formula: the uncertain roots below it.
    roots: Vec<BTreeSet<RootId>>,
    /// By formula: every given slot below it, certain or not.
    below: Vec<BTreeSet<Slot>>,
    /// By formula: whether it takes long to work out.
    slow: Vec<bool>,
    memo: Arc<Memo>,
    /// By formula: how deep it goes, the formulas it reads put in.
    depths: Vec<usize>,
    /// What was worked out with one root moved.
    pub(super) moved: Kept,
    /// What was worked out at random draws of all roots.
    pub(super) drawn: Mutex<Vec<Arc<Draws>>>,
    /// By formula: the ways to tell it, where there are several. Few are asked for.
    ways: Vec<OnceLock<Option<Vec<Way>>>>,
}

/// How deep formulas may rest on one another, all their steps counted: a moved root is followed
/// through them by recursion, so this bounds the stack that it takes.
const DEEPEST: usize = 1000;

impl<'f> Sheet<'f> {
    /// A sheet of given values in the slots from 0 on, and formulas in the slots behind them.
    /// `order` lists the formulas so that each stands behind those it reads; one left out has no
    /// value.
    #[must_use]
    pub fn new(
        cells: Vec<Cell>,
        formulas: Vec<Cow<'f, Formula>>,
        order: &[usize],
        memo: Arc<Memo>,
    ) -> Self {
        let count = formulas.len();
        let mut sheet = Self {
            cells,
            formulas,
            values: vec![Err(Gap::Unknown); count],
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
        if self.depths[index] > DEEPEST {
            let reason = "workings rest on one another too deep";
            self.values[index] = Err(Gap::Refused(Refusal::new("working", reason)));
            return;
        }
        self.below[index] = self.below(&formula.node);
        self.slow[index] = self.is_slow(&formula.node);
        self.roots[index] =
            self.roots_below(&formula.node, |index| RootId::Literal { slot, index });
        let chances = self.chances(&formula);
        let spreads: Vec<f64> = formula.spreads.iter().map(|(value, _)| *value).collect();
        let key = self.key(&formula.node);
        let value = self.memo.value(key).unwrap_or_else(|| {
            let evaluation = Evaluation { data: &*self, spreads: &spreads, chances: &chances };
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

    pub(super) fn slot(&self, formula: usize) -> Slot {
        Slot(self.cells.len() + formula)
    }

    /// How deep a piece goes, the formulas it reads put in.
    fn depth(&self, node: &Node) -> usize {
        let read = node.reads().into_iter().filter_map(|slot| self.formula_at(slot));
        node.extent().1 + read.map(|index| self.depths[index]).max().unwrap_or(0)
    }

    pub(super) fn formula_at(&self, slot: Slot) -> Option<usize> {
        slot.0.checked_sub(self.cells.len()).filter(|index| *index < self.formulas.len())
    }

    /// Every given slot that a piece rests on.
    #[must_use]
    pub fn below(&self, node: &Node) -> BTreeSet<Slot> {
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
    pub(super) fn ways_of(&self, index: usize) -> Option<&[Way]> {
        // Left out, or too deep: nothing was worked out, so nothing below it is asked for.
        if !(1..=DEEPEST).contains(&self.depths[index]) {
            return None;
        }
        let ways = || self.several_ways(&self.formulas[index].node);
        self.ways[index].get_or_init(ways).as_deref()
    }

    fn roots_below(&self, node: &Node, own: impl Fn(usize) -> RootId) -> BTreeSet<RootId> {
        let mut found = BTreeSet::new();
        for slot in node.reads() {
            match self.formula_at(slot) {
                Some(index) => found.extend(self.roots[index].iter().copied()),
                None => {
                    if self.given(slot).uncertainty > 0.0 {
                        found.insert(RootId::Given(slot));
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
    pub(super) fn answered(&self, slot: Slot) -> Option<(&Entry, f64)> {
        let cell = self.cells.get(slot.0)?;
        cell.entry.as_ref().map(|entry| (entry, cell.sure))
    }

    /// How many options a choice has.
    pub(super) fn options(&self, slot: Slot) -> usize {
        self.cells.get(slot.0).map_or(0, |cell| cell.options)
    }

    pub(super) fn given(&self, slot: Slot) -> Root {
        match self.cells.get(slot.0).and_then(|cell| cell.entry.as_ref()) {
            Some(Entry::Number { value, uncertainty }) => {
                Root { value: *value, uncertainty: *uncertainty }
            }
            _ => Root { value: 0.0, uncertainty: 0.0 },
        }
    }

    pub(super) fn root(&self, id: RootId, own: &Formula) -> Root {
        let literal = |formula: &Formula, index: usize| {
            let (value, uncertainty) = formula.spreads.get(index).copied().unwrap_or_default();
            Root { value, uncertainty }
        };
        match id {
            RootId::Given(slot) => self.given(slot),
            RootId::Own { index } => literal(own, index),
            RootId::Literal { slot, index } => match self.formula_at(slot) {
                Some(formula) => literal(&self.formulas[formula], index),
                None => Root { value: 0.0, uncertainty: 0.0 },
            },
        }
    }

    /// What a formula gives, with its band.
    ///
    /// # Errors
    /// [`Gap`] where it can't be worked out.
    pub fn worked(&self, formula: &Formula) -> Result<Worked, Gap> {
        self.piece(Piece { formula, node: &formula.node }, &self.chances(formula))
    }

    /// What the formula at a place gives, with its band.
    ///
    /// # Errors
    /// [`Gap`] where it can't be worked out, or there is none.
    pub fn worked_at(&self, index: usize) -> Result<Worked, Gap> {
        self.formulas.get(index).map_or(Err(Gap::Unknown), |formula| self.worked(formula))
    }

    /// Works out the formulas at these places on every core, so that whoever asks for one finds it.
    pub fn prepare(&self, indexes: &[usize]) {
        indexes.par_iter().for_each(|index| drop(self.worked_at(*index)));
    }

    /// What a piece of a formula gives, with its band, given the chances that the formula holds.
    ///
    /// # Errors
    /// [`Gap`] where it can't be worked out.
    pub(super) fn piece(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, Gap>],
    ) -> Result<Worked, Gap> {
        let key = self.key(piece.node);
        self.memo.band(key).unwrap_or_else(|| {
            let draws = if self.is_slow(piece.node) { FEW_DRAWS } else { DRAWS };
            let worked = self.drawn_piece(piece, chances, draws);
            self.memo.keep_band(key, &worked);
            worked
        })
    }

    /// What a formula gives, with its band; where the first order fails the roots are drawn
    /// `draws` times.
    ///
    /// # Errors
    /// [`Gap`] where it can't be worked out.
    pub fn worked_by(&self, formula: &Formula, draws: usize) -> Result<Worked, Gap> {
        self.drawn_piece(Piece { formula, node: &formula.node }, &self.chances(formula), draws)
    }

    /// What a formula gives, its roots drawn `draws` times without a look at the first order; no
    /// shares.
    ///
    /// # Errors
    /// [`Gap`] where it can't be worked out.
    pub fn drawn_by(&self, formula: &Formula, draws: usize) -> Result<Worked, Gap> {
        let piece = Piece { formula, node: &formula.node };
        let chances = self.chances(formula);
        let value = self.centre(piece, &chances)?;
        let answers = PieceAnswers { sheet: self, piece, chances: &chances, roots: &[] };
        Ok(Worked { band: drawn_band(value, draws, &answers)?, roots: Vec::new() })
    }

    /// What a piece gives at the given values.
    fn centre(&self, piece: Piece<'_>, chances: &[Result<f64, Gap>]) -> Result<f64, Gap> {
        let spreads: Vec<f64> = piece.formula.spreads.iter().map(|(value, _)| *value).collect();
        Evaluation { data: self, spreads: &spreads, chances }.number(piece.node)
    }

    /// [`Self::piece`] by so many draws.
    pub(super) fn drawn_piece(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, Gap>],
        draws: usize,
    ) -> Result<Worked, Gap> {
        let own = |index| RootId::Own { index };
        let roots: Vec<RootId> = self.roots_below(piece.node, own).into_iter().collect();
        let value = self.centre(piece, chances)?;
        let answers = PieceAnswers { sheet: self, piece, chances, roots: &roots };
        let band = band(value, roots.len(), draws, &answers)?;
        Ok(Worked { band, roots })
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
    pub(super) fn givens(&self) -> usize {
        self.cells.len()
    }

    /// How many formulas there are.
    pub(super) fn formulas(&self) -> usize {
        self.formulas.len()
    }

    /// A formula's value at the given values.
    pub(super) fn value(&self, index: usize) -> Result<f64, Gap> {
        self.values[index].clone()
    }

    /// The chances that a formula holds, at the given values.
    pub(super) fn chances_of(&self, index: usize) -> &[Result<f64, Gap>] {
        &self.chances[index]
    }

    /// A formula as a piece.
    pub(super) fn whole(&self, index: usize) -> Piece<'_> {
        let formula = self.formulas[index].as_ref();
        Piece { formula, node: &formula.node }
    }

    pub(super) fn rests_on(&self, index: usize, root: RootId) -> bool {
        self.roots[index].contains(&root)
    }

    /// Whether nothing below a formula is uncertain.
    pub(super) fn is_certain(&self, index: usize) -> bool {
        self.roots[index].is_empty()
    }

    /// How many formulas before it have its very text: their literals are drawn apart.
    pub(super) fn occurrence(&self, index: usize) -> usize {
        let text = &self.formulas[index].text;
        if self.formulas[index].spreads.is_empty() {
            return 0;
        }
        self.formulas[..index].iter().filter(|formula| formula.text == *text).count()
    }

    /// What starts the random draws of a given value.
    pub(super) fn stream(&self, slot: Slot) -> u64 {
        let named = self.cells.get(slot.0).map_or(0, |cell| cell.stream);
        if named == 0 { sample::within(0, slot.0) } else { named }
    }
}

/// How a piece answers to its roots.
struct PieceAnswers<'a, 'f> {
    sheet: &'a Sheet<'f>,
    piece: Piece<'a>,
    chances: &'a [Result<f64, Gap>],
    roots: &'a [RootId],
}

impl Answers for PieceAnswers<'_, '_> {
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

impl Data for Sheet<'_> {
    fn datum(&self, slot: Slot) -> Result<Datum<'_>, Gap> {
        if let Some(index) = self.formula_at(slot) {
            return self.values[index].clone().map(Datum::Number);
        }
        match self.cells.get(slot.0).and_then(|cell| cell.entry.as_ref()) {
            None => Err(Gap::Unknown),
            Some(Entry::Number { value, .. }) => Ok(Datum::Number(*value)),
            Some(Entry::Truth(truth)) => Ok(Datum::Truth(*truth)),
            Some(Entry::Option(option)) => Ok(Datum::Option(*option)),
            Some(Entry::Table(rows)) => Ok(Datum::Table(rows)),
        }
    }

    fn known(&self, slot: Slot) -> bool {
        match self.formula_at(slot) {
            // A working counts as known where it rests on nothing but what people answered.
            Some(index) => {
                self.values[index].is_ok() && self.below[index].iter().all(|slot| self.known(*slot))
            }
            None => self.cells.get(slot.0).is_some_and(|cell| cell.known),
        }
    }
}
