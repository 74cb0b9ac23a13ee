//! The air side at one flow and plenum pressure, and what the turbine has to spare there.

use super::super::nozzle::Gas;
use super::super::{charge, gas};
use super::engine::CheckedSpool;

const AIR: Gas = Gas { gamma: gas::AIR_GAMMA, constant: gas::AIR_CONSTANT };

/// Air before the compressor.
#[derive(Debug, Clone, Copy)]
pub(super) struct Inlet {
    pub(super) pressure_pa: f64,
    pub(super) density_kg_m3: f64,
}

/// The air side where it stands still.
#[derive(Debug, Clone, Copy)]
pub(super) struct Air {
    pub(super) speed_rev_s: f64,
    pub(super) tip_speed_m_s: f64,
    pub(super) power_w: f64,
}

impl CheckedSpool {
    /// The air before the compressor at a flow through it; none where the inlet is sucked empty.
    pub(super) fn inlet(&self, flow_kg_s: f64) -> Option<Inlet> {
        let engine = &self.engine;
        let pressure_pa = engine.ambient_pa
            - engine.inlet_drop_pa * (flow_kg_s / engine.reference_flow_kg_s).powi(2);
        let density_kg_m3 = pressure_pa / (gas::AIR_CONSTANT * engine.inlet_temperature_k);
        (pressure_pa > 0.0).then_some(Inlet { pressure_pa, density_kg_m3 })
    }

    /// Behind the charge cooler, K, by the temperature before it.
    pub(super) fn cooled_k(&self, hot_k: f64) -> f64 {
        hot_k - self.engine.cooler_effectiveness * (hot_k - self.engine.ambient_temperature_k)
    }

    /// What the charge leak loses at a plenum pressure. Its air is taken as warm as a compressor at its
    /// best would leave it: the root of a temperature that is a few kelvin off.
    pub(super) fn leak_kg_s(&self, plenum_pa: f64) -> f64 {
        let engine = &self.engine;
        if plenum_pa <= engine.ambient_pa || self.charge_leak_m2 == 0.0 {
            return 0.0;
        }
        let ratio = plenum_pa / engine.ambient_pa;
        let rise = charge::relative_rise(ratio, engine.compressor_efficiency);
        let warm = self.cooled_k(engine.inlet_temperature_k * (1.0 + rise));
        self.charge_leak_m2 * AIR.flux(plenum_pa, warm, engine.ambient_pa)
    }

    /// The air side at a flow to the cylinders and a plenum pressure: the speed of the engine that
    /// draws this flow follows. None where the inlet is sucked empty.
    pub(super) fn air(&self, flow_kg_s: f64, plenum_pa: f64) -> Option<Air> {
        let engine = &self.engine;
        let through = flow_kg_s + self.leak_kg_s(plenum_pa);
        let inlet = self.inlet(through)?;
        let drop = engine.charge_drop_pa * (flow_kg_s / engine.reference_flow_kg_s).powi(2);
        let ratio = (plenum_pa + drop) / inlet.pressure_pa;
        let heat = gas::AIR_HEAT_CAPACITY * engine.inlet_temperature_k;
        let head = heat * charge::relative_rise(ratio, 1.0);
        let best = engine.compressor_efficiency;
        let turning = self.wheels.turning(head, through, inlet.density_kg_m3, best);
        let work = head.max(0.0) / turning.efficiency;
        let hot = engine.inlet_temperature_k + work / gas::AIR_HEAT_CAPACITY;
        Some(Air {
            speed_rev_s: flow_kg_s * self.cooled_k(hot)
                / (engine.air_flow_per_pascal_at_1_k * plenum_pa),
            tip_speed_m_s: turning.tip_speed_m_s,
            power_w: through * work,
        })
    }

    /// Power at the shaft, W, that the turbine gives more than the bearings take.
    pub(super) fn turbine_w(&self, tip_speed_m_s: f64, flow_kg_s: f64, temperature_k: f64) -> f64 {
        let engine = &self.engine;
        let side = self.gas_side(flow_kg_s, temperature_k);
        let bearings = self.wheels.bearing_w(tip_speed_m_s, engine.mechanical_efficiency);
        if side.ideal_j_kg <= 0.0 {
            return -bearings;
        }
        let best = engine.turbine_efficiency;
        let efficiency = self.wheels.turbine_efficiency(tip_speed_m_s, side.ideal_j_kg, best);
        efficiency * side.turbine_flow_kg_s * side.ideal_j_kg - bearings
    }

    /// What the turbine has to spare over the compressor, W, once all has settled.
    pub(super) fn spare_w(&self, air: &Air, flow_kg_s: f64) -> f64 {
        let temperature = self.gas_temperature_k(flow_kg_s);
        self.turbine_w(air.tip_speed_m_s, flow_kg_s, temperature) - air.power_w
    }
}
