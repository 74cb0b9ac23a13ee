//! The exhaust side at one boost: the pressure before the turbine, and what the gate must pass.

use super::super::Refusal;
use super::super::check::result;
use super::MatchedEngine;
use super::bound::Bound;
use super::charge_side::{ChargeSide, checked_boost};
use super::expansion::Stage;
use crate::quantity::{
    AbsolutePressure, Area, GaugePressure, MassFlow, Power, Quantity, Temperature,
};

/// Both sides at one boost, SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    pub(super) charge: ChargeSide,
    /// Logarithm of the turbine's expansion ratio.
    pub(super) expansion: f64,
    pub(super) turbine_inlet_pressure: f64,
    pub(super) turbine_flow: f64,
    /// Geometric area of the gate, m²: below 0 where even a shut gate passes too much, infinite
    /// where the turbine has nothing to do.
    pub(super) gate_area: f64,
}

impl State {
    /// Pressure difference across the flap, Pa.
    pub(super) fn across_flap(&self) -> f64 {
        self.turbine_inlet_pressure - self.charge.back_pressure
    }

    /// Of the compressor's outlet against ambient, Pa.
    pub(super) fn signal(&self, bound: &Bound) -> f64 {
        self.charge.outlet_pressure - bound.ambient
    }

    fn gate_flow(&self) -> f64 {
        self.charge.gas_flow - self.turbine_flow
    }
}

impl Bound {
    /// Flux through the turbine's area, kg/(s m²), at a pressure behind it: the stage is two
    /// restrictions in series, so each sees about the root of its expansion ratio (Watson and
    /// Janota, *Turbocharging the Internal Combustion Engine*).
    pub(super) fn turbine_flux(&self, back: f64, stage: &Stage) -> f64 {
        back * stage.ratio * self.flux * stage.half_flow
    }

    /// Work of a kilogram of gas on the compressor, J.
    pub(super) fn work(&self, stage: &Stage) -> f64 {
        self.most_work * stage.share
    }

    /// Geometric area of a gate that passes what a turbine leaves, m², at a pressure behind both;
    /// may come out below 0.
    pub(super) fn gate_area(&self, gate_flow: f64, back: f64, stage: &Stage) -> f64 {
        let flux = back * stage.ratio * self.flux * stage.flow;
        (gate_flow / flux - self.leak_area) / self.discharge_coefficient
    }

    /// Both sides at a boost, Pa.
    pub(super) fn state(&self, boost: f64, turbine_area: f64) -> Result<State, Refusal> {
        self.state_of(&self.charge_side(boost)?, turbine_area, None)
    }

    /// Both sides, given the charge side: one root for the expansion at which the turbine gives the
    /// power asked (its flow and its work both rise with the pressure before it), the rest follows.
    /// `near` is an expansion close to it, if one is known.
    pub(super) fn state_of(
        &self,
        charge: &ChargeSide,
        turbine_area: f64,
        near: Option<f64>,
    ) -> Result<State, Refusal> {
        let back = charge.back_pressure;
        let wanted = charge.power / (turbine_area * back * self.flux * self.most_work);
        let Some(expansion) = self.expansion.giving(wanted, near) else {
            return Err(Refusal::new("boost", "asks more power than this turbine can ever give"));
        };
        let stage = self.expansion.stage(expansion);
        let turbine_flow = turbine_area * self.turbine_flux(back, &stage);
        Ok(State {
            charge: *charge,
            expansion,
            turbine_inlet_pressure: back * stage.ratio,
            turbine_flow,
            gate_area: self.gate_area(charge.gas_flow - turbine_flow, back, &stage),
        })
    }

    /// The state at a boost that the turbine can make.
    pub(super) fn reached(&self, boost: f64, turbine_area: f64) -> Result<State, Refusal> {
        if self.speed == 0.0 {
            return Err(Refusal::new("speed", "is 0: an engine that stands makes no boost"));
        }
        let state = self.state(boost, turbine_area)?;
        if state.gate_area < 0.0 {
            let why = "is more than this turbine makes here, even with the gate shut";
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
/// # Errors
/// Refuses a boost outside 0 to 4 bar, one that the turbine can't make, and whatever lies outside
/// the ranges of [`super::Engine`].
pub fn gate_area_needed(boost: GaugePressure, matched: &MatchedEngine) -> Result<Area, Refusal> {
    let boost = checked_boost(boost)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    let area = bound.reached(boost, turbine_area)?.gate_area;
    if area.is_infinite() {
        let why = "asks nothing of the turbine: no gate is large enough to keep the gas from it";
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
/// # Errors
/// As [`gate_area_needed`].
pub fn operating_point(
    boost: GaugePressure,
    matched: &MatchedEngine,
) -> Result<OperatingPoint, Refusal> {
    let boost = checked_boost(boost)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    let state = bound.reached(boost, turbine_area)?;
    Ok(OperatingPoint {
        air_flow: MassFlow::from_si(state.charge.air_flow),
        gas_flow: MassFlow::from_si(state.charge.gas_flow),
        turbine_flow: MassFlow::from_si(state.turbine_flow),
        gate_flow: MassFlow::from_si(state.gate_flow()),
        compressor_outlet_pressure: AbsolutePressure::from_si(state.charge.outlet_pressure),
        compressor_outlet_temperature: Temperature::from_si(state.charge.outlet_temperature),
        charge_temperature: Temperature::from_si(state.charge.charge_temperature),
        compressor_power: Power::from_si(state.charge.power),
        turbine_inlet_pressure: AbsolutePressure::from_si(state.turbine_inlet_pressure),
        turbine_outlet_pressure: AbsolutePressure::from_si(state.charge.back_pressure),
    })
}

/// Pressure before the turbine at a boost that the gate holds.
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
/// # Errors
/// As [`gate_area_needed`].
pub fn gate_share(boost: GaugePressure, matched: &MatchedEngine) -> Result<f64, Refusal> {
    let point = operating_point(boost, matched)?;
    Ok(point.gate_flow.si() / point.gas_flow.si())
}
