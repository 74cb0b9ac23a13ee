//! The engine checked and brought to plain SI numbers, once for each search. Here and in its
//! neighbours the unit of a bare number is in its name; what has none is a ratio.

use super::super::check::{above_zero, efficiency, finite, from_zero, refuse, up_to, within};
use super::super::engine::MAX_VOLUMETRIC_EFFICIENCY;
use super::super::{Refusal, burned, gas};
use super::expansion::Expansion;
use super::{Engine, MatchedEngine};
use crate::quantity::TemperatureDifference;

/// Air–fuel ratio by mass at λ 1 (petrol; Heywood, *Internal Combustion Engine Fundamentals*,
/// appendix D, gives 14.6 to 14.7 for gasoline).
const STOICHIOMETRIC: f64 = 14.7;

/// An [`Engine`] whose every value was checked, with what no boost changes worked out.
pub(in crate::physics) struct CheckedEngine {
    pub(in crate::physics) speed_rev_s: f64,
    pub(in crate::physics) discharge_coefficient: f64,
    pub(in crate::physics) leak_area_m2: f64,
    pub(in crate::physics) ambient_pa: f64,
    pub(in crate::physics) ambient_temperature_k: f64,
    pub(in crate::physics) inlet_temperature_k: f64,
    pub(in crate::physics) inlet_drop_pa: f64,
    pub(in crate::physics) charge_drop_pa: f64,
    pub(in crate::physics) exhaust_drop_pa: f64,
    pub(in crate::physics) reference_flow_kg_s: f64,
    pub(in crate::physics) compressor_efficiency: f64,
    pub(in crate::physics) cooler_effectiveness: f64,
    /// η_v·V·n/R, kg K/(s Pa): times manifold pressure over charge temperature it is the air flow.
    pub(in crate::physics) air_flow_per_pascal_at_1_k: f64,
    /// Burned gas, kg for each kg of air.
    pub(in crate::physics) gas_per_air: f64,
    /// 1/√(R·T_3), s/m: times the pressure before turbine and gate and the flow function it is the
    /// flux, kg/(s m²).
    pub(in crate::physics) flux_per_pascal: f64,
    /// Of the burned gas.
    pub(in crate::physics) expansion: Expansion,
    /// What the compressor would get of a kilogram of gas expanded to vacuum: η_t·η_m·c_p·T_3.
    pub(in crate::physics) max_work_j_kg: f64,
    pub(in crate::physics) turbine_efficiency: f64,
    pub(in crate::physics) mechanical_efficiency: f64,
    pub(in crate::physics) turbine_inlet_temperature_k: f64,
    pub(in crate::physics) mixture: burned::Mixture,
}

impl CheckedEngine {
    pub(in crate::physics) fn checked(engine: &Engine) -> Result<Self, Refusal> {
        let speed = from_zero("speed", engine.speed)?;
        let volume = above_zero("volume_per_turn", engine.volume_per_turn)?;
        let volumetric = up_to(
            "volumetric_efficiency",
            engine.volumetric_efficiency,
            MAX_VOLUMETRIC_EFFICIENCY,
        )?;
        let mixture = burned::Mixture::of(engine.lambda)?;
        let turbine_inlet_temperature = burned::checked_temperature(
            "turbine_inlet_temperature",
            engine.turbine_inlet_temperature,
        )?;
        let burned = mixture.at(turbine_inlet_temperature);
        let turbine_efficiency = efficiency("turbine_efficiency", engine.turbine_efficiency)?;
        let mechanical = efficiency("mechanical_efficiency", engine.mechanical_efficiency)?;
        let ambient_temperature = above_zero("ambient_temperature", engine.ambient_temperature)?;
        Ok(Self {
            speed_rev_s: speed,
            discharge_coefficient: efficiency(
                "discharge_coefficient",
                engine.discharge_coefficient,
            )?,
            leak_area_m2: from_zero("leak_area", engine.leak_area)?,
            ambient_pa: above_zero("ambient", engine.ambient)?,
            ambient_temperature_k: ambient_temperature,
            inlet_temperature_k: inlet_temperature(ambient_temperature, engine.inlet_heating)?,
            inlet_drop_pa: from_zero("inlet_drop", engine.inlet_drop)?,
            charge_drop_pa: from_zero("charge_drop", engine.charge_drop)?,
            exhaust_drop_pa: from_zero("exhaust_drop", engine.exhaust_drop)?,
            reference_flow_kg_s: above_zero("reference_flow", engine.reference_flow)?,
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
            air_flow_per_pascal_at_1_k: volumetric * volume * speed / gas::AIR_CONSTANT,
            gas_per_air: 1.0 + 1.0 / (engine.lambda * STOICHIOMETRIC),
            flux_per_pascal: 1.0 / (burned.constant * turbine_inlet_temperature).sqrt(),
            expansion: Expansion::of(burned.gamma),
            max_work_j_kg: turbine_efficiency
                * mechanical
                * burned.heat_capacity
                * turbine_inlet_temperature,
            turbine_efficiency,
            mechanical_efficiency: mechanical,
            turbine_inlet_temperature_k: turbine_inlet_temperature,
            mixture,
        })
    }
}

/// A [`MatchedEngine`] whose every value was checked.
pub(super) struct CheckedMatch {
    pub(super) turbine_area_m2: f64,
    pub(super) engine: CheckedEngine,
}

impl CheckedMatch {
    pub(super) fn checked(matched: &MatchedEngine) -> Result<Self, Refusal> {
        let turbine_area_m2 = above_zero("turbine_area", matched.turbine_area)?;
        Ok(Self { turbine_area_m2, engine: CheckedEngine::checked(&matched.engine)? })
    }
}

fn inlet_temperature(ambient_k: f64, heating: TemperatureDifference) -> Result<f64, Refusal> {
    let heating = finite("inlet_heating", heating)?;
    if ambient_k + heating <= 0.0 {
        let why = "would cool the air to 0 K or below";
        return refuse::<TemperatureDifference, _>("inlet_heating", heating, why);
    }
    Ok(ambient_k + heating)
}
