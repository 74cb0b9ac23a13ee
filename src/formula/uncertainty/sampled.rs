//! Formulas at random draws of all their uncertain roots. Each step of a formula is taken for many
//! draws before the next one, so that what a step costs besides its arithmetic is paid once. What
//! a formula gives is kept, so that all that read it share the work.

use std::ops::Range;
use std::sync::{Arc, OnceLock};

use super::column::Column;
use super::latin_hypercube;
use crate::cores::{hold, on_all};
use crate::formula::check::node::{Formula, Node, VarId};
use crate::formula::evaluate::arithmetic::{self, EvalFailure, StepError};
use crate::formula::evaluate::point::{Datum, EvalError, Values};
use crate::formula::evaluate::sheet::{Evaluator, Piece};
use crate::formula::functions::Function;
use crate::physics::Refusal;

/// How many draws take a step together: few enough that what they give stays in the nearest memory,
/// enough for every core to have some.
const TOGETHER: usize = 1_000;

/// Why there is no value at a draw: a [`EvalError`] without its words, which nobody would read.
#[derive(Debug, Clone, Copy, PartialEq)]
enum CompactError {
    Unknown,
    Refused { above: Option<f64> },
}

/// What a piece gives at one draw.
type AtDraw = Result<f64, CompactError>;

/// Whether something holds at one draw.
type Holds = Result<bool, CompactError>;

impl EvalFailure for CompactError {
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

impl From<StepError> for CompactError {
    fn from(_: StepError) -> Self {
        Self::Refused { above: None }
    }
}

impl From<Refusal> for CompactError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused { above: refusal.above }
    }
}

impl From<EvalError> for CompactError {
    fn from(gap: EvalError) -> Self {
        match gap {
            EvalError::Unknown => Self::Unknown,
            EvalError::Refused(refusal) => refusal.into(),
        }
    }
}

/// A number of draws of every root, and what was worked out at them.
pub(crate) struct Draws {
    slices: Box<[f64]>,
    /// By given slot: its value at each draw.
    given: Vec<OnceLock<Box<[f64]>>>,
    /// By formula: what it gives at each draw.
    formulas: Vec<OnceLock<Box<[AtDraw]>>>,
}

impl Draws {
    /// The literals of a formula with `±`, at each draw.
    fn literals(&self, formula: &Formula, occurrence: usize) -> Vec<Box<[f64]>> {
        let stream = latin_hypercube::within(latin_hypercube::stream(&formula.text), occurrence);
        let spreads = formula.spreads.iter().enumerate();
        spreads
            .map(|(index, (value, uncertainty))| {
                self.around(*value, *uncertainty, latin_hypercube::within(stream, index))
            })
            .collect()
    }

    fn around(&self, value: f64, uncertainty: f64, stream: u64) -> Box<[f64]> {
        let mut drawn = latin_hypercube::draws(&self.slices, stream);
        for draw in &mut drawn {
            *draw = value + uncertainty * *draw;
        }
        drawn
    }
}

impl Evaluator<'_> {
    /// What a piece gives at each of so many draws; none where it is refused.
    pub(crate) fn at_draws(
        &self,
        piece: Piece<'_>,
        chances: &[Result<f64, EvalError>],
        draws: usize,
    ) -> Vec<Option<f64>> {
        let draws = self.draws(draws);
        let literals = draws.literals(piece.formula, 0);
        let all = Steps { sheet: self, draws: &draws, literals, chances }.all(piece.node);
        all.into_iter().map(Result::ok).collect()
    }

    /// The draws by how many there are; a program knows few sizes.
    fn draws(&self, count: usize) -> Arc<Draws> {
        let mut kept = hold(&self.drawn);
        if let Some(found) = kept.iter().find(|draws| draws.slices.len() == count) {
            return Arc::clone(found);
        }
        let empty = Arc::new(Draws {
            slices: latin_hypercube::slices(count),
            given: vec![OnceLock::new(); self.givens()],
            formulas: vec![OnceLock::new(); self.formulas()],
        });
        kept.push(Arc::clone(&empty));
        empty
    }
}

/// The steps of one formula.
struct Steps<'a, 'f> {
    sheet: &'a Evaluator<'f>,
    draws: &'a Draws,
    literals: Vec<Box<[f64]>>,
    chances: &'a [Result<f64, EvalError>],
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
            Node::Number(value) => Column::Same(arithmetic::finite(*value)),
            Node::Spread { value, index, .. } => match self.literals.get(*index) {
                Some(drawn) => at_each(at, |draw| arithmetic::finite(drawn[draw])),
                None => Column::Same(arithmetic::finite(*value)),
            },
            Node::Read(slot) => self.read(*slot, at),
            Node::Call { function, arguments } => self.call(function, arguments, at),
            Node::Math { operation, arguments } => {
                let given: Vec<Column<AtDraw>> =
                    arguments.iter().map(|argument| self.numbers(argument, at)).collect();
                Column::of(at.len(), given.iter().all(Column::is_same), |row| {
                    let row = given.iter().map(|of| of.at(row));
                    arithmetic::math(*operation, row).and_then(arithmetic::finite)
                })
            }
            Node::Interpolate { table, along, at: place } => match self.sheet.datum(*table) {
                Ok(Datum::Table(rows)) => {
                    let points = arithmetic::rising(rows, *along);
                    let interpolated = |place: f64| arithmetic::interpolate(&points, place);
                    let places = self.numbers(place, at);
                    places.map(|place| place.and_then(interpolated).and_then(arithmetic::finite))
                }
                Ok(_) => Column::Same(Err(CompactError::Unknown)),
                Err(gap) => Column::Same(Err(gap.into())),
            },
            Node::Chance { index, .. } => {
                let chance = self.chances.get(*index).cloned().unwrap_or(Err(EvalError::Unknown));
                Column::Same(chance.map_err(CompactError::from).and_then(arithmetic::finite))
            }
            Node::AsOf { value, .. } => self.numbers(value, at),
            Node::Negated(inner) => self.numbers(inner, at).map(|value| Ok(-inner_part(value)?)),
            Node::Arithmetic { operator, left, right } => {
                let result = |left: AtDraw, right: AtDraw| {
                    let (left, right) = (inner_part(left)?, inner_part(right)?);
                    arithmetic::arithmetic(*operator, left, right).and_then(arithmetic::finite)
                };
                self.numbers(left, at).with(self.numbers(right, at), result)
            }
            Node::IfElse { condition, then, otherwise } => {
                self.branches(condition, then, otherwise, at)
            }
            // The checker lets no truth stand where a number is wanted.
            _ => Column::Same(Err(CompactError::Unknown)),
        }
    }

    fn read(&self, slot: VarId, at: &[usize]) -> Column<AtDraw> {
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
            return at_each(at, |draw| arithmetic::finite(drawn[draw]));
        }
        Column::Same(match self.sheet.datum(slot) {
            Ok(Datum::Number(value)) => arithmetic::finite(value),
            Ok(_) => Err(CompactError::Unknown),
            Err(gap) => Err(gap.into()),
        })
    }

    /// What a formula gives at every draw.
    fn formula(&self, index: usize) -> &'a [AtDraw] {
        let (sheet, draws) = (self.sheet, self.draws);
        draws.formulas[index].get_or_init(|| {
            let formula = sheet.whole(index).formula;
            let literals = draws.literals(formula, sheet.occurrence(index));
            let chances = sheet.chances_of(index);
            Steps { sheet, draws, literals, chances }.all(&formula.node).into()
        })
    }

    fn call(&self, function: &Function, arguments: &[Node], at: &[usize]) -> Column<AtDraw> {
        let columns: Vec<Column<AtDraw>> =
            arguments.iter().map(|argument| self.numbers(argument, at)).collect();
        let results = |rows: Range<usize>| {
            let mut given = Vec::with_capacity(columns.len());
            let mut result = |row: usize| -> AtDraw {
                given.clear();
                for column in &columns {
                    given.push(inner_part(column.at(row))?);
                }
                arithmetic::finite((function.call)(&given)?)
            };
            rows.map(&mut result).collect::<Vec<AtDraw>>()
        };
        if columns.iter().all(Column::is_same) {
            return results(0..at.len().min(1))
                .pop()
                .map_or(Column::Each(Vec::new()), Column::Same);
        }
        let all = 0..at.len();
        Column::Each(if function.is_slow() { on_all(all.len(), results) } else { results(all) })
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
        Column::Each(each.map(|value| value.unwrap_or(Err(CompactError::Unknown))).collect())
    }

    /// Yes or no at each of these draws.
    fn truths(&self, node: &Node, at: &[usize]) -> Column<Holds> {
        match node {
            Node::Bool(truth) => Column::Same(Ok(*truth)),
            Node::Answered(slot) => Column::Same(match self.sheet.datum(*slot) {
                Ok(Datum::Bool(truth)) => Ok(truth),
                Ok(_) => Err(CompactError::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Chosen { slot, option } => Column::Same(match self.sheet.datum(*slot) {
                Ok(Datum::Option(chosen)) => Ok(chosen == *option),
                Ok(_) => Err(CompactError::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Known(slot) => Column::Same(Ok(self.sheet.known(*slot))),
            Node::Compared { operator, left, right } => {
                let (left, right) = (self.numbers(left, at), self.numbers(right, at));
                Column::of(at.len(), left.is_same() && right.is_same(), |row| {
                    Ok(operator.holds(left.at(row)? - right.at(row)?))
                })
            }
            Node::Iff { left, right } => self
                .truths(left, at)
                .with(self.truths(right, at), |left, right| Ok(left? == right?)),
            Node::And(left, right) => self.settled(left, right, false, at),
            Node::Or(left, right) => self.settled(left, right, true, at),
            Node::Not(inner) => self.truths(inner, at).map(|truth| truth.map(|truth| !truth)),
            Node::IfElse { condition, then, otherwise } => {
                let conditions = self.truths(condition, at);
                let (then, otherwise) = (self.truths(then, at), self.truths(otherwise, at));
                let same = [&conditions, &then, &otherwise].into_iter().all(Column::is_same);
                Column::of(at.len(), same, |row| match conditions.at(row) {
                    Ok(true) => then.at(row),
                    Ok(false) => otherwise.at(row),
                    Err(gap) => arithmetic::either_way(gap, then.at(row), otherwise.at(row)),
                })
            }
            _ => Column::Same(Err(CompactError::Unknown)),
        }
    }

    fn settled(&self, left: &Node, right: &Node, by: bool, at: &[usize]) -> Column<Holds> {
        match self.truths(left, at) {
            Column::Same(Ok(left)) if left == by => Column::Same(Ok(by)),
            left => left
                .with(self.truths(right, at), |left, right| arithmetic::settle(left, || right, by)),
        }
    }
}

fn at_each(at: &[usize], value: impl Fn(usize) -> AtDraw) -> Column<AtDraw> {
    Column::Each(at.iter().map(|draw| value(*draw)).collect())
}

/// A value as part of what something is made of.
fn inner_part(value: AtDraw) -> AtDraw {
    value.map_err(EvalFailure::below_something)
}
