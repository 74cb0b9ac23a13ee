//! A gate that stands open at one area, whatever the boost: then one equation in the turbine's
//! expansion tells the state.

use super::super::{gas, root};
use super::charge_side::ChargeSide;
use super::checked_engine::CheckedMatch;
use super::exhaust_side::State;
use super::expansion::{MAX_LOG_RATIO, MIN_LOG_RATIO, Stage};

/// Logarithms of the expansion ratios up to which a search looks, one after the other. Where turbine
/// and compressor are so good that they could feed themselves there are more balances than one, and
/// boost settles at the lowest.
const STEPS: [f64; 4] = [0.5, 1.0, 2.0, MAX_LOG_RATIO];

/// Turbine and gate side by side.
struct SideBySide<'a> {
    matched: &'a CheckedMatch,
    /// Effective area of gate and leak.
    gate_m2: f64,
}

impl SideBySide<'_> {
    /// The charge side that the turbine drives at this expansion. Of each kilogram of gas a share
    /// goes through the turbine that hangs on the expansion alone, and its work heats the air.
    fn charge(&self, stage: &Stage) -> ChargeSide {
        let engine = &self.matched.engine;
        let turbine = self.matched.turbine_area_m2 * stage.half_flow;
        let gas_share = engine.gas_per_air * turbine / (turbine + self.gate_m2 * stage.flow);
        let work = gas_share * engine.max_work_j_kg * stage.share;
        engine.charge_at_rise(work / gas::AIR_HEAT_CAPACITY)
    }

    /// How much more turbine and gate would pass at this expansion than the engine gives.
    fn excess(&self, expansion: f64) -> f64 {
        let engine = &self.matched.engine;
        let stage = engine.expansion.stage(expansion);
        let charge = self.charge(&stage);
        let areas = self.matched.turbine_area_m2 * stage.half_flow + self.gate_m2 * stage.flow;
        areas * charge.back_pressure_pa * stage.ratio * engine.flux_per_pascal
            - charge.gas_flow_kg_s
    }

    /// The expansion at which they pass what the engine gives; the narrowest where they pass more.
    fn balance(&self) -> Option<f64> {
        let at = |expansion: f64| (expansion, self.excess(expansion));
        let mut low = at(MIN_LOG_RATIO);
        if low.1 >= 0.0 {
            return Some(MIN_LOG_RATIO);
        }
        for high in STEPS.into_iter().map(at) {
            if high.1 >= 0.0 {
                return root::between(low, high, |expansion| self.excess(expansion));
            }
            low = high;
        }
        None
    }
}

impl CheckedMatch {
    /// The state in which a gate stands open at an area; none where it would lie beyond all
    /// expansions that are looked at.
    ///
    /// Power balance and continuity as in [`super::gate_area_needed`]. There boost is given and the
    /// gate wanted; here the gate is, and a kilogram's power balance has the expansion alone: it
    /// gives the rise of temperature in the compressor, that its pressure ratio, and continuity is
    /// the one equation left.
    pub(super) fn behind_gate(&self, open_m2: f64) -> Option<State> {
        let engine = &self.engine;
        let gate_m2 = engine.discharge_coefficient * open_m2 + engine.leak_area_m2;
        let pair = SideBySide { matched: self, gate_m2 };
        let expansion = pair.balance()?;
        let stage = engine.expansion.stage(expansion);
        let charge = pair.charge(&stage);
        Some(State {
            charge,
            expansion,
            turbine_inlet_pa: charge.back_pressure_pa * stage.ratio,
            turbine_flow_kg_s: self.turbine_area_m2
                * engine.turbine_flux(charge.back_pressure_pa, &stage),
            gate_area_m2: open_m2,
        })
    }
}
