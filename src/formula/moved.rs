//! A sheet with its uncertain roots moved: one by a step, or all of them by one random draw. What a
//! formula gives then is kept, so that all that read it share the work.

use std::cell::{OnceCell, RefCell};
use std::collections::HashMap;
use std::rc::Rc;

use super::band::OFFSETS;
use super::evaluate::{Data, Datum, Evaluation, Gap};
use super::node::{Formula, Slot};
use super::sample;
use super::sheet::{Piece, RootId, Sheet};

type Value = Result<f64, Gap>;
/// One value a draw.
type Column = Box<[f64]>;

/// What was worked out with roots moved.
#[derive(Default)]
pub(super) struct Kept {
    /// By formula, root and place of the step in [`OFFSETS`].
    stepped: RefCell<HashMap<(usize, RootId, usize), Value>>,
    /// The draws by how many there are; a program knows few sizes.
    drawn: RefCell<Vec<Rc<Drawn>>>,
}

/// A number of draws of every root.
pub(super) struct Drawn {
    slices: Column,
    /// By given slot.
    given: Vec<OnceCell<Column>>,
    /// By formula: the columns of its literals with `±`.
    literals: Vec<OnceCell<Vec<Column>>>,
    /// By formula and draw.
    values: Vec<OnceCell<Box<[OnceCell<Value>]>>>,
}

impl Drawn {
    fn literals(&self, formula: &Formula, occurrence: usize) -> Vec<Column> {
        let stream = sample::within(sample::stream(&formula.text), occurrence);
        (0..formula.spreads.len())
            .map(|index| sample::draws(&self.slices, sample::within(stream, index)))
            .collect()
    }
}

/// The literals of a formula with `±` at one draw.
fn spreads(formula: &Formula, columns: &[Column], draw: usize) -> Vec<f64> {
    let drawn = formula.spreads.iter().zip(columns);
    drawn.map(|((value, uncertainty), column)| value + uncertainty * column[draw]).collect()
}

impl Sheet<'_> {
    fn drawn(&self, draws: usize) -> Rc<Drawn> {
        let mut kept = self.kept.drawn.borrow_mut();
        if let Some(found) = kept.iter().find(|drawn| drawn.slices.len() == draws) {
            return Rc::clone(found);
        }
        let empty = Rc::new(Drawn {
            slices: sample::slices(draws),
            given: vec![OnceCell::new(); self.givens()],
            literals: vec![OnceCell::new(); self.formulas()],
            values: vec![OnceCell::new(); self.formulas()],
        });
        kept.push(Rc::clone(&empty));
        empty
    }

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

    /// What a piece gives at each of so many draws.
    pub(super) fn at_draws<'s>(
        &'s self,
        piece: Piece<'s>,
        chances: &'s [Value],
        draws: usize,
    ) -> impl Iterator<Item = Value> + 's {
        let drawn = self.drawn(draws);
        let own = drawn.literals(piece.formula, 0);
        (0..draws).map(move |draw| {
            let spreads = spreads(piece.formula, &own, draw);
            let data = AtDraw { sheet: self, drawn: &drawn, draw };
            Evaluation { data: &data, spreads: &spreads, chances }.number(piece.node)
        })
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
        if let Some(found) = self.sheet.kept.stepped.borrow().get(&key) {
            return found.clone();
        }
        let (slot, piece) = (self.sheet.slot(index), self.sheet.whole(index));
        let spreads = self.spreads(piece.formula, |index| RootId::Literal { slot, index });
        let chances = self.sheet.chances_of(index);
        let found = Evaluation { data: self, spreads: &spreads, chances }.number(piece.node);
        self.sheet.kept.stepped.borrow_mut().insert(key, found.clone());
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

/// All roots at one draw.
struct AtDraw<'a, 'f> {
    sheet: &'a Sheet<'f>,
    drawn: &'a Drawn,
    draw: usize,
}

impl AtDraw<'_, '_> {
    fn formula(&self, index: usize) -> Value {
        if self.sheet.is_certain(index) {
            return self.sheet.value(index);
        }
        let draws = self.drawn.slices.len();
        let values = self.drawn.values[index].get_or_init(|| vec![OnceCell::new(); draws].into());
        let value = values[self.draw].get_or_init(|| {
            let formula = self.sheet.whole(index).formula;
            let columns = self.drawn.literals[index]
                .get_or_init(|| self.drawn.literals(formula, self.sheet.occurrence(index)));
            let spreads = spreads(formula, columns, self.draw);
            let chances = self.sheet.chances_of(index);
            Evaluation { data: self, spreads: &spreads, chances }.number(&formula.node)
        });
        value.clone()
    }
}

impl Data for AtDraw<'_, '_> {
    fn datum(&self, slot: Slot) -> Result<Datum<'_>, Gap> {
        if let Some(index) = self.sheet.formula_at(slot) {
            return self.formula(index).map(Datum::Number);
        }
        let root = self.sheet.given(slot);
        if root.uncertainty > 0.0 {
            let column = self.drawn.given[slot.0]
                .get_or_init(|| sample::draws(&self.drawn.slices, self.sheet.stream(slot)));
            return Ok(Datum::Number(root.value + root.uncertainty * column[self.draw]));
        }
        self.sheet.datum(slot)
    }

    fn known(&self, slot: Slot) -> bool {
        self.sheet.known(slot)
    }
}
