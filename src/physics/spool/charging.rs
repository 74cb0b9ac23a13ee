//! The air side while the shaft gains speed: pressure and flow that a tip speed gives at an engine
//! speed, and the work that the filling of the pipes takes.

use super::super::gas;
use super::engine::CheckedSpool;
use super::wheels::CheckedWheels;

/// Secant steps towards the flow; it starts near.
const MAX_STEPS: usize = 30;
const NEAR_ENOUGH: f64 = 1e-7;
/// By how much what comes out less what is put in falls with that, to begin with: the head falls with
/// flow, and so does the pressure behind the drops. Only the pace hangs on it.
const FALL: f64 = 1.3;

/// The air side at one speed of shaft and engine.
#[derive(Debug, Clone, Copy)]
pub(super) struct Charging {
    /// To the cylinders.
    pub(super) flow_kg_s: f64,
    pub(super) plenum_pa: f64,
    /// Through the compressor, leak included, but not what fills the pipes.
    pub(super) power_w: f64,
    /// Work that each kilogram of air takes.
    pub(super) work_j_kg: f64,
    pub(super) charge_temperature_k: f64,
    /// How fast the plenum's pressure rises with tip speed.
    pub(super) pressure_slope: f64,
}

impl CheckedSpool {
    /// What a compressor of this tip speed gives if the engine draws a flow.
    fn charged(&self, tip_speed_m_s: f64, flow_kg_s: f64, leak_kg_s: f64) -> Option<Charging> {
        let engine = &self.engine;
        let through = flow_kg_s + leak_kg_s;
        let inlet = self.inlet(through)?;
        let head = self.wheels.head_j_kg(tip_speed_m_s, through, inlet.density_kg_m3);
        let heat = gas::AIR_HEAT_CAPACITY * engine.inlet_temperature_k;
        // To the power 3.5, which is γ/(γ − 1) of air.
        let rise = (1.0 + head / heat).max(0.1);
        let outlet = inlet.pressure_pa * rise * rise * rise * rise.sqrt();
        let drop = engine.charge_drop_pa * (flow_kg_s / engine.reference_flow_kg_s).powi(2);
        let best = engine.compressor_efficiency;
        let efficiency =
            self.wheels.compressor_efficiency(tip_speed_m_s, through, inlet.density_kg_m3, best);
        let work = head.max(0.0) / efficiency;
        let hot = engine.inlet_temperature_k + work / gas::AIR_HEAT_CAPACITY;
        Some(Charging {
            flow_kg_s,
            plenum_pa: outlet - drop,
            power_w: through * work,
            work_j_kg: work,
            charge_temperature_k: self.cooled_k(hot),
            pressure_slope: 3.5 * outlet / (heat * rise) * CheckedWheels::head_slope(tip_speed_m_s),
        })
    }

    /// The air side at a tip speed and an engine speed, looked for from a flow and a pressure near it;
    /// none where the engine would suck the way to it empty.
    pub(super) fn charging(
        &self,
        tip_speed_m_s: f64,
        speed_rev_s: f64,
        near: (f64, f64),
    ) -> Option<Charging> {
        let drawn = self.engine.air_flow_per_pascal_at_1_k * speed_rev_s;
        let (mut flow, mut plenum) = near;
        let mut last: Option<(f64, f64)> = None;
        for _ in 0..MAX_STEPS {
            let charging = self.charged(tip_speed_m_s, flow, self.leak_kg_s(plenum))?;
            let off = drawn * charging.plenum_pa / charging.charge_temperature_k - flow;
            if !charging.plenum_pa.is_finite() || charging.plenum_pa <= 0.0 {
                return None;
            }
            plenum = charging.plenum_pa;
            if off.abs() <= NEAR_ENOUGH * flow {
                return Some(charging);
            }
            let secant = last.map(|(flow_last, off_last)| (off_last - off) / (flow - flow_last));
            let fall = secant.filter(|fall| (0.5..20.0).contains(fall)).unwrap_or(FALL);
            last = Some((flow, off));
            flow += off / fall;
        }
        None
    }
}
