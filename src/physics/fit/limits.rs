//! The charge side alone: what an engine breathes at a boost, and the boost at which it breathes as
//! much as fuel or an air meter allow.

use super::super::check::{from_zero, refuse};
use super::super::{Refusal, root};
use super::MatchedEngine;
use super::bound::Bound;
use super::charge_side::checked_boost;
use super::settled::MOST_BOOST;
use crate::quantity::{GaugePressure, MassFlow, Quantity, Temperature};

/// Air flow at a boost. The turbine doesn't enter.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 2.7 and 6.8.
///
/// # Errors
/// Refuses a boost outside 0 to 4 bar and whatever lies outside the ranges of [`super::Engine`].
pub fn air_flow_at(boost: GaugePressure, matched: &MatchedEngine) -> Result<MassFlow, Refusal> {
    let boost = checked_boost(boost)?;
    Ok(MassFlow::from_si(Bound::checked(&matched.engine)?.charge_side(boost)?.air_flow))
}

/// Temperature of the charge in the plenum at a boost; see [`air_flow_at`].
///
/// # Errors
/// As [`air_flow_at`].
pub fn charge_temperature_at(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<Temperature, Refusal> {
    let boost = checked_boost(boost)?;
    let side = Bound::checked(&matched.engine)?.charge_side(boost)?;
    Ok(Temperature::from_si(side.charge_temperature))
}

/// Boost at which the engine takes this air flow: [`air_flow_at`] turned round, as for the most
/// that the injectors or the air meter can serve.
///
/// # Errors
/// Refuses a flow that the engine takes without boost already, or not at 4 bar, and whatever lies
/// outside the ranges of [`super::Engine`].
pub fn boost_at_air_flow(
    air_flow: MassFlow,
    matched: &MatchedEngine,
) -> Result<GaugePressure, Refusal> {
    let wanted = from_zero("air_flow", air_flow)?;
    let bound = Bound::checked(&matched.engine)?;
    if wanted < bound.charge_side(0.0)?.air_flow {
        let why = "is less than the engine takes without boost";
        return refuse::<MassFlow, _>("air_flow", wanted, why);
    }
    // Where the inlet is sucked empty, the flow has passed all that it can be.
    let surplus =
        |boost: f64| bound.charge_side(boost).map_or(f64::INFINITY, |side| side.air_flow - wanted);
    if surplus(MOST_BOOST) < 0.0 {
        let why = "is more than the engine takes at 4 bar, where the search ends";
        return refuse::<MassFlow, _>("air_flow", wanted, why);
    }
    root::bracketed(0.0, MOST_BOOST, surplus)
        .filter(|boost| bound.charge_side(*boost).is_ok())
        .map(GaugePressure::from_si)
        .ok_or_else(|| Refusal::new("boost_at_air_flow", "no boost up to 4 bar takes this flow"))
}
