//! A sheet with one of its uncertain roots moved by a step. What a formula gives then is kept, so
//! that all that read it share the work.

use std::collections::HashMap;
use std::sync::Mutex;

use super::band::OFFSETS;
use super::evaluate::{Data, Datum, Evaluation, Gap};
use super::lock::lock;
use super::node::{Formula, Slot};
use super::sheet::{Piece, RootId, Sheet};

type Value = Result<f64, Gap>;

/// What formulas gave with a root moved: by formula, root and place of the step in [`OFFSETS`].
pub(super) type Kept = Mutex<HashMap<(usize, RootId, usize), Value>>;

impl Sheet<'_> {
    /// What a piece gives with one root moved by a step of [`OFFSETS`].
    pub(super) fn stepped(
        &self,
        piece: Piece<'_>,
        chances: &[Value],
        root: RootId,
        step: usize,
    ) -> Value {
        let at = self.root(root, piece.formula);
        let stepped =
            Stepped { sheet: self, root, step, value: at.value + OFFSETS[step] * at.uncertainty };
        let spreads = stepped.spreads(piece.formula, |index| RootId::Own { index });
        Evaluation { data: &stepped, spreads: &spreads, chances }.number(piece.node)
    }
}

/// One root moved by a step.
struct Stepped<'a, 'f> {
    sheet: &'a Sheet<'f>,
    root: RootId,
    step: usize,
    value: f64,
}

impl Stepped<'_, '_> {
    fn spreads(&self, formula: &Formula, name: impl Fn(usize) -> RootId) -> Vec<f64> {
        let literals = formula.spreads.iter().enumerate();
        literals
            .map(|(index, (value, _))| if name(index) == self.root { self.value } else { *value })
            .collect()
    }

    fn formula(&self, index: usize) -> Value {
        if !self.sheet.rests_on(index, self.root) {
            return self.sheet.value(index);
        }
        let key = (index, self.root, self.step);
        let kept = lock(&self.sheet.moved).get(&key).cloned();
        if let Some(found) = kept {
            return found;
        }
        let (slot, piece) = (self.sheet.slot(index), self.sheet.whole(index));
        let spreads = self.spreads(piece.formula, |index| RootId::Literal { slot, index });
        let chances = self.sheet.chances_of(index);
        let found = Evaluation { data: self, spreads: &spreads, chances }.number(piece.node);
        lock(&self.sheet.moved).insert(key, found.clone());
        found
    }
}

impl Data for Stepped<'_, '_> {
    fn datum(&self, slot: Slot) -> Result<Datum<'_>, Gap> {
        if let Some(index) = self.sheet.formula_at(slot) {
            return self.formula(index).map(Datum::Number);
        }
        if self.root == RootId::Given(slot) {
            return Ok(Datum::Number(self.value));
        }
        self.sheet.datum(slot)
    }

    fn known(&self, slot: Slot) -> bool {
        self.sheet.known(slot)
    }
}
