//! The value of a checked formula, given the data of its names. Total: every outcome is a number,
//! yes or no, not known, or a refusal with its reason.

use std::fmt;

use super::node::{Math, Node, Slot};
use super::syntax::Arithmetic;
use crate::physics::Refusal;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq)]
pub enum Gap {
    /// Something below has no answer yet, or nobody can say.
    Unknown,
    /// The calculation was refused.
    Refused(Refusal),
}

impl Gap {
    /// What the value is known to lie above, where a search ended before it was reached.
    #[must_use]
    pub fn above(&self) -> Option<f64> {
        match self {
            Self::Refused(refusal) => refusal.above,
            Self::Unknown => None,
        }
    }

    /// As a gap in something that rests on the value: what that lies above, nobody knows.
    fn below_something(self) -> Self {
        match self {
            Self::Refused(refusal) => Self::Refused(Refusal { above: None, ..refusal }),
            Self::Unknown => Self::Unknown,
        }
    }
}

impl From<Refusal> for Gap {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl fmt::Display for Gap {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown => f.write_str("not known"),
            Self::Refused(refusal) => refusal.fmt(f),
        }
    }
}

/// What stands in a slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Datum<'a> {
    /// In coherent SI.
    Number(f64),
    Truth(bool),
    /// Index of the chosen option.
    Option(usize),
    /// Rows of a two-column table, SI.
    Table(&'a [[f64; 2]]),
}

/// Where a formula's names get their values.
pub trait Data {
    /// What stands in the slot, or why nothing does.
    ///
    /// # Errors
    /// [`Gap`] where there is no value.
    fn datum(&self, slot: Slot) -> Result<Datum<'_>, Gap>;

    /// Whether a person answered it (an assumption is not known).
    fn known(&self, slot: Slot) -> bool;
}

/// One evaluation: the data, and the values that stand for the formula's own `±` literals and
/// chances.
#[derive(Clone, Copy)]
pub struct Evaluation<'a> {
    pub data: &'a dyn Data,
    pub spreads: &'a [f64],
    pub chances: &'a [Result<f64, Gap>],
}

impl Evaluation<'_> {
    /// The number that a piece gives, in coherent SI. Always finite.
    ///
    /// # Errors
    /// [`Gap`] where something below is not known or refused.
    pub fn number(&self, node: &Node) -> Result<f64, Gap> {
        let value = match node {
            Node::Number(value) => *value,
            Node::Spread { value, index, .. } => {
                self.spreads.get(*index).copied().unwrap_or(*value)
            }
            Node::Read(slot) => match self.data.datum(*slot)? {
                Datum::Number(value) => value,
                _ => return Err(Gap::Unknown),
            },
            Node::Call { function, arguments } => {
                let given: Vec<f64> = arguments
                    .iter()
                    .map(|argument| self.inner(argument))
                    .collect::<Result<_, _>>()?;
                (function.call)(&given)?
            }
            Node::Math { operation, arguments } => self.math(*operation, arguments)?,
            Node::Interpolate { table, along, at } => self.interpolate(*table, *along, at)?,
            Node::Chance { index, .. } => {
                self.chances.get(*index).cloned().unwrap_or(Err(Gap::Unknown))?
            }
            Node::AsOf { value, .. } => self.number(value)?,
            Node::Negated(inner) => -self.inner(inner)?,
            Node::Arithmetic { operator, left, right } => {
                arithmetic(*operator, self.inner(left)?, self.inner(right)?)?
            }
            Node::If { condition, then, otherwise } => {
                let branch = if self.truth(condition)? { then } else { otherwise };
                self.number(branch)?
            }
            // The checker lets no truth stand where a number is wanted.
            _ => return Err(Gap::Unknown),
        };
        finite(value)
    }

    /// The number of a piece that something is made of.
    fn inner(&self, node: &Node) -> Result<f64, Gap> {
        self.number(node).map_err(Gap::below_something)
    }

    /// Yes or no: no-and-unknown is no, yes-or-unknown is yes, else what is not known stays so.
    ///
    /// # Errors
    /// [`Gap`] where it can't be told.
    pub fn truth(&self, node: &Node) -> Result<bool, Gap> {
        match node {
            Node::Truth(truth) => Ok(*truth),
            Node::Answered(slot) => match self.data.datum(*slot)? {
                Datum::Truth(truth) => Ok(truth),
                _ => Err(Gap::Unknown),
            },
            Node::Chosen { slot, option } => match self.data.datum(*slot)? {
                Datum::Option(chosen) => Ok(chosen == *option),
                _ => Err(Gap::Unknown),
            },
            Node::Known(slot) => Ok(self.data.known(*slot)),
            Node::Compared { operator, left, right } => {
                Ok(operator.holds(self.number(left)? - self.number(right)?))
            }
            Node::Same { left, right } => Ok(self.truth(left)? == self.truth(right)?),
            Node::Both(left, right) => settle(self.truth(left), || self.truth(right), false),
            Node::Either(left, right) => settle(self.truth(left), || self.truth(right), true),
            Node::Not(inner) => self.truth(inner).map(|truth| !truth),
            Node::If { condition, then, otherwise } => match self.truth(condition) {
                Ok(true) => self.truth(then),
                Ok(false) => self.truth(otherwise),
                Err(gap) => match (self.truth(then), self.truth(otherwise)) {
                    (Ok(a), Ok(b)) if a == b => Ok(a),
                    _ => Err(gap),
                },
            },
            _ => Err(Gap::Unknown),
        }
    }

    fn math(&self, operation: Math, arguments: &[Node]) -> Result<f64, Gap> {
        if let Math::Least | Math::LeastKnown = operation {
            let values = arguments.iter().map(|argument| self.number(argument));
            return least(values, operation == Math::LeastKnown);
        }
        let mut values = arguments.iter().map(|argument| self.inner(argument));
        let first = values.next().unwrap_or(Err(Gap::Unknown))?;
        Ok(match operation {
            Math::Least | Math::LeastKnown => first,
            Math::Greatest => {
                values.try_fold(first, |most, value| value.map(|value| most.max(value)))?
            }
            Math::Magnitude => first.abs(),
            Math::SquareRoot if first < 0.0 => {
                return Err(refused("sqrt", "its argument is negative"));
            }
            Math::SquareRoot => first.sqrt(),
            Math::NaturalLogarithm if first <= 0.0 => {
                return Err(refused("ln", "its argument is not above 0"));
            }
            Math::NaturalLogarithm => first.ln(),
            Math::Exponential => first.exp(),
        })
    }

    fn interpolate(&self, table: Slot, along: usize, at: &Node) -> Result<f64, Gap> {
        let Datum::Table(rows) = self.data.datum(table)? else { return Err(Gap::Unknown) };
        let at = self.number(at)?;
        let mut points: Vec<(f64, f64)> = rows
            .iter()
            .map(|row| if along == 0 { (row[0], row[1]) } else { (row[1], row[0]) })
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let after = points.partition_point(|point| point.0 < at);
        match (after.checked_sub(1).and_then(|before| points.get(before)), points.get(after)) {
            (_, Some(here)) if here.0 == at => Ok(here.1),
            (Some(a), Some(b)) => Ok(a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0)),
            _ => Err(refused("interpolate", "the value lies outside the table")),
        }
    }
}

/// The least of values, or of those that are known. One that is known to lie above another isn't
/// the least, so that it need not be worked out.
fn least(values: impl Iterator<Item = Result<f64, Gap>>, known_only: bool) -> Result<f64, Gap> {
    let mut least: Option<f64> = None;
    let mut beyond: Option<(f64, Gap)> = None;
    for value in values {
        match value {
            Ok(value) => least = Some(least.map_or(value, |least| least.min(value))),
            Err(Gap::Unknown) if known_only => {}
            Err(gap) => {
                let Some(above) = gap.above() else { return Err(gap) };
                if beyond.as_ref().is_none_or(|(nearest, _)| above < *nearest) {
                    beyond = Some((above, gap));
                }
            }
        }
    }
    match (least, beyond) {
        (Some(least), Some((above, gap))) if least > above => Err(gap.below_something()),
        (Some(least), _) => Ok(least),
        (None, Some((_, gap))) => Err(gap),
        (None, None) => Err(Gap::Unknown),
    }
}

fn refused(quantity: &'static str, reason: &str) -> Gap {
    Gap::Refused(Refusal::new(quantity, reason))
}

fn finite(value: f64) -> Result<f64, Gap> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(refused("result", "it is too large to be a number"))
    }
}

fn arithmetic(operator: Arithmetic, left: f64, right: f64) -> Result<f64, Gap> {
    Ok(match operator {
        Arithmetic::Add => left + right,
        Arithmetic::Subtract => left - right,
        Arithmetic::Multiply => left * right,
        Arithmetic::Divide if right == 0.0 => return Err(refused("division", "the divisor is 0")),
        Arithmetic::Divide => left / right,
        Arithmetic::Power if left == 0.0 && right < 0.0 => {
            return Err(refused("power", "0 has no negative power"));
        }
        Arithmetic::Power if left < 0.0 && right.fract() != 0.0 => {
            return Err(refused("power", "a negative number has no fractional power"));
        }
        Arithmetic::Power => left.powf(right),
    })
}

/// `and` is settled by a no, `or` by a yes, whatever the other side is.
fn settle(
    left: Result<bool, Gap>,
    right: impl FnOnce() -> Result<bool, Gap>,
    by: bool,
) -> Result<bool, Gap> {
    if left == Ok(by) {
        return left;
    }
    let right = right();
    if right == Ok(by) { right } else { left.and(right) }
}
