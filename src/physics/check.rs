//! Checks that every relation makes on what it is given and on what it gives.

use super::Refusal;
use crate::quantity::{Dimension, Kind, Quantity, Unit, readable_unit};

/// The value in coherent SI, if it is a number at all.
pub(super) fn finite<Q: Quantity>(name: &'static str, value: Q) -> Result<f64, Refusal> {
    let si = value.si();
    if si.is_finite() { Ok(si) } else { Err(Refusal::new(name, "is not a finite number")) }
}

/// The pressure ratio of a compressor, 1 or more.
pub(super) fn compression(name: &'static str, ratio: f64) -> Result<f64, Refusal> {
    let ratio = finite(name, ratio)?;
    let lowers = "is below 1: no compressor lowers pressure";
    if ratio >= 1.0 { Ok(ratio) } else { refuse::<f64, _>(name, ratio, lowers) }
}

/// The value, if it lies above zero.
pub(super) fn above_zero<Q: Quantity>(name: &'static str, value: Q) -> Result<f64, Refusal> {
    let si = finite(name, value)?;
    if si > 0.0 { Ok(si) } else { refuse::<Q, _>(name, si, "must be above 0") }
}

/// The value, if it isn't negative.
pub(super) fn from_zero<Q: Quantity>(name: &'static str, value: Q) -> Result<f64, Refusal> {
    let si = finite(name, value)?;
    if si >= 0.0 { Ok(si) } else { refuse::<Q, _>(name, si, "must not be negative") }
}

/// The value, if it lies from `low` to `high`, both allowed.
pub(super) fn within<Q: Quantity>(
    name: &'static str,
    value: Q,
    low: f64,
    high: f64,
) -> Result<f64, Refusal> {
    let si = finite(name, value)?;
    if (low..=high).contains(&si) {
        return Ok(si);
    }
    let (low, high) = (shown(Q::KIND, low), shown(Q::KIND, high));
    refuse::<Q, _>(name, si, format!("is outside {low} to {high}"))
}

/// The value, if it lies above 0 and up to `high`.
pub(super) fn up_to<Q: Quantity>(name: &'static str, value: Q, high: f64) -> Result<f64, Refusal> {
    let si = above_zero(name, value)?;
    if si <= high {
        return Ok(si);
    }
    refuse::<Q, _>(name, si, format!("is above {}", shown(Q::KIND, high)))
}

/// An efficiency: above 0, at most 1.
pub(super) fn efficiency(name: &'static str, value: f64) -> Result<f64, Refusal> {
    up_to(name, value, 1.0)
}

/// A result in coherent SI as its quantity, if it is a number at all: huge but lawful arguments
/// may overflow.
pub(super) fn result<Q: Quantity>(name: &'static str, si: f64) -> Result<Q, Refusal> {
    if si.is_finite() {
        Ok(Q::from_si(si))
    } else {
        Err(Refusal::new(name, "is too large a number"))
    }
}

/// A refusal of `si` with its value and `why`.
pub(super) fn refuse<Q: Quantity, T>(
    name: &'static str,
    si: f64,
    why: impl AsRef<str>,
) -> Result<T, Refusal> {
    Err(Refusal::new(name, format!("{} {}", shown(Q::KIND, si), why.as_ref())))
}

/// A value in a unit that people read, short enough for a message.
pub(super) fn shown(kind: Kind, si: f64) -> String {
    // Gas laws and their ranges speak of kelvin, altitudes of metres.
    let coherent =
        kind == Kind::TEMPERATURE || kind.dimension == Dimension::LENGTH && si.abs() >= 1.0;
    let unit = if coherent { Unit::coherent(kind.dimension) } else { readable_unit(kind) };
    let number = short(unit.from_si(si));
    if kind == Kind::NUMBER { number } else { format!("{number} {}", unit.symbol()) }
}

/// Six significant digits: more is noise in a message.
fn short(value: f64) -> String {
    let size = value.abs();
    if value != 0.0 && !(1e-3..1e7).contains(&size) {
        return format!("{value:.5e}");
    }
    let decimals = if size >= 1.0 { 5.0 - size.log10().floor() } else { 8.0 };
    let scale = 10f64.powf(decimals.max(0.0));
    ((value * scale).round() / scale).to_string()
}
