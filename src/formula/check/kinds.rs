//! What becomes of kinds under the operators: gauge less gauge is a difference, a point and a
//! difference make a point, gauge and absolute never meet.

use crate::formula::syntax::Clash;
use crate::formula::syntax::expression::Arithmetic;
use crate::quantity::{Dimension, Kind, Reference};

/// Whether a value of `given` may stand where `wanted` is asked for. A value without a reference
/// takes the one its place asks for.
pub(crate) fn coerces_to(given: Kind, wanted: Kind) -> Result<(), Clash> {
    if given.dimension != wanted.dimension {
        return Err(Clash::WrongDimension { wanted });
    }
    match (given.reference, wanted.reference) {
        (given, wanted) if given == wanted => Ok(()),
        (Reference::Plain, _) | (_, Reference::Plain) => Ok(()),
        (Reference::Gauge, Reference::Absolute) => Err(Clash::GaugeForAbsolute),
        (Reference::Absolute, Reference::Gauge) => Err(Clash::AbsoluteForGauge),
        (Reference::Point, Reference::Difference) => Err(Clash::PointForDifference),
        _ => Err(Clash::WrongReading { wanted }),
    }
}

/// The kind that two alternatives (branches, both sides of a comparison, arguments of min) share.
pub(crate) fn unify(left: Kind, right: Kind) -> Result<Kind, Clash> {
    if left.dimension != right.dimension {
        return Err(Clash::ComparedDimensions);
    }
    match (left.reference, right.reference) {
        (a, b) if a == b => Ok(left),
        (Reference::Plain, _) => Ok(right),
        (_, Reference::Plain) => Ok(left),
        (Reference::Gauge, Reference::Absolute) | (Reference::Absolute, Reference::Gauge) => {
            Err(Clash::GaugeWithAbsolute)
        }
        _ => Err(Clash::ComparedReadings),
    }
}

/// The kind of a sum or a difference.
pub(crate) fn sum(operator: Arithmetic, left: Kind, right: Kind) -> Result<Kind, Clash> {
    if left.dimension != right.dimension {
        return Err(Clash::AddedDimensions);
    }
    let subtract = operator == Arithmetic::Subtract;
    let reference = match (left.reference, right.reference) {
        (Reference::Plain, Reference::Plain) => Reference::Plain,
        (Reference::Difference, Reference::Plain | Reference::Difference)
        | (Reference::Plain, Reference::Difference) => Reference::Difference,
        // In `point - literal` and `point + literal` the literal is a difference.
        (on_scale, Reference::Plain | Reference::Difference) => on_scale,
        // A literal less a point can only be a point itself.
        (Reference::Plain, _) if subtract => Reference::Difference,
        (Reference::Plain | Reference::Difference, on_scale) if !subtract => on_scale,
        (Reference::Gauge, Reference::Absolute) | (Reference::Absolute, Reference::Gauge) => {
            return Err(Clash::GaugeWithAbsolute);
        }
        (a, b) if a == b && subtract => Reference::Difference,
        (a, b) if a == b => return Err(Clash::AddedReadings),
        _ => return Err(Clash::ReadingFromDifference),
    };
    Ok(Kind { dimension: left.dimension, reference })
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
        (left.reference, right.reference),
        (Reference::Gauge, Reference::Absolute) | (Reference::Absolute, Reference::Gauge)
    );
    if gauge_and_absolute {
        return Err(Clash::GaugeWithAbsolute);
    }
    let dimension = if divide {
        left.dimension.over(right.dimension)
    } else {
        left.dimension.times(right.dimension)
    };
    match dimension {
        None => Err(Clash::PowersTooLarge),
        Some(Dimension::TORQUE_TIMES_ROTATION) => Err(Clash::TorqueTimesRotation),
        Some(dimension) => Ok(Kind::plain(dimension)),
    }
}

/// The kind of a power with a fixed exponent.
pub(crate) fn power(base: Kind, exponent: f64) -> Result<Kind, Clash> {
    if exponent == 1.0 {
        return Ok(base);
    }
    base.dimension.power(exponent).map(Kind::plain).ok_or(Clash::PowerOfUnit)
}
