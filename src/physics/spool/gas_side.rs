//! The gas side: how hot the gas reaches the turbine, how far it expands there, what that gives.

use super::super::burned::BurnedGas;
use super::super::fit::Expansion;
use super::engine::CheckedSpool;

/// Secant steps; the flow bends so little over the root of the expansion that four or five do.
const MAX_STEPS: usize = 40;
/// Roots of the logarithm of an expansion ratio: a millionth, and e⁹.
const ROOTS: (f64, f64) = (1e-6, 3.0);

/// What the turbine gives at one flow of gas.
#[derive(Debug, Clone, Copy)]
pub(super) struct GasSide {
    pub(super) turbine_flow_kg_s: f64,
    /// Of the gas, J/kg: its ideal work between inlet and outlet.
    pub(super) ideal_j_kg: f64,
}

/// The openings that the gas finds, and what drives it.
struct Openings<'a> {
    spool: &'a CheckedSpool,
    expansion: Expansion,
    /// Logarithm of the pressure behind the turbine over that outside.
    behind: f64,
}

impl Openings<'_> {
    /// Flow through all openings over the pressure behind the turbine and 1/√(R·T), m², at a
    /// logarithm of the expansion ratio.
    fn passing(&self, expansion: f64) -> f64 {
        let spool = self.spool;
        let leaks = spool.engine.leak_area_m2 * self.expansion.flow(expansion)
            + spool.exhaust_leak_m2 * self.expansion.flow(expansion + self.behind);
        expansion.exp() * (self.turbine(expansion) + leaks)
    }

    /// The turbine is two restrictions in series, each of which sees half the expansion.
    fn turbine(&self, expansion: f64) -> f64 {
        self.spool.turbine_area_m2 * self.expansion.flow(expansion / 2.0)
    }

    /// Logarithm of the expansion ratio at which this much passes; none where the leaks alone pass it.
    fn passed(&self, wanted: f64) -> Option<f64> {
        let missing = |root: f64| self.passing(root * root) - wanted;
        // Where little expands, the flow function is the root of twice the expansion.
        let open = self.spool.turbine_area_m2
            + 2f64.sqrt() * (self.spool.engine.leak_area_m2 + self.spool.exhaust_leak_m2);
        let mut last = (wanted / open).clamp(ROOTS.0, ROOTS.1);
        let mut at = 0.9 * last;
        let mut missing_last = missing(last);
        for _ in 0..MAX_STEPS {
            let missing_at = missing(at);
            let slope = (missing_at - missing_last) / (at - last);
            if missing_at == 0.0 || slope == 0.0 || !slope.is_finite() {
                break;
            }
            let next = (at - missing_at / slope).clamp(ROOTS.0, ROOTS.1);
            (last, missing_last) = (at, missing_at);
            at = next;
            if (at - last).abs() <= 1e-9 * at {
                break;
            }
        }
        (at > 2.0 * ROOTS.0 && at < ROOTS.1).then_some(at * at)
    }
}

impl CheckedSpool {
    /// Temperature at the turbine's door once the walls have settled, K.
    pub(super) fn gas_temperature_k(&self, air_flow_kg_s: f64) -> f64 {
        let engine = &self.engine;
        let outside = engine.ambient_temperature_k;
        let cooled = self.wall_flow_kg_s * (1.0 / engine.reference_flow_kg_s - 1.0 / air_flow_kg_s);
        // Beyond the reference flow the tables of the burned gas still hold.
        outside + (engine.turbine_inlet_temperature_k - outside) * cooled.min(0.0).exp()
    }

    /// The gas side at a flow of air to the cylinders and a temperature before the turbine; no work
    /// where the leaks take all the gas.
    pub(super) fn gas_side(&self, air_flow_kg_s: f64, temperature_k: f64) -> GasSide {
        let engine = &self.engine;
        let gas: BurnedGas = engine.mixture.at(temperature_k);
        let drops = (air_flow_kg_s / engine.reference_flow_kg_s).powi(2);
        let behind_pa = engine.ambient_pa + engine.exhaust_drop_pa * drops;
        let openings = Openings {
            spool: self,
            expansion: Expansion::of(gas.gamma),
            behind: (behind_pa / engine.ambient_pa).ln(),
        };
        let flux = behind_pa / (gas.constant * temperature_k).sqrt();
        let wanted = air_flow_kg_s * engine.gas_per_air / flux;
        let Some(expansion) = openings.passed(wanted) else {
            return GasSide { turbine_flow_kg_s: 0.0, ideal_j_kg: 0.0 };
        };
        GasSide {
            turbine_flow_kg_s: flux * expansion.exp() * openings.turbine(expansion),
            ideal_j_kg: gas.heat_capacity * temperature_k * openings.expansion.share(expansion),
        }
    }
}
