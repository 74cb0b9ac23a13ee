//! The charge side at one boost: what flows, what it costs the turbine.

use super::super::{Refusal, charge, gas, root};
use super::bound::Bound;
use super::settled::MOST_BOOST;
use crate::physics::check::within;
use crate::quantity::GaugePressure;

/// How far a fixed point may miss itself, as a share: a root is good to the last digits, a jump in
/// the model (an inlet sucked empty) is not a root.
const CLOSED: f64 = 1e-9;

/// The charge side at one boost, SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct ChargeSide {
    pub(super) air_flow: f64,
    pub(super) gas_flow: f64,
    /// At the compressor's outlet, absolute; what the actuator's hose sees.
    pub(super) outlet_pressure: f64,
    pub(super) outlet_temperature: f64,
    /// In the plenum.
    pub(super) charge_temperature: f64,
    /// What the compressor takes from the air side of the shaft.
    pub(super) power: f64,
    /// Behind the turbine, absolute.
    pub(super) back_pressure: f64,
}

/// A boost that the relations take: 0 to where the search ends.
pub(super) fn checked_boost(boost: GaugePressure) -> Result<f64, Refusal> {
    within("boost", boost, 0.0, MOST_BOOST)
}

impl Bound {
    /// The state at an air flow, or `None` where the inlet is sucked empty.
    fn at_flow(&self, manifold: f64, air_flow: f64) -> Option<ChargeSide> {
        let drops = (air_flow / self.reference_flow).powi(2);
        let inlet_pressure = self.ambient - self.inlet_drop * drops;
        if inlet_pressure <= 0.0 {
            return None;
        }
        let outlet_pressure = manifold + self.charge_drop * drops;
        let ratio = outlet_pressure / inlet_pressure;
        let rise =
            self.inlet_temperature * charge::relative_rise(ratio, self.compressor_efficiency);
        let outlet_temperature = self.inlet_temperature + rise;
        let charge_temperature = outlet_temperature
            - self.cooler_effectiveness * (outlet_temperature - self.ambient_temperature);
        Some(ChargeSide {
            air_flow,
            gas_flow: air_flow * self.gas_share,
            outlet_pressure,
            outlet_temperature,
            charge_temperature,
            power: air_flow * gas::AIR_HEAT_CAPACITY * rise,
            back_pressure: self.ambient + self.exhaust_drop * drops,
        })
    }

    /// The charge side at a boost, Pa: the air flow at which temperature and flow agree.
    ///
    /// More flow makes the charge hotter and so thinner: what the engine would take falls as the
    /// flow rises, so there is one such flow, between none and what cold charge would give.
    pub(super) fn charge_side(&self, boost: f64) -> Result<ChargeSide, Refusal> {
        let manifold = self.ambient + boost;
        let taken = |air_flow: f64| {
            self.at_flow(manifold, air_flow)
                .map_or(0.0, |side| self.swallow * manifold / side.charge_temperature)
        };
        let most = taken(0.0);
        let flow = root::bracketed(0.0, most, |flow| flow - taken(flow))
            .filter(|flow| (flow - taken(*flow)).abs() <= CLOSED * flow);
        flow.and_then(|flow| self.at_flow(manifold, flow)).ok_or_else(|| {
            Refusal::new("inlet_drop", "would leave no pressure before the compressor at this flow")
        })
    }
}
