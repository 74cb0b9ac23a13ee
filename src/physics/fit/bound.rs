//! The engine checked and brought to plain SI numbers, once for each search.

use super::super::check::{above_zero, efficiency, finite, from_zero, refuse, up_to, within};
use super::super::engine::MOST_VOLUMETRIC;
use super::super::{Refusal, burned, gas, nozzle};
use super::expansion::Expansion;
use super::{Engine, MatchedEngine};
use crate::quantity::TemperatureDifference;

/// Air–fuel ratio at λ 1 (petrol; Heywood, *Internal Combustion Engine Fundamentals*, appendix D,
/// gives 14.6 to 14.7 for gasoline).
const STOICHIOMETRIC: f64 = 14.7;

/// An [`Engine`] whose every value was checked, SI, with what no boost changes worked out.
pub(super) struct Bound {
    pub(super) speed: f64,
    pub(super) discharge_coefficient: f64,
    pub(super) leak_area: f64,
    pub(super) ambient: f64,
    pub(super) ambient_temperature: f64,
    pub(super) inlet_temperature: f64,
    pub(super) inlet_drop: f64,
    pub(super) charge_drop: f64,
    pub(super) exhaust_drop: f64,
    pub(super) reference_flow: f64,
    pub(super) compressor_efficiency: f64,
    pub(super) cooler_effectiveness: f64,
    /// Air flow a pascal of manifold pressure at 1 K: η_v·V·n/R.
    pub(super) swallow: f64,
    /// Burned gas a kilogram of air.
    pub(super) gas_share: f64,
    /// Flux a pascal of pressure before turbine and gate and unit of the flow function, 1/√(R·T_3).
    pub(super) flux: f64,
    /// Of the burned gas.
    pub(super) expansion: Expansion,
    /// Work that a kilogram of gas would give expanded to vacuum: η_t·η_m·c_p·T_3.
    pub(super) most_work: f64,
}

impl Bound {
    pub(super) fn checked(engine: &Engine) -> Result<Self, Refusal> {
        let speed = from_zero("speed", engine.speed)?;
        let volume = above_zero("volume_per_turn", engine.volume_per_turn)?;
        let volumetric =
            up_to("volumetric_efficiency", engine.volumetric_efficiency, MOST_VOLUMETRIC)?;
        let burned = burned::burned_gas(
            engine.lambda,
            "turbine_inlet_temperature",
            engine.turbine_inlet_temperature,
        )?;
        let turbine_inlet_temperature =
            finite("turbine_inlet_temperature", engine.turbine_inlet_temperature)?;
        let turbine_efficiency = efficiency("turbine_efficiency", engine.turbine_efficiency)?;
        let mechanical = efficiency("mechanical_efficiency", engine.mechanical_efficiency)?;
        let ambient_temperature = above_zero("ambient_temperature", engine.ambient_temperature)?;
        let gas = nozzle::Gas { gamma: burned.gamma, constant: burned.constant };
        Ok(Self {
            speed,
            discharge_coefficient: efficiency(
                "discharge_coefficient",
                engine.discharge_coefficient,
            )?,
            leak_area: from_zero("leak_area", engine.leak_area)?,
            ambient: above_zero("ambient", engine.ambient)?,
            ambient_temperature,
            inlet_temperature: inlet_temperature(ambient_temperature, engine.inlet_heating)?,
            inlet_drop: from_zero("inlet_drop", engine.inlet_drop)?,
            charge_drop: from_zero("charge_drop", engine.charge_drop)?,
            exhaust_drop: from_zero("exhaust_drop", engine.exhaust_drop)?,
            reference_flow: above_zero("reference_flow", engine.reference_flow)?,
            compressor_efficiency: efficiency(
                "compressor_efficiency",
                engine.compressor_efficiency,
            )?,
            cooler_effectiveness: within(
                "cooler_effectiveness",
                engine.cooler_effectiveness,
                0.0,
                1.0,
            )?,
            swallow: volumetric * volume * speed / gas::AIR_CONSTANT,
            gas_share: 1.0 + 1.0 / (engine.lambda * STOICHIOMETRIC),
            flux: 1.0 / (burned.constant * turbine_inlet_temperature).sqrt(),
            expansion: Expansion::of(gas),
            most_work: turbine_efficiency
                * mechanical
                * burned.heat_capacity
                * turbine_inlet_temperature,
        })
    }

    /// The same with the area of its turbine, m².
    pub(super) fn matched(matched: &MatchedEngine) -> Result<(Self, f64), Refusal> {
        let area = above_zero("turbine_area", matched.turbine_area)?;
        Ok((Self::checked(&matched.engine)?, area))
    }
}

fn inlet_temperature(ambient: f64, heating: TemperatureDifference) -> Result<f64, Refusal> {
    let heating = finite("inlet_heating", heating)?;
    if ambient + heating <= 0.0 {
        let why = "would cool the air to 0 K or below";
        return refuse::<TemperatureDifference, _>("inlet_heating", heating, why);
    }
    Ok(ambient + heating)
}
