//! The charge side alone: what an engine breathes at a boost, where its compressor then works, and the
//! boost at which it breathes as much as fuel or an air meter allow.

use super::super::check::{from_zero, refuse};
use super::super::{Refusal, compressor, root};
use super::MatchedEngine;
use super::charge_side::{ChargeSide, MAX_BOOST_PA, MAX_RATIO, checked_boost};
use super::checked_engine::CheckedEngine;
use crate::quantity::{AbsolutePressure, GaugePressure, MassFlow, Quantity, Temperature};

/// The charge side at a boost, with the engine that it is of.
fn side(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<(CheckedEngine, ChargeSide), Refusal> {
    let boost = checked_boost(boost)?;
    let engine = CheckedEngine::checked(&matched.engine)?;
    let side = engine.charge_side(boost)?;
    Ok((engine, side))
}

/// Air flow at a boost. The turbine doesn't enter.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 2.7 and 6.8.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// assert!(air_flow_at(si(60e3), &car).unwrap() > air_flow_at(si(40e3), &car).unwrap());
/// ```
///
/// # Errors
/// Refuses a boost outside 0 to 4 bar and whatever lies outside the ranges of [`super::Engine`].
pub fn air_flow_at(boost: GaugePressure, matched: &MatchedEngine) -> Result<MassFlow, Refusal> {
    Ok(MassFlow::from_si(side(boost, matched)?.1.air_flow_kg_s))
}

/// Temperature of the charge in the plenum at a boost; see [`air_flow_at`].
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// let point = operating_point(si(50e3), &car).unwrap();
/// let plenum = charge_temperature_at(si(50e3), &car).unwrap();
/// assert!(plenum < point.compressor_outlet_temperature);
/// ```
///
/// # Errors
/// As [`air_flow_at`].
pub fn charge_temperature_at(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<Temperature, Refusal> {
    Ok(Temperature::from_si(side(boost, matched)?.1.charge_temperature_k))
}

/// Pressure ratio of the compressor at a boost, with the losses before and behind it at the flow of
/// that boost; see [`air_flow_at`].
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// // The losses are on top of what ambient pressure and boost alone would ask.
/// let car = MatchedEngine::example();
/// assert!(compressor_ratio_at(si(50e3), &car).unwrap() > 1.5);
/// ```
///
/// # Errors
/// As [`air_flow_at`].
pub fn compressor_ratio_at(boost: GaugePressure, matched: &MatchedEngine) -> Result<f64, Refusal> {
    Ok(side(boost, matched)?.1.ratio)
}

/// Flow through the compressor at a boost as its map prints it, corrected from the state at its inlet
/// to that of the map ([`corrected_flow`](compressor::corrected_flow)); see [`air_flow_at`].
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// // Thin air at the inlet reads as more flow.
/// let car = MatchedEngine::example();
/// let corrected = compressor_flow_at(si(50e3), si(293.15), si(101_325.0), &car).unwrap();
/// assert!(corrected > air_flow_at(si(50e3), &car).unwrap());
/// ```
///
/// # Errors
/// As [`air_flow_at`]; refuses a state of the map that isn't above 0.
pub fn compressor_flow_at(
    boost: GaugePressure,
    reference_temperature: Temperature,
    reference_pressure: AbsolutePressure,
    matched: &MatchedEngine,
) -> Result<MassFlow, Refusal> {
    let (engine, side) = side(boost, matched)?;
    compressor::corrected_flow(
        MassFlow::from_si(side.air_flow_kg_s),
        Temperature::from_si(engine.inlet_temperature_k),
        AbsolutePressure::from_si(side.outlet_pressure_pa / side.ratio),
        reference_temperature,
        reference_pressure,
    )
}

/// Temperature at the compressor's outlet at a boost, before the cooler; see [`air_flow_at`].
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// let outlet = compressor_outlet_at(si(50e3), &car).unwrap();
/// assert!(outlet > charge_temperature_at(si(50e3), &car).unwrap());
/// ```
///
/// # Errors
/// As [`air_flow_at`].
pub fn compressor_outlet_at(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<Temperature, Refusal> {
    Ok(Temperature::from_si(side(boost, matched)?.1.outlet_temperature_k))
}

/// Boost at which the engine takes this air flow: [`air_flow_at`] turned round, as for the most
/// that the injectors or the air meter can serve.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::{Quantity, si}};
/// let car = MatchedEngine::example();
/// let boost = boost_at_air_flow(air_flow_at(si(50e3), &car).unwrap(), &car).unwrap();
/// assert!((boost.si() - 50e3).abs() < 1e-6);
/// ```
///
/// # Errors
/// Refuses a flow that the engine takes without boost already, or not at 4 bar, and whatever lies
/// outside the ranges of [`super::Engine`].
pub fn boost_at_air_flow(
    air_flow: MassFlow,
    matched: &MatchedEngine,
) -> Result<GaugePressure, Refusal> {
    let wanted = from_zero("air_flow", air_flow)?;
    let engine = CheckedEngine::checked(&matched.engine)?;
    let least = engine.charge_side(0.0)?;
    if wanted < least.air_flow_kg_s {
        let why = "is less than the engine takes without boost";
        return refuse::<MassFlow, _>("air_flow", wanted, why);
    }
    // An inlet that is sucked empty before has passed all that the flow can be.
    let most = engine.charge_side(MAX_BOOST_PA).ok();
    if most.is_some_and(|most| most.air_flow_kg_s < wanted) {
        let why = "is more than the engine takes at 4 bar, where the search ends";
        let refused: Result<GaugePressure, _> = refuse::<MassFlow, _>("air_flow", wanted, why);
        return refused.map_err(|refusal| refusal.above(MAX_BOOST_PA));
    }
    let high = most.map_or(MAX_RATIO, |most| most.ratio);
    root::bracketed(least.ratio, high, |ratio| engine.charge_at(ratio).air_flow_kg_s - wanted)
        .map(|ratio| GaugePressure::from_si(engine.charge_at(ratio).boost_pa))
        .ok_or_else(|| Refusal::new("boost_at_air_flow", "no boost up to 4 bar gives this flow"))
}
