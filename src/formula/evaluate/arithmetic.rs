//! What one step of a formula makes of the values right below it. The evaluation of one set of
//! values and that of many draws at once take the same steps, and differ only in what they keep of
//! a gap.

use crate::formula::check::node::Math;
use crate::formula::syntax::expression::Arithmetic;

/// Why a step has no result: what is at fault, and why.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StepError {
    pub(crate) quantity: &'static str,
    pub(crate) reason: &'static str,
}

/// Why there is no value.
pub(crate) trait EvalFailure: From<StepError> {
    /// Something below has no answer yet, or nobody can say.
    fn unknown() -> Self;

    fn is_unknown(&self) -> bool;

    /// What the value is known to lie above, where a search ended before it was reached.
    fn above(&self) -> Option<f64>;

    /// As a gap in something that rests on the value: what that lies above, nobody knows.
    fn below_something(self) -> Self;
}

fn fails<T, L: EvalFailure>(quantity: &'static str, reason: &'static str) -> Result<T, L> {
    Err(StepError { quantity, reason }.into())
}

/// The value itself, where it can be shown.
pub(crate) fn finite<L: EvalFailure>(value: f64) -> Result<f64, L> {
    if value.is_finite() { Ok(value) } else { fails("result", "it is too large to be a number") }
}

pub(crate) fn arithmetic<L: EvalFailure>(
    operator: Arithmetic,
    left: f64,
    right: f64,
) -> Result<f64, L> {
    Ok(match operator {
        Arithmetic::Add => left + right,
        Arithmetic::Subtract => left - right,
        Arithmetic::Multiply => left * right,
        Arithmetic::Divide if right == 0.0 => return fails("division", "the divisor is 0"),
        Arithmetic::Divide => left / right,
        Arithmetic::Power if left == 0.0 && right < 0.0 => {
            return fails("power", "0 has no negative power");
        }
        Arithmetic::Power if left < 0.0 && right.fract() != 0.0 => {
            return fails("power", "a negative number has no fractional power");
        }
        Arithmetic::Power => left.powf(right),
    })
}

pub(crate) fn math<L: EvalFailure>(
    operation: Math,
    mut values: impl Iterator<Item = Result<f64, L>>,
) -> Result<f64, L> {
    if let Math::Least | Math::LeastKnown = operation {
        return least(values, operation == Math::LeastKnown);
    }
    let mut next = || values.next().map(|value| value.map_err(L::below_something));
    let first = next().unwrap_or_else(|| Err(L::unknown()))?;
    Ok(match operation {
        Math::Least | Math::LeastKnown => first,
        Math::Greatest => {
            let mut most = first;
            while let Some(value) = next() {
                most = most.max(value?);
            }
            most
        }
        Math::Magnitude => first.abs(),
        Math::SquareRoot if first < 0.0 => return fails("sqrt", "its argument is negative"),
        Math::SquareRoot => first.sqrt(),
        Math::NaturalLogarithm if first <= 0.0 => {
            return fails("ln", "its argument is not above 0");
        }
        Math::NaturalLogarithm => first.ln(),
        Math::Exponential => first.exp(),
    })
}

/// The least of values, or of those that are known. One that is known to lie above another isn't
/// the least, so that it need not be worked out.
fn least<L: EvalFailure>(
    values: impl Iterator<Item = Result<f64, L>>,
    known_only: bool,
) -> Result<f64, L> {
    let mut least: Option<f64> = None;
    let mut beyond: Option<(f64, L)> = None;
    for value in values {
        match value {
            Ok(value) => least = Some(least.map_or(value, |least| least.min(value))),
            Err(gap) if known_only && gap.is_unknown() => {}
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
        (None, None) => Err(L::unknown()),
    }
}

/// The rows of a two-column table, rising along one of its columns: place and value.
pub(crate) fn rising(rows: &[[f64; 2]], along: usize) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = rows
        .iter()
        .map(|row| if along == 0 { (row[0], row[1]) } else { (row[1], row[0]) })
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
}

/// The value between rising points.
pub(crate) fn interpolate<L: EvalFailure>(points: &[(f64, f64)], at: f64) -> Result<f64, L> {
    let after = points.partition_point(|point| point.0 < at);
    match (after.checked_sub(1).and_then(|before| points.get(before)), points.get(after)) {
        (_, Some(here)) if here.0 == at => Ok(here.1),
        (Some(a), Some(b)) => Ok(a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0)),
        _ => fails("interpolate", "the value lies outside the table"),
    }
}

/// `and` is settled by a no, `or` by a yes, whatever the other side is.
pub(crate) fn settle<L>(
    left: Result<bool, L>,
    right: impl FnOnce() -> Result<bool, L>,
    by: bool,
) -> Result<bool, L> {
    if matches!(left, Ok(left) if left == by) {
        return left;
    }
    let right = right();
    if matches!(right, Ok(right) if right == by) { right } else { left.and(right) }
}

/// What a choice between two truths gives where its condition isn't known: what both give.
pub(crate) fn either_way<L>(
    gap: L,
    then: Result<bool, L>,
    otherwise: Result<bool, L>,
) -> Result<bool, L> {
    match (then, otherwise) {
        (Ok(a), Ok(b)) if a == b => Ok(a),
        _ => Err(gap),
    }
}
