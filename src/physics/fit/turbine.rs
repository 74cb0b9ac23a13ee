//! Calibration: the turbine that an observation with the gate truly wide open proves.

use super::super::check::{above_zero, refuse, result};
use super::super::{Refusal, root};
use super::Engine;
use super::charge_side::{ChargeSide, checked_boost};
use super::checked_engine::CheckedEngine;
use super::expansion::{MAX_LOG_RATIO, MIN_LOG_RATIO, Stage};
use crate::quantity::{Area, GaugePressure, Quantity};

/// The two turbines that would hold the same boost with the same gate open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurbineAreas {
    /// The one to take.
    pub larger: Area,
    pub smaller: Area,
}

/// The search at one observed boost: a low pressure before the turbine is a large turbine, a high
/// one a small turbine, and in between the gate must be largest.
struct Search {
    engine: CheckedEngine,
    charge: ChargeSide,
}

impl Search {
    fn stage(&self, expansion: f64) -> Stage {
        self.engine.expansion.stage(expansion)
    }

    /// Flow through a turbine that gives the power at this expansion.
    fn turbine_flow_kg_s(&self, stage: &Stage) -> f64 {
        self.charge.power_w / self.engine.work_j_kg(stage)
    }

    fn gate_area_m2(&self, expansion: f64) -> f64 {
        let stage = self.stage(expansion);
        let gate_flow = self.charge.gas_flow_kg_s - self.turbine_flow_kg_s(&stage);
        self.engine.gate_area_m2(gate_flow, self.charge.back_pressure_pa, &stage)
    }

    fn turbine_area_m2(&self, expansion: f64) -> f64 {
        let stage = self.stage(expansion);
        self.turbine_flow_kg_s(&stage)
            / self.engine.turbine_flux(self.charge.back_pressure_pa, &stage)
    }

    /// Goes with the slope of [`Self::gate_area_m2`] over expansion: its sign, without the divisions by
    /// what is 0 where the expansion begins. The area is (ṁ_g − P/w)/(e^x·ψ) but for constants.
    fn slope(&self, expansion: f64) -> f64 {
        let (engine, charge, stage) = (&self.engine, &self.charge, self.stage(expansion));
        let work = engine.work_j_kg(&stage);
        let steeper = engine.max_work_j_kg * engine.expansion.share_slope(&stage);
        let gate_flow = charge.gas_flow_kg_s * work - charge.power_w;
        let flux_slope = 1.0 + engine.expansion.flow_slope(expansion, &stage);
        charge.power_w * steeper - gate_flow * work * flux_slope
    }

    /// The expansion at which the gate must be largest: below it the area rises with expansion,
    /// beyond it falls.
    fn top(&self) -> f64 {
        root::bracketed(MIN_LOG_RATIO, MAX_LOG_RATIO, |expansion| self.slope(expansion))
            .unwrap_or(MAX_LOG_RATIO)
    }

    /// The turbine whose expansion lies between these, with the port open at this area.
    fn turbine_between(&self, from: f64, to: f64, port_m2: f64) -> Result<Area, Refusal> {
        let area = root::bracketed(from, to, |expansion| self.gate_area_m2(expansion) - port_m2)
            .map(|expansion| self.turbine_area_m2(expansion))
            .ok_or_else(|| Refusal::new("turbine_area_from", "no turbine balances this boost"))?;
        result("turbine_area_from", area)
    }
}

/// An observation, checked: the search, its port, m², and the expansion at which the gate must be
/// largest.
fn searched(
    boost: GaugePressure,
    port_area: Area,
    engine: &Engine,
) -> Result<(Search, f64, f64), Refusal> {
    let boost = checked_boost(boost)?;
    if boost == 0.0 {
        return refuse::<GaugePressure, _>("boost", boost, "says nothing about the turbine");
    }
    let port = above_zero("port_area", port_area)?;
    let engine = CheckedEngine::checked(engine)?;
    if engine.speed_rev_s == 0.0 {
        return Err(Refusal::new("speed", "is 0: a stopped engine makes no boost"));
    }
    let charge = engine.charge_side(boost)?;
    let search = Search { engine, charge };
    let top = search.top();
    let most = search.gate_area_m2(top);
    if most < port {
        return Err(no_turbine(most));
    }
    Ok((search, port, top))
}

/// Both turbines at which this boost stands with the port open at this area. The gate must have
/// been truly wide open: tied open, or boost well above the wide-open pressure with full travel
/// proved.
///
/// Power balance and continuity as in [`super::gate_area_needed`], solved for the turbine: at fixed
/// boost the area needed rises with the turbine's area to a top and falls again.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let areas = turbine_areas(si(60e3), si(177e-6), &MatchedEngine::example().engine).unwrap();
/// assert!(areas.larger > areas.smaller);
/// ```
///
/// # Errors
/// Refuses a boost that isn't above 0 or lies above 4 bar, a port that isn't above 0, an
/// observation that no turbine explains, and whatever lies outside the ranges of [`Engine`].
pub fn turbine_areas(
    boost: GaugePressure,
    port_area: Area,
    engine: &Engine,
) -> Result<TurbineAreas, Refusal> {
    let (search, port, top) = searched(boost, port_area, engine)?;
    Ok(TurbineAreas {
        larger: search.turbine_between(MIN_LOG_RATIO, top, port)?,
        smaller: search.turbine_between(top, MAX_LOG_RATIO, port)?,
    })
}

fn no_turbine(most: f64) -> Refusal {
    let reason = if most > 0.0 {
        format!(
            "no turbine makes this boost with so large a gate open (at most {:.0} mm2): the \
             actuator, not the port, held it, or the gate wasn't fully open",
            most * 1e6
        )
    } else {
        "no turbine gives the power for this boost from this gas, even with the gate shut"
            .to_owned()
    };
    Refusal::new("turbine_area_from", reason)
}

/// Effective area of the turbine that an observation proves: the larger of [`turbine_areas`].
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::{Quantity, si}};
/// let engine = MatchedEngine::example().engine;
/// let turbine_area = turbine_area_from(si(60e3), si(177e-6), &engine).unwrap();
/// let creep = creep_boost(si(177e-6), &MatchedEngine { turbine_area, engine }).unwrap();
/// assert!((creep.si() - 60e3).abs() < 1e-3);
/// ```
///
/// # Errors
/// As [`turbine_areas`].
pub fn turbine_area_from(
    boost: GaugePressure,
    port_area: Area,
    engine: &Engine,
) -> Result<Area, Refusal> {
    let (search, port, top) = searched(boost, port_area, engine)?;
    search.turbine_between(MIN_LOG_RATIO, top, port)
}

/// The other root, which a person should know of.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let engine = MatchedEngine::example().engine;
/// assert_eq!(turbine_area_remarks(si(60e3), si(177e-6), &engine).len(), 1);
/// ```
#[must_use]
pub fn turbine_area_remarks(boost: GaugePressure, port_area: Area, engine: &Engine) -> Vec<String> {
    let Ok(areas) = turbine_areas(boost, port_area, engine) else { return Vec::new() };
    let smaller = areas.smaller.si() * 1e6;
    vec![format!(
        "a turbine of {smaller:.0} mm2 would hold the same boost; the larger one is taken"
    )]
}
