//! Formulas at random draws of all their uncertain roots. Each step of a formula is taken for many
//! draws before the next one, so that what a step costs besides its arithmetic is paid once. What
//! a formula gives is kept, so that all that read it share the work.

use std::sync::{Arc, OnceLock};

use super::apply::{self, Fails, Lack};
use super::evaluate::{Data, Datum, Gap};
use super::functions::Function;
use super::node::{Formula, Node, Slot};
use super::sample;
use super::sheet::{Piece, Sheet};
use crate::cores::{hold, on_all};
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
        let mut kept = hold(&self.drawn);
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
        let all: Vec<usize> = (0..self.draws.slices.len()).collect();
        all.chunks(TOGETHER).flat_map(|at| self.numbers(node, at)).collect()
    }

    /// The number that a piece gives at each of these draws.
    fn numbers(&self, node: &Node, at: &[usize]) -> Vec<AtDraw> {
        if at.is_empty() {
            return Vec::new();
        }
        let same = |value: AtDraw| vec![value; at.len()];
        let mut found = match node {
            Node::Number(value) => same(Ok(*value)),
            Node::Spread { value, index, .. } => match self.literals.get(*index) {
                Some(drawn) => at.iter().map(|draw| Ok(drawn[*draw])).collect(),
                None => same(Ok(*value)),
            },
            Node::Read(slot) => self.read(*slot, at),
            Node::Call { function, arguments } => self.call(function, arguments, at),
            Node::Math { operation, arguments } => {
                let given: Vec<Vec<AtDraw>> =
                    arguments.iter().map(|argument| self.numbers(argument, at)).collect();
                let math = |row: usize| apply::math(*operation, given.iter().map(|of| of[row]));
                (0..at.len()).map(math).collect()
            }
            Node::Interpolate { table, along, at: place } => match self.sheet.datum(*table) {
                Ok(Datum::Table(rows)) => {
                    let points = apply::rising(rows, *along);
                    let places = self.numbers(place, at).into_iter();
                    places.map(|place| apply::interpolate(&points, place?)).collect()
                }
                Ok(_) => same(Err(Missing::Unknown)),
                Err(gap) => same(Err(gap.into())),
            },
            Node::Chance { index, .. } => {
                let chance = self.chances.get(*index).cloned().unwrap_or(Err(Gap::Unknown));
                same(chance.map_err(Missing::from))
            }
            Node::AsOf { value, .. } => self.numbers(value, at),
            Node::Negated(inner) => {
                self.inner(inner, at).into_iter().map(|value| value.map(|value| -value)).collect()
            }
            Node::Arithmetic { operator, left, right } => {
                let pairs = self.inner(left, at).into_iter().zip(self.inner(right, at));
                pairs.map(|(left, right)| apply::arithmetic(*operator, left?, right?)).collect()
            }
            Node::If { condition, then, otherwise } => {
                self.branches(condition, then, otherwise, at)
            }
            // The checker lets no truth stand where a number is wanted.
            _ => same(Err(Missing::Unknown)),
        };
        for value in &mut found {
            *value = value.and_then(apply::finite);
        }
        found
    }

    /// The numbers of a piece that something is made of.
    fn inner(&self, node: &Node, at: &[usize]) -> Vec<AtDraw> {
        let mut found = self.numbers(node, at);
        for value in &mut found {
            *value = value.map_err(Lack::below_something);
        }
        found
    }

    fn read(&self, slot: Slot, at: &[usize]) -> Vec<AtDraw> {
        if let Some(index) = self.sheet.formula_at(slot).filter(|at| !self.sheet.is_certain(*at)) {
            let drawn = self.formula(index);
            return at.iter().map(|draw| drawn[*draw]).collect();
        }
        let root = self.sheet.given(slot);
        if root.uncertainty > 0.0 {
            let draws = self.draws;
            let drawn = draws.given[slot.0].get_or_init(|| {
                draws.around(root.value, root.uncertainty, self.sheet.stream(slot))
            });
            return at.iter().map(|draw| Ok(drawn[*draw])).collect();
        }
        let value = match self.sheet.datum(slot) {
            Ok(Datum::Number(value)) => Ok(value),
            Ok(_) => Err(Missing::Unknown),
            Err(gap) => Err(gap.into()),
        };
        vec![value; at.len()]
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

    fn call(&self, function: &Function, arguments: &[Node], at: &[usize]) -> Vec<AtDraw> {
        let columns: Vec<Vec<AtDraw>> =
            arguments.iter().map(|argument| self.inner(argument, at)).collect();
        let results = |rows: std::ops::Range<usize>| {
            let mut given = Vec::with_capacity(columns.len());
            let mut result = |row: usize| -> AtDraw {
                given.clear();
                for column in &columns {
                    given.push(column[row]?);
                }
                Ok((function.call)(&given)?)
            };
            rows.map(&mut result).collect()
        };
        if function.is_slow() { on_all(at.len(), results) } else { results(0..at.len()) }
    }

    /// Each draw takes the branch that is its own.
    fn branches(
        &self,
        condition: &Node,
        then: &Node,
        otherwise: &Node,
        at: &[usize],
    ) -> Vec<AtDraw> {
        let conditions = self.truths(condition, at);
        let branch = |node: &Node, taken: bool| {
            let draws = at.iter().zip(&conditions).filter(|(_, holds)| **holds == Ok(taken));
            let draws: Vec<usize> = draws.map(|(draw, _)| *draw).collect();
            self.numbers(node, &draws).into_iter()
        };
        let (mut then, mut otherwise) = (branch(then, true), branch(otherwise, false));
        let each = conditions.iter().map(|holds| match holds {
            Ok(true) => then.next(),
            Ok(false) => otherwise.next(),
            Err(gap) => Some(Err(*gap)),
        });
        each.map(|value| value.unwrap_or(Err(Missing::Unknown))).collect()
    }

    /// Yes or no at each of these draws.
    fn truths(&self, node: &Node, at: &[usize]) -> Vec<Result<bool, Missing>> {
        if at.is_empty() {
            return Vec::new();
        }
        let same = |truth: Result<bool, Missing>| vec![truth; at.len()];
        match node {
            Node::Truth(truth) => same(Ok(*truth)),
            Node::Answered(slot) => same(match self.sheet.datum(*slot) {
                Ok(Datum::Truth(truth)) => Ok(truth),
                Ok(_) => Err(Missing::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Chosen { slot, option } => same(match self.sheet.datum(*slot) {
                Ok(Datum::Option(chosen)) => Ok(chosen == *option),
                Ok(_) => Err(Missing::Unknown),
                Err(gap) => Err(gap.into()),
            }),
            Node::Known(slot) => same(Ok(self.sheet.known(*slot))),
            Node::Compared { operator, left, right } => {
                let pairs = self.numbers(left, at).into_iter().zip(self.numbers(right, at));
                pairs.map(|(left, right)| Ok(operator.holds(left? - right?))).collect()
            }
            Node::Same { left, right } => {
                let pairs = self.truths(left, at).into_iter().zip(self.truths(right, at));
                pairs.map(|(left, right)| Ok(left? == right?)).collect()
            }
            Node::Both(left, right) => self.settled(left, right, false, at),
            Node::Either(left, right) => self.settled(left, right, true, at),
            Node::Not(inner) => {
                self.truths(inner, at).into_iter().map(|truth| truth.map(|truth| !truth)).collect()
            }
            Node::If { condition, then, otherwise } => {
                let conditions = self.truths(condition, at);
                let (then, otherwise) = (self.truths(then, at), self.truths(otherwise, at));
                let each = conditions.into_iter().zip(then.into_iter().zip(otherwise));
                each.map(|(condition, (then, otherwise))| match condition {
                    Ok(true) => then,
                    Ok(false) => otherwise,
                    Err(gap) => apply::either_way(gap, then, otherwise),
                })
                .collect()
            }
            _ => same(Err(Missing::Unknown)),
        }
    }

    fn settled(
        &self,
        left: &Node,
        right: &Node,
        by: bool,
        at: &[usize],
    ) -> Vec<Result<bool, Missing>> {
        let left = self.truths(left, at);
        if left.iter().all(|left| *left == Ok(by)) {
            return left;
        }
        let pairs = left.into_iter().zip(self.truths(right, at));
        pairs.map(|(left, right)| apply::settle(left, || right, by)).collect()
    }
}
