//! What becomes of kinds under the operators: gauge less gauge is a difference, a point and a
//! difference make a point, gauge and absolute never meet.

use crate::formula::syntax::expression::Arithmetic;
use crate::quantity::{Dimension, Kind, Reading};

/// Why two kinds don't go together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Clash {
    pub(crate) message: &'static str,
    pub(crate) help: String,
}

fn clash<T>(message: &'static str, help: impl Into<String>) -> Result<T, Clash> {
    Err(Clash { message, help: help.into() })
}

const GAUGE_WITH_ABSOLUTE: &str =
    "bring both to one kind with absolute(gauge, ambient) or gauge(pressure, ambient)";

/// Whether a value of `given` may stand where `wanted` is asked for. A value without a reading
/// takes the one its place asks for.
pub(crate) fn coerces_to(given: Kind, wanted: Kind) -> Result<(), Clash> {
    if given.dimension != wanted.dimension {
        return clash("wrong dimension", format!("give a {wanted}"));
    }
    match (given.reading, wanted.reading) {
        (given, wanted) if given == wanted => Ok(()),
        (Reading::Plain, _) | (_, Reading::Plain) => Ok(()),
        (Reading::Gauge, Reading::Absolute) => {
            clash("gauge where absolute is wanted", "use absolute(gauge, ambient)")
        }
        (Reading::Absolute, Reading::Gauge) => {
            clash("absolute where gauge is wanted", "use gauge(pressure, ambient)")
        }
        (Reading::Point, Reading::Difference) => clash(
            "a temperature where a difference is wanted",
            "write a temperature difference in K, or subtract two temperatures",
        ),
        _ => clash("wrong kind", format!("give a {wanted}")),
    }
}

/// The kind that two alternatives (branches, both sides of a comparison, arguments of min) share.
pub(crate) fn unify(left: Kind, right: Kind) -> Result<Kind, Clash> {
    if left.dimension != right.dimension {
        return clash("the two sides differ in dimension", "compare like with like");
    }
    match (left.reading, right.reading) {
        (a, b) if a == b => Ok(left),
        (Reading::Plain, _) => Ok(right),
        (_, Reading::Plain) => Ok(left),
        (Reading::Gauge, Reading::Absolute) | (Reading::Absolute, Reading::Gauge) => {
            clash("gauge and absolute pressure meet", GAUGE_WITH_ABSOLUTE)
        }
        _ => clash(
            "a difference meets a reading on a scale",
            "compare a difference with a difference, a reading with a reading",
        ),
    }
}

/// The kind of a sum or a difference.
pub(crate) fn sum(operator: Arithmetic, left: Kind, right: Kind) -> Result<Kind, Clash> {
    if left.dimension != right.dimension {
        return clash("the two sides differ in dimension", "add like to like");
    }
    let subtract = operator == Arithmetic::Subtract;
    let reading = match (left.reading, right.reading) {
        (Reading::Plain, Reading::Plain) => Reading::Plain,
        (Reading::Difference, Reading::Plain | Reading::Difference)
        | (Reading::Plain, Reading::Difference) => Reading::Difference,
        // In `point - literal` and `point + literal` the literal is a difference.
        (on_scale, Reading::Plain | Reading::Difference) => on_scale,
        // A literal less a point can only be a point itself.
        (Reading::Plain, _) if subtract => Reading::Difference,
        (Reading::Plain | Reading::Difference, on_scale) if !subtract => on_scale,
        (Reading::Gauge, Reading::Absolute) | (Reading::Absolute, Reading::Gauge) => {
            return clash("gauge and absolute pressure meet", GAUGE_WITH_ABSOLUTE);
        }
        (a, b) if a == b && subtract => Reading::Difference,
        (a, b) if a == b => {
            return clash(
                "two readings on a scale can't be added",
                "add a difference to a reading, or subtract the two readings",
            );
        }
        _ => {
            return clash(
                "a reading can't be taken from a difference",
                "turn the two round, or subtract two readings",
            );
        }
    };
    Ok(Kind { dimension: left.dimension, reading })
}

/// The kind of a product or a quotient.
pub(crate) fn product(operator: Arithmetic, left: Kind, right: Kind) -> Result<Kind, Clash> {
    let divide = operator == Arithmetic::Divide;
    if right == Kind::NUMBER {
        return Ok(left);
    }
    if left == Kind::NUMBER && !divide {
        return Ok(right);
    }
    let gauge_and_absolute = matches!(
        (left.reading, right.reading),
        (Reading::Gauge, Reading::Absolute) | (Reading::Absolute, Reading::Gauge)
    );
    if gauge_and_absolute {
        return clash("gauge and absolute pressure meet", GAUGE_WITH_ABSOLUTE);
    }
    let dimension = if divide {
        left.dimension.over(right.dimension)
    } else {
        left.dimension.times(right.dimension)
    };
    match dimension {
        None => clash("the powers of the units grow too large", "check the formula"),
        Some(Dimension::TORQUE_TIMES_ROTATION) => clash(
            "torque times rotation is no power: a turn is 2π of an angle",
            "use shaft_power(torque, speed)",
        ),
        Some(dimension) => Ok(Kind::plain(dimension)),
    }
}

/// The kind of a power with a fixed exponent.
pub(crate) fn power(base: Kind, exponent: f64) -> Result<Kind, Clash> {
    if exponent == 1.0 {
        return Ok(base);
    }
    match base.dimension.power(exponent) {
        Some(dimension) => Ok(Kind::plain(dimension)),
        None => clash(
            "a quantity with a unit can't be raised to this power",
            "make the base a plain number, for example a ratio of two pressures",
        ),
    }
}
