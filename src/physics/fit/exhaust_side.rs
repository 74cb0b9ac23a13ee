//! The exhaust side at one boost: the pressure before the turbine, and what the gate must pass.

use super::super::Refusal;
use super::super::check::result;
use super::MatchedEngine;
use super::charge_side::{ChargeSide, checked_boost};
use super::checked_engine::{CheckedEngine, CheckedMatch};
use super::expansion::Stage;
use crate::quantity::{
    AbsolutePressure, Area, GaugePressure, MassFlow, Power, Quantity, Temperature,
};

/// Both sides at one boost.
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    pub(super) charge: ChargeSide,
    /// Logarithm of the turbine's expansion ratio.
    pub(super) expansion: f64,
    pub(super) turbine_inlet_pa: f64,
    pub(super) turbine_flow_kg_s: f64,
    /// Geometric area of the gate: below 0 where even a shut gate passes too much, infinite
    /// where the turbine has nothing to do.
    pub(super) gate_area_m2: f64,
}

impl State {
    /// Pressure difference across the flap.
    pub(super) fn across_flap_pa(&self) -> f64 {
        self.turbine_inlet_pa - self.charge.back_pressure_pa
    }

    /// What the actuator's hose takes from the compressor's outlet, gauge.
    pub(super) fn signal_pa(&self, engine: &CheckedEngine) -> f64 {
        self.charge.outlet_pressure_pa - engine.ambient_pa
    }

    fn gate_flow_kg_s(&self) -> f64 {
        self.charge.gas_flow_kg_s - self.turbine_flow_kg_s
    }
}

impl CheckedEngine {
    /// Flux through the turbine's area, kg/(s m²), at a pressure behind it: the stage is two
    /// restrictions in series, so each sees about the root of its expansion ratio (Watson and
    /// Janota, *Turbocharging the Internal Combustion Engine*).
    pub(super) fn turbine_flux(&self, back_pa: f64, stage: &Stage) -> f64 {
        back_pa * stage.ratio * self.flux_per_pascal * stage.half_flow
    }

    /// Work of the gas on the compressor.
    pub(super) fn work_j_kg(&self, stage: &Stage) -> f64 {
        self.max_work_j_kg * stage.share
    }

    /// Geometric area of a gate that passes what a turbine leaves at a pressure behind both;
    /// may come out below 0.
    pub(super) fn gate_area_m2(&self, gate_flow_kg_s: f64, back_pa: f64, stage: &Stage) -> f64 {
        let flux = back_pa * stage.ratio * self.flux_per_pascal * stage.flow;
        (gate_flow_kg_s / flux - self.leak_area_m2) / self.discharge_coefficient
    }
}

impl CheckedMatch {
    /// Both sides at a boost.
    pub(super) fn state(&self, boost_pa: f64) -> Result<State, Refusal> {
        self.state_of(&self.engine.charge_side(boost_pa)?, None)
    }

    /// Both sides, given the charge side: one root for the expansion at which the turbine gives the
    /// power asked (its flow and its work both rise with the pressure before it), the rest follows.
    /// `near` is an expansion close to it, if one is known.
    pub(super) fn state_of(
        &self,
        charge: &ChargeSide,
        near: Option<f64>,
    ) -> Result<State, Refusal> {
        let back = charge.back_pressure_pa;
        let engine = &self.engine;
        let power_scale =
            self.turbine_area_m2 * back * engine.flux_per_pascal * engine.max_work_j_kg;
        let wanted = charge.power_w / power_scale;
        let Some(expansion) = engine.expansion.giving(wanted, near) else {
            return Err(Refusal::new("boost", "takes more power than this turbine can give"));
        };
        let stage = engine.expansion.stage(expansion);
        let turbine_flow = self.turbine_area_m2 * engine.turbine_flux(back, &stage);
        Ok(State {
            charge: *charge,
            expansion,
            turbine_inlet_pa: back * stage.ratio,
            turbine_flow_kg_s: turbine_flow,
            gate_area_m2: engine.gate_area_m2(charge.gas_flow_kg_s - turbine_flow, back, &stage),
        })
    }

    /// The state at a boost that the turbine can make.
    pub(super) fn reached(&self, boost_pa: f64) -> Result<State, Refusal> {
        if self.engine.speed_rev_s == 0.0 {
            return Err(Refusal::new("speed", "is 0: a stopped engine makes no boost"));
        }
        let state = self.state(boost_pa)?;
        if state.gate_area_m2 < 0.0 {
            let why = "is more than this turbine can make here, even with the gate shut";
            return Err(Refusal::new("boost", why));
        }
        Ok(state)
    }
}

/// Geometric area that the gate must open for this boost to stand.
///
/// The power balance η_m·η_t·ṁ_t·c_pe·T_3·[1 − (p_4/p_3)^((γ−1)/γ)] = ṁ_a·c_pa·(T_2 − T_1) gives
/// p_3, continuity ṁ_w = ṁ_e − ṁ_t gives (ṁ_w/φ(p_3, T_3, p_4) − A_leak)/C_d (Heywood, *Internal
/// Combustion Engine Fundamentals*, 6.8 and appendix C).
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// assert!(gate_area_needed(si(60e3), &car).unwrap() < gate_area_needed(si(40e3), &car).unwrap());
/// ```
///
/// # Errors
/// Refuses a boost outside 0 to 4 bar, one that the turbine can't make, and whatever lies outside
/// the ranges of [`super::Engine`].
pub fn gate_area_needed(boost: GaugePressure, matched: &MatchedEngine) -> Result<Area, Refusal> {
    let boost = checked_boost(boost)?;
    let checked = CheckedMatch::checked(matched)?;
    let area = checked.reached(boost)?.gate_area_m2;
    if area.is_infinite() {
        let why = "takes no turbine power: no gate is large enough to bypass all the gas";
        return Err(Refusal::new("boost", why));
    }
    result("gate_area_needed", area)
}

/// Everything at one boost, the gate open as far as it takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OperatingPoint {
    pub air_flow: MassFlow,
    pub gas_flow: MassFlow,
    pub turbine_flow: MassFlow,
    /// Leak included.
    pub gate_flow: MassFlow,
    pub compressor_outlet_pressure: AbsolutePressure,
    pub compressor_outlet_temperature: Temperature,
    /// In the plenum.
    pub charge_temperature: Temperature,
    pub compressor_power: Power,
    pub turbine_inlet_pressure: AbsolutePressure,
    pub turbine_outlet_pressure: AbsolutePressure,
}

/// Flows, pressures and temperatures at a boost that the gate holds.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::{Quantity, si}};
/// let point = operating_point(si(50e3), &MatchedEngine::example()).unwrap();
/// let out = point.turbine_flow.si() + point.gate_flow.si();
/// assert!((out - point.gas_flow.si()).abs() < 1e-15);
/// ```
///
/// # Errors
/// As [`gate_area_needed`].
pub fn operating_point(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<OperatingPoint, Refusal> {
    let boost = checked_boost(boost)?;
    let checked = CheckedMatch::checked(matched)?;
    let state = checked.reached(boost)?;
    Ok(OperatingPoint {
        air_flow: MassFlow::from_si(state.charge.air_flow_kg_s),
        gas_flow: MassFlow::from_si(state.charge.gas_flow_kg_s),
        turbine_flow: MassFlow::from_si(state.turbine_flow_kg_s),
        gate_flow: MassFlow::from_si(state.gate_flow_kg_s()),
        compressor_outlet_pressure: AbsolutePressure::from_si(state.charge.outlet_pressure_pa),
        compressor_outlet_temperature: Temperature::from_si(state.charge.outlet_temperature_k),
        charge_temperature: Temperature::from_si(state.charge.charge_temperature_k),
        compressor_power: Power::from_si(state.charge.power_w),
        turbine_inlet_pressure: AbsolutePressure::from_si(state.turbine_inlet_pa),
        turbine_outlet_pressure: AbsolutePressure::from_si(state.charge.back_pressure_pa),
    })
}

/// Pressure before the turbine at a boost that the gate holds.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// let point = operating_point(si(50e3), &car).unwrap();
/// assert_eq!(turbine_inlet_pressure(si(50e3), &car).unwrap(), point.turbine_inlet_pressure);
/// ```
///
/// # Errors
/// As [`gate_area_needed`].
pub fn turbine_inlet_pressure(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<AbsolutePressure, Refusal> {
    Ok(operating_point(boost, matched)?.turbine_inlet_pressure)
}

/// Share of the gas that goes round the turbine at a boost that the gate holds, leak included.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// // More boost leaves less gas for the gate.
/// assert!(gate_share(si(60e3), &car).unwrap() < gate_share(si(40e3), &car).unwrap());
/// ```
///
/// # Errors
/// As [`gate_area_needed`].
pub fn gate_share(boost: GaugePressure, matched: &MatchedEngine) -> Result<f64, Refusal> {
    let point = operating_point(boost, matched)?;
    Ok(point.gate_flow.si() / point.gas_flow.si())
}
