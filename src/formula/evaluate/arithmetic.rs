//! What one step of a formula makes of the values right below it: for one set of values or for each
//! of many draws alike.

use super::error::{CompactError, EvalError, EvalFailure};
use crate::formula::check::Math;
use crate::formula::functions::{Function, MAX_ARGUMENTS};
use crate::formula::syntax::Arithmetic;

fn refused<T, E: EvalFailure>(quantity: &'static str, reason: &'static str) -> Result<T, E> {
    Err(E::refused(quantity, reason))
}

/// The value itself, where it can be shown.
pub(crate) fn finite<E: EvalFailure>(value: f64) -> Result<f64, E> {
    if value.is_finite() { Ok(value) } else { refused("result", "too large a number") }
}

pub(crate) fn arithmetic<E: EvalFailure>(
    operator: Arithmetic,
    left: Result<f64, E>,
    right: Result<f64, E>,
) -> Result<f64, E> {
    let (left, right) = (left.map_err(E::of_dependent)?, right.map_err(E::of_dependent)?);
    let result = finite::<E>(match operator {
        Arithmetic::Add => left + right,
        Arithmetic::Subtract => left - right,
        Arithmetic::Multiply => left * right,
        Arithmetic::Divide if right == 0.0 => return refused("division", "the divisor is 0"),
        Arithmetic::Divide => left / right,
        Arithmetic::Power if left == 0.0 && right < 0.0 => {
            return refused("power", "0 has no negative power");
        }
        Arithmetic::Power if left < 0.0 && right.fract() != 0.0 => {
            return refused("power", "a negative number has no fractional power");
        }
        Arithmetic::Power => left.powf(right),
    })?;
    let vanishes = match operator {
        Arithmetic::Multiply => left != 0.0 && right != 0.0,
        Arithmetic::Divide => left != 0.0,
        _ => false,
    };
    if vanishes && result == 0.0 { refused("result", "too small a number") } else { Ok(result) }
}

pub(crate) fn math<E: EvalFailure>(
    operation: Math,
    values: &mut dyn Iterator<Item = Result<f64, E>>,
) -> Result<f64, E> {
    if let Math::Least | Math::LeastKnown = operation {
        return least(values, operation == Math::LeastKnown);
    }
    let mut next = || values.next().map(|value| value.map_err(E::of_dependent));
    let first = next().unwrap_or_else(|| Err(E::from(EvalError::Unknown)))?;
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
        Math::SquareRoot if first < 0.0 => return refused("sqrt", "its argument is negative"),
        Math::SquareRoot => first.sqrt(),
        Math::NaturalLogarithm if first <= 0.0 => {
            return refused("ln", "its argument is not above 0");
        }
        Math::NaturalLogarithm => first.ln(),
        Math::Exponential => first.exp(),
    })
}

/// The least of values, or of those that are known. One that is known to lie above another isn't
/// the least, so that it need not be worked out.
fn least<E: EvalFailure>(
    values: &mut dyn Iterator<Item = Result<f64, E>>,
    known_only: bool,
) -> Result<f64, E> {
    let mut least: Option<f64> = None;
    let mut beyond: Option<(f64, E)> = None;
    for value in values {
        match value {
            Ok(value) => least = Some(least.map_or(value, |least| least.min(value))),
            Err(error) => match error.compact() {
                CompactError::Unknown if known_only => {}
                CompactError::Refused { above: Some(above) } => {
                    if beyond.as_ref().is_none_or(|(nearest, _)| above < *nearest) {
                        beyond = Some((above, error));
                    }
                }
                _ => return Err(error),
            },
        }
    }
    match (least, beyond) {
        (Some(least), Some((above, error))) if least > above => Err(error.of_dependent()),
        (Some(least), _) => Ok(least),
        (None, Some((_, error))) => Err(error),
        (None, None) => Err(E::from(EvalError::Unknown)),
    }
}

/// What a physics function gives.
pub(crate) fn call<E: EvalFailure>(
    function: &Function,
    values: &mut dyn Iterator<Item = Result<f64, E>>,
) -> Result<f64, E> {
    // On the stack: a call is made for each of thousands of draws.
    let mut given = [f64::NAN; MAX_ARGUMENTS];
    let mut count = 0;
    for (place, value) in given.iter_mut().zip(values) {
        *place = value.map_err(E::of_dependent)?;
        count += 1;
    }
    (function.call)(&given[..count]).map_err(E::from).and_then(finite)
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
pub(crate) fn interpolate<E: EvalFailure>(points: &[(f64, f64)], at: f64) -> Result<f64, E> {
    let after = points.partition_point(|point| point.0 < at);
    match (after.checked_sub(1).and_then(|before| points.get(before)), points.get(after)) {
        (_, Some(here)) if here.0 == at => Ok(here.1),
        (Some(a), Some(b)) => Ok(a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0)),
        _ => refused("interpolate", "the value is outside the table"),
    }
}
