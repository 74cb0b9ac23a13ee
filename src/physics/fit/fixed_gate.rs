//! A gate that stands open at one area, whatever the boost: then one equation in the turbine's
//! expansion tells the state.

use super::super::{gas, root};
use super::bound::Bound;
use super::charge_side::ChargeSide;
use super::exhaust_side::State;
use super::expansion::{NARROWEST, Stage, WIDEST};

/// Logarithms of the expansion ratios up to which a search looks, one after the other. Where turbine
/// and compressor are so good that they could feed themselves there are more balances than one, and
/// boost settles at the lowest.
const STEPS: [f64; 4] = [0.5, 1.0, 2.0, WIDEST];

/// Turbine and gate side by side.
struct SideBySide<'a> {
    bound: &'a Bound,
    turbine_area: f64,
    /// Effective area of gate and leak, m².
    gate: f64,
}

impl SideBySide<'_> {
    /// The charge side that the turbine drives at this expansion. Of each kilogram of gas a share
    /// goes through the turbine that hangs on the expansion alone, and its work heats the air.
    fn charge(&self, stage: &Stage) -> ChargeSide {
        let turbine = self.turbine_area * stage.half_flow;
        let gas_share = self.bound.gas_share * turbine / (turbine + self.gate * stage.flow);
        let work = gas_share * self.bound.most_work * stage.share;
        self.bound.charge_at_rise(work / gas::AIR_HEAT_CAPACITY)
    }

    /// How much more turbine and gate would pass at this expansion than the engine gives.
    fn excess(&self, expansion: f64) -> f64 {
        let stage = self.bound.expansion.stage(expansion);
        let charge = self.charge(&stage);
        let areas = self.turbine_area * stage.half_flow + self.gate * stage.flow;
        areas * charge.back_pressure * stage.ratio * self.bound.flux - charge.gas_flow
    }

    /// The expansion at which they pass what the engine gives; the narrowest where they pass more.
    fn balance(&self) -> Option<f64> {
        let at = |expansion: f64| (expansion, self.excess(expansion));
        let mut low = at(NARROWEST);
        if low.1 >= 0.0 {
            return Some(NARROWEST);
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

impl Bound {
    /// The state in which a gate stands open at an area, m²; none where it would lie beyond all
    /// expansions that are looked at.
    ///
    /// Power balance and continuity as in [`super::gate_area_needed`]. There boost is given and the
    /// gate wanted; here the gate is, and a kilogram's power balance has the expansion alone: it
    /// gives the rise of temperature in the compressor, that its pressure ratio, and continuity is
    /// the one equation left.
    pub(super) fn behind_gate(&self, open: f64, turbine_area: f64) -> Option<State> {
        let gate = self.discharge_coefficient * open + self.leak_area;
        let pair = SideBySide { bound: self, turbine_area, gate };
        let expansion = pair.balance()?;
        let stage = self.expansion.stage(expansion);
        let charge = pair.charge(&stage);
        Some(State {
            charge,
            expansion,
            turbine_inlet_pressure: charge.back_pressure * stage.ratio,
            turbine_flow: turbine_area * self.turbine_flux(charge.back_pressure, &stage),
            gate_area: open,
        })
    }
}
