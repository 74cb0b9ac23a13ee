//! Calibration: the turbine that an observation with the gate truly wide open proves.

use super::super::check::{above_zero, refuse, result};
use super::super::{Refusal, root};
use super::Engine;
use super::bound::Bound;
use super::charge_side::{ChargeSide, checked_boost};
use super::exhaust_side::WIDEST;
use crate::quantity::{Area, GaugePressure, Quantity};

/// Logarithm of the smallest expansion ratio that is looked at; a turbine that lives on less would
/// be larger than the car.
const NARROWEST: f64 = 1e-9;
/// How closely the top of the area needed is found, in the logarithm of the expansion ratio. It is
/// flat there: an error of this size changes the area by its square.
const NEAR_TOP: f64 = 1e-8;

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
    bound: Bound,
    charge: ChargeSide,
}

impl Search {
    fn inlet(&self, expansion: f64) -> f64 {
        self.charge.back_pressure * expansion.exp()
    }

    /// Flow through a turbine that gives the power at this expansion.
    fn turbine_flow(&self, expansion: f64) -> f64 {
        self.charge.power / self.bound.work(expansion)
    }

    fn gate_area(&self, expansion: f64) -> f64 {
        self.bound.gate_area(&self.charge, self.inlet(expansion), self.turbine_flow(expansion))
    }

    fn turbine_area(&self, expansion: f64) -> f64 {
        let flux = self.bound.turbine_flux(self.inlet(expansion), self.charge.back_pressure);
        self.turbine_flow(expansion) / flux
    }

    /// The expansion at which the gate must be largest, by golden section: below it the area rises
    /// with expansion, beyond it falls.
    fn top(&self) -> f64 {
        let golden = (5f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (NARROWEST, WIDEST);
        let (mut left, mut right) = (high - golden * (high - low), low + golden * (high - low));
        let (mut at_left, mut at_right) = (self.gate_area(left), self.gate_area(right));
        while high - low > NEAR_TOP {
            if at_left > at_right {
                high = right;
                (right, at_right) = (left, at_left);
                left = high - golden * (high - low);
                at_left = self.gate_area(left);
            } else {
                low = left;
                (left, at_left) = (right, at_right);
                right = low + golden * (high - low);
                at_right = self.gate_area(right);
            }
        }
        (low + high) / 2.0
    }
}

/// Both turbines at which this boost stands with the port open at this area. The gate must have
/// been truly wide open: tied open, or boost well above the wide-open pressure with full travel
/// proved.
///
/// Power balance and continuity as in [`super::gate_area_needed`], solved for the turbine: at fixed
/// boost the area needed rises with the turbine's area to a top and falls again.
///
/// # Errors
/// Refuses a boost that isn't above 0 or lies above 4 bar, a port that isn't above 0, an
/// observation that no turbine explains, and whatever lies outside the ranges of [`Engine`].
pub fn turbine_areas(
    boost: GaugePressure,
    port_area: Area,
    engine: &Engine,
) -> Result<TurbineAreas, Refusal> {
    let boost = checked_boost(boost)?;
    if boost == 0.0 {
        return refuse::<GaugePressure, _>("boost", boost, "proves nothing of the turbine");
    }
    let port = above_zero("port_area", port_area)?;
    let bound = Bound::checked(engine)?;
    if bound.speed == 0.0 {
        return Err(Refusal::new("speed", "is 0: an engine that stands makes no boost"));
    }
    let charge = bound.charge_side(boost)?;
    let search = Search { bound, charge };
    let top = search.top();
    let most = search.gate_area(top);
    if most < port {
        return Err(no_turbine(most));
    }
    let root_between = |from: f64, to: f64| {
        root::bracketed(from, to, |expansion| search.gate_area(expansion) - port)
            .map(|expansion| search.turbine_area(expansion))
            .ok_or_else(|| Refusal::new("turbine_area_from", "no turbine balances this boost"))
    };
    Ok(TurbineAreas {
        larger: result("turbine_area_from", root_between(NARROWEST, top)?)?,
        smaller: result("turbine_area_from", root_between(top, WIDEST)?)?,
    })
}

fn no_turbine(most: f64) -> Refusal {
    let reason = if most > 0.0 {
        format!(
            "no turbine makes this boost through so large an open gate (at most {:.0} mm2): the \
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
/// # Errors
/// As [`turbine_areas`].
pub fn turbine_area_from(
    boost: GaugePressure,
    port_area: Area,
    engine: &Engine,
) -> Result<Area, Refusal> {
    Ok(turbine_areas(boost, port_area, engine)?.larger)
}

/// The other root, which a person should know of.
#[must_use]
pub fn turbine_area_remarks(boost: GaugePressure, port_area: Area, engine: &Engine) -> Vec<String> {
    let Ok(areas) = turbine_areas(boost, port_area, engine) else { return Vec::new() };
    let smaller = areas.smaller.si() * 1e6;
    vec![format!(
        "a turbine of {smaller:.0} mm2 would hold the same boost; the larger one is taken"
    )]
}
