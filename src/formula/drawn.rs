//! Formulas at random draws of all their uncertain roots. Each step of a formula is taken for many
//! draws before the next one, so that what a step costs besides its arithmetic is paid once. What
//! a formula gives is kept, so that all that read it share the work.

use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::apply::{self, Fails, Lack};
use super::column::Column;
use super::evaluate::{Data, Datum, Gap};
use super::functions::Function;
use super::lock::lock;
use super::node::{Formula, Node, Slot};
use super::sample;
use super::sheet::{Piece, Sheet};
use crate::physics::Refusal;

/// How many draws take a step together: few enough that what they give stays in the nearest memory,
/// enough for every core to have some.
const TOGETHER: usize = 1_000;

/// Why there is no value at a draw: a [`Gap`] without its words, which nobody would read.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Missing {
    Unknown,
    Refused { above: Option<f64> },
}

/// What a piece gives at one draw.
type AtDraw = Result<f64, Missing>;

/// Whether something holds at one draw.
type Holds = Result<bool, Missing>;

impl Lack for Missing {
    fn unknown() -> Self {
        Self::Unknown
    }

    fn is_unknown(&self) -> bool {
        *self == Self::Unknown
    }

    fn above(&self) -> Option<f64> {
        match self {
            Self::Refused { above } => *above,
            Self::Unknown => None,
        }
    }

    fn below_something(self) -> Self {
        match self {
            Self::Refused { .. } => Self::Refused { above: None },
            Self::Unknown => Self::Unknown,
        }
    }
}

impl From<Fails> for Missing {
    fn from(_: Fails) -> Self {
        Self::Refused { above: None }
    }
}

impl From<Refusal> for Missing {
    fn from(refusal: Refusal) -> Self {
        Self::Refused { above: refusal.above }
    }
}

impl From<Gap> for Missing {
    fn from(gap: Gap) -> Self {
        match gap {
            Gap::Unknown => Self::Unknown,
            Gap::Refused(refusal) => refusal.into(),
        }
    }
}

/// A number of draws of every root, and what was worked out at them.
pub(super) struct Draws {
    slices: Box<[f64]>,
    /// By given slot: its value at each draw.
    given: Vec<OnceLock<Box<[f64]>>>,
    /// By formula: what it gives at each draw.
    formulas: Vec<OnceLock<Box<[AtDraw]>>>,
}

impl Draws {
    /// The literals of a formula with `±`, at each draw.
    fn literals(&self, formula: &Formula, occurrence: usize) -> Vec<Box<[f64]>> {
        let stream = sample::within(sample::stream(&formula.text), occurrence);
        let spreads = formula.spreads.iter().enumerate();
        spreads
            .map(|(index, (value, uncertainty))| {
                self.around(*value, *uncertainty, sample::within(stream, index))
            })
            .collect()
    }

    fn around(&self, value: f64, uncertainty: f64, stream: u64) -> Box<[f64]> {
        let mut drawn = sample::draws(&self.slices, stream);
        for draw in &mut drawn {
            *draw = value + uncertainty * *draw;
        }
        drawn
    }
}

impl Sheet<'_> {
    /// What a piece gives at each of so many draws; none where it is refused.
    pub(super) fn at_draws(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, Gap>],
        draws: usize,
    ) -> Vec<Option<f64>> {
        let draws = self.draws(draws);
        let literals = draws.literals(piece.formula, 0);
        let all = Steps { sheet: self, draws: &draws, literals, chances }.all(piece.node);
        all.into_iter().map(Result::ok).collect()
    }

    /// The draws by how many there are; a program knows few sizes.
    fn draws(&self, count: usize) -> Arc<Draws> {
        let mut kept = lock(&self.drawn);
        if let Some(found) = kept.iter().find(|draws| draws.slices.len() == count) {
            return Arc::clone(found);
        }
        let empty = Arc::new(Draws {
            slices: sample::slices(count),
            given: vec![OnceLock::new(); self.givens()],
            formulas: vec![OnceLock::new(); self.formulas()],
        });
        kept.push(Arc::clone(&empty));
        empty
    }
}

/// The steps of one formula.
struct Steps<'a, 'f> {
    sheet: &'a Sheet<'f>,
    draws: &'a Draws,
    literals: Vec<Box<[f64]>>,
    chances: &'a [Result<f64, Gap>],
}

impl<'a> Steps<'a, '_> {
    /// What a piece gives at all draws.
    fn all(&self, node: &Node) -> Vec<AtDraw> {
        let count = self.draws.slices.len();
        let mut found = Vec::with_capacity(count);
        for from in (0..count).step_by(TOGETHER) {
            let at: Vec<usize> = (from..count.min(from + TOGETHER)).collect();
            found.extend(self.numbers(node, &at).rows(at.len()));
        }
        found
    }

    /// The number that a piece gives at each of these draws.
    fn numbers(&self, node: &Node, at: &[usize]) -> Column<AtDraw> {
        // A branch that no draw takes isn't worked out.
        if at.is_empty() {
            return Column::Each(Vec::new());
        }
        match node {
            Node::Number(value) => Column::Same(apply::finite(*value)),
            Node::Spread { value, index, .. } => match self.literals.get(*index) {
                Some(drawn) => at_each(at, |draw| apply::finite(drawn[draw])),
                None => Column::Same(apply::finite(*value)),
            },
            Node::Read(slot) => self.read(*slot, at),
            Node::Call { function, arguments } => self.call(function, arguments, at),
            Node::Math { operation, arguments } => {
                let given: Vec<Column<AtDraw>> =
                    arguments.iter().map(|argument| self.numbers(argument, at)).collect();
                Column::of(at.len(), given.iter().all(Column::is_same), |row| {
                    let row = given.iter().map(|of| of.at(row));
                    apply::math(*operation, row).and_then(apply::finite)
                })
            }
            Node::Interpolate { table, along, at: place } => match self.sheet.datum(*table) {
                Ok(Datum::Table(rows)) => {
                    let points = apply::rising(rows, *along);
                    let interpolated = |place: f64| apply::interpolate(&points, place);
                    let places = self.numbers(place, at);
                    places.map(|place| place.and_then(interpolated).and_then(apply::finite))
                }
                Ok(_) => Column::Same(Err(Missing::Unknown)),
                Err(gap) => Column::Same(Err(gap.into())),
            },
            Node::Chance { index, .. } => {
                let chance = self.chances.get(*index).cloned().unwrap_or(Err(Gap::Unknown));
                Column::Same(chance.map_err(Missing::from).and_then(apply::finite))
            }
            Node::AsOf { value, .. } => self.numbers(value, at),
            Node::Negated(inner) => self.numbers(inner, at).map(|value| Ok(-inner_part(value)?)),
            Node::Arithmetic { operator, left, right } => {
                let result = |left: AtDraw, right: AtDraw| {
                    let (left, right) = (inner_part(left)?, inner_part(right)?);
                    apply::arithmetic(*operator, left, right).and_then(apply::finite)
                };
                self.numbers(left, at).with(self.numbers(right, at), result)
            }
            Node::If { condition, then, otherwise } => {
                self.branches(condition, then, otherwise, at)
            }
            // The checker lets no truth stand where a number is wanted.
            _ => Column::Same(Err(Missing::Unknown)),
        }
    }

    fn read(&self, slot: Slot, at: &[usize]) -> Column<AtDraw> {
        if let Some(index) = self.sheet.formula_at(slot).filter(|at| !self.sheet.is_certain(*at)) {
            let drawn = self.formula(index);
            return at_each(at, |draw| drawn[draw]);
        }
        let root = self.sheet.given(slot);
        if root.uncertainty > 0.0 {
            let draws = self.draws;
            let drawn = draws.given[slot.0].get_or_init(|| {
                draws.around(root.value, root.uncertainty, self.sheet.stream(slot))
            });
            return at_each(at, |draw| apply::finite(drawn[draw]));
        }
        Column::Same(match self.sheet.datum(slot) {
            Ok(Datum::Number(value)) => apply::finite(value),
            Ok(_) => Err(Missing::Unknown),
            Err(gap) => Err(gap.into()),
        })
    }

    /// What a formula gives at every draw.
    fn formula(&self, index: usize) -> &'a [AtDraw] {
        let (sheet, draws) = (self.sheet, self.draws);
        if let Some(known) = draws.formulas[index].get() {
            return known;
        }
        // Not within `get_or_init`: while a thread waits for others to do their share of a slow call,
        // rayon may give it a piece of work that asks for this very formula, and it would wait for
        // itself. At worst two threads work out the same.
        let formula = sheet.whole(index).formula;
        let literals = draws.literals(formula, sheet.occurrence(index));
        let chances = sheet.chances_of(index);
        let found = Steps { sheet, draws, literals, chances }.all(&formula.node);
        draws.formulas[index].get_or_init(|| found.into())
    }

    fn call(&self, function: &Function, arguments: &[Node], at: &[usize]) -> Column<AtDraw> {
        let columns: Vec<Column<AtDraw>> =
            arguments.iter().map(|argument| self.numbers(argument, at)).collect();
        let result = |given: &mut Vec<f64>, row: usize| -> AtDraw {
            given.clear();
            for column in &columns {
                given.push(inner_part(column.at(row))?);
            }
            apply::finite((function.call)(given)?)
        };
        if columns.iter().all(Column::is_same) {
            return if at.is_empty() {
                Column::Each(Vec::new())
            } else {
                Column::Same(result(&mut Vec::new(), 0))
            };
        }
        let rows = 0..at.len();
        Column::Each(if function.is_slow() {
            rows.into_par_iter().map_init(Vec::new, result).collect()
        } else {
            let mut given = Vec::with_capacity(columns.len());
            rows.map(|row| result(&mut given, row)).collect()
        })
    }

    /// Each draw takes the branch that is its own.
    fn branches(
        &self,
        condition: &Node,
        then: &Node,
        otherwise: &Node,
        at: &[usize],
    ) -> Column<AtDraw> {
        let conditions = match self.truths(condition, at) {
            Column::Same(Ok(holds)) => {
                return self.numbers(if holds { then } else { otherwise }, at);
            }
            Column::Same(Err(gap)) => return Column::Same(Err(gap)),
            Column::Each(conditions) => conditions,
        };
        let branch = |node: &Node, taken: bool| {
            let draws = at.iter().zip(&conditions).filter(|(_, holds)| **holds == Ok(taken));
            let draws: Vec<usize> = draws.map(|(draw, _)| *draw).collect();
            self.numbers(node, &draws).rows(draws.len()).into_iter()
        };
        let (mut then, mut otherwise) = (branch(then, true), branch(otherwise, false));
        let each = conditions.iter().map(|holds| match holds {
            Ok(true) => then.next(),
            Ok(false) => otherwise.next(),
            Err(gap) => Some(Err(*gap)),
        });
        Column::Each(each.map(|value| value.unwrap_or(Err(Missing::Unknown))).collect())
    }

    /// Yes or no at each of these draws.
    fn truths(&self, node: &Node, at: &[usize]) -> Column<Holds> {
        match node {
            Node::Truth(truth) => Column::Same(Ok(*truth)),
            Node::Answered(slot) => Column::Same(match self.sheet.datum(*slot) {
                Ok(Datum::Truth(truth)) => Ok(truth),
                Ok(_) => Err(Missing::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Chosen { slot, option } => Column::Same(match self.sheet.datum(*slot) {
                Ok(Datum::Option(chosen)) => Ok(chosen == *option),
                Ok(_) => Err(Missing::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Known(slot) => Column::Same(Ok(self.sheet.known(*slot))),
            Node::Compared { operator, left, right } => {
                let (left, right) = (self.numbers(left, at), self.numbers(right, at));
                Column::of(at.len(), left.is_same() && right.is_same(), |row| {
                    Ok(operator.holds(left.at(row)? - right.at(row)?))
                })
            }
            Node::Same { left, right } => self
                .truths(left, at)
                .with(self.truths(right, at), |left, right| Ok(left? == right?)),
            Node::Both(left, right) => self.settled(left, right, false, at),
            Node::Either(left, right) => self.settled(left, right, true, at),
            Node::Not(inner) => self.truths(inner, at).map(|truth| truth.map(|truth| !truth)),
            Node::If { condition, then, otherwise } => {
                let conditions = self.truths(condition, at);
                let (then, otherwise) = (self.truths(then, at), self.truths(otherwise, at));
                let same = [&conditions, &then, &otherwise].into_iter().all(Column::is_same);
                Column::of(at.len(), same, |row| match conditions.at(row) {
                    Ok(true) => then.at(row),
                    Ok(false) => otherwise.at(row),
                    Err(gap) => apply::either_way(gap, then.at(row), otherwise.at(row)),
                })
            }
            _ => Column::Same(Err(Missing::Unknown)),
        }
    }

    fn settled(&self, left: &Node, right: &Node, by: bool, at: &[usize]) -> Column<Holds> {
        match self.truths(left, at) {
            Column::Same(Ok(left)) if left == by => Column::Same(Ok(by)),
            left => {
                left.with(self.truths(right, at), |left, right| apply::settle(left, || right, by))
            }
        }
    }
}

fn at_each(at: &[usize], value: impl Fn(usize) -> AtDraw) -> Column<AtDraw> {
    Column::Each(at.iter().map(|draw| value(*draw)).collect())
}

/// A value as part of what something is made of.
fn inner_part(value: AtDraw) -> AtDraw {
    value.map_err(Lack::below_something)
}
