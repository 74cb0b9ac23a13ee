//! The charge side: what flows, what it costs the turbine.

use super::super::{Refusal, charge, gas, root};
use super::checked_engine::CheckedEngine;
use crate::physics::check::within;
use crate::quantity::GaugePressure;

/// Where the search for a boost ends, Pa: 4 bar.
pub const MAX_BOOST_PA: f64 = 400_000.0;

/// The largest pressure ratio of a compressor that is looked at, beyond all machines, so that a
/// search still sees the sign at its far end.
pub(super) const MAX_RATIO: f64 = 1e12;

/// The charge side at one pressure ratio of the compressor.
#[derive(Debug, Clone, Copy)]
pub(super) struct ChargeSide {
    /// In the plenum, over ambient.
    pub(super) boost_pa: f64,
    /// Outlet over inlet of the compressor.
    pub(super) ratio: f64,
    pub(super) air_flow_kg_s: f64,
    pub(super) gas_flow_kg_s: f64,
    /// At the compressor's outlet, absolute; what the actuator's hose sees.
    pub(super) outlet_pressure_pa: f64,
    pub(super) outlet_temperature_k: f64,
    /// In the plenum.
    pub(super) charge_temperature_k: f64,
    /// What the compressor takes from the air side of the shaft.
    pub(super) power_w: f64,
    /// Behind the turbine, absolute.
    pub(super) back_pressure_pa: f64,
}

/// A boost that the relations take: 0 to where the search ends.
pub(super) fn checked_boost(boost: GaugePressure) -> Result<f64, Refusal> {
    within("boost", boost, 0.0, MAX_BOOST_PA)
}

impl CheckedEngine {
    /// The charge side at a pressure ratio of the compressor, from 1 on.
    ///
    /// The ratio gives the temperatures. With them the flow is a share of the manifold pressure,
    /// and ratio·(p_a − Δp_in) = p_m + Δp_ic, whose drops go with the square of the flow, is a
    /// quadratic in that pressure. Searches run over the ratio, since a given boost has no such
    /// closed form: its flow and its temperatures hang on each other.
    pub(super) fn charge_at(&self, ratio: f64) -> ChargeSide {
        let rise = charge::relative_rise(ratio, self.compressor_efficiency);
        self.charge_heated(ratio, self.inlet_temperature_k * rise)
    }

    /// The charge side whose compressor heats the air by so many kelvin, from 0 on.
    pub(super) fn charge_at_rise(&self, rise_k: f64) -> ChargeSide {
        let relative = rise_k / self.inlet_temperature_k;
        self.charge_heated(charge::ratio_of_rise(relative, self.compressor_efficiency), rise_k)
    }

    fn charge_heated(&self, ratio: f64, rise_k: f64) -> ChargeSide {
        let outlet_temperature = self.inlet_temperature_k + rise_k;
        let charge_temperature = outlet_temperature
            - self.cooler_effectiveness * (outlet_temperature - self.ambient_temperature_k);
        let flow_per_pressure = self.air_flow_per_pascal_at_1_k / charge_temperature;
        let supply = ratio * self.ambient_pa;
        let drops_per_pressure = (flow_per_pressure / self.reference_flow_kg_s).powi(2);
        let resistance = (self.charge_drop_pa + ratio * self.inlet_drop_pa) * drops_per_pressure;
        // The root above 0, in the form that holds without any drop.
        let manifold = 2.0 * supply / (1.0 + (1.0 + 4.0 * resistance * supply).sqrt());
        let drops = drops_per_pressure * manifold * manifold;
        let air_flow = flow_per_pressure * manifold;
        ChargeSide {
            boost_pa: manifold - self.ambient_pa,
            ratio,
            air_flow_kg_s: air_flow,
            gas_flow_kg_s: air_flow * self.gas_per_air,
            outlet_pressure_pa: manifold + self.charge_drop_pa * drops,
            outlet_temperature_k: outlet_temperature,
            charge_temperature_k: charge_temperature,
            power_w: air_flow * gas::AIR_HEAT_CAPACITY * rise_k,
            back_pressure_pa: self.ambient_pa + self.exhaust_drop_pa * drops,
        }
    }

    /// The charge side at a boost, from 0 on. Plenum pressure rises with the pressure ratio, so
    /// there is one; none where the inlet is sucked empty before.
    pub(super) fn charge_side(&self, boost_pa: f64) -> Result<ChargeSide, Refusal> {
        let manifold = self.ambient_pa + boost_pa;
        // Without drops the ratio would be this. Its charge is cooler than the true one, so its
        // flow and its drops are larger, and the ratio that those ask for is too high.
        let low = manifold / self.ambient_pa;
        let coolest = self.charge_at(low).charge_temperature_k;
        let drops =
            (self.air_flow_per_pascal_at_1_k * manifold / coolest / self.reference_flow_kg_s)
                .powi(2);
        let inlet = self.ambient_pa - self.inlet_drop_pa * drops;
        let high = if inlet > 0.0 {
            ((manifold + self.charge_drop_pa * drops) / inlet).min(MAX_RATIO)
        } else {
            MAX_RATIO
        };
        let short = |ratio: f64| self.charge_at(ratio).boost_pa - boost_pa;
        // Rounding can leave the ends on one side of a root that they touch.
        let near = |short: f64| short.abs() <= 1e-12 * manifold;
        let ends = [low, high].map(|end| (end, short(end)));
        ends.into_iter()
            .find_map(|(end, short)| near(short).then_some(end))
            .or_else(|| root::between(ends[0], ends[1], short))
            .map(|ratio| self.charge_at(ratio))
            .ok_or_else(|| {
                let why = "would leave no pressure before the compressor at this flow";
                Refusal::new("inlet_drop", why)
            })
    }
}
