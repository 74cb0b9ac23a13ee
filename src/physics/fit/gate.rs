//! The gate as it was measured, and checked: a round port, the flap over it, the actuator that lifts
//! the flap.

use super::super::Refusal;
use super::super::actuator::leverage;
use super::super::check::{above_zero, from_zero, refuse};
use super::super::circle::opened;
use super::checked_engine::CheckedMatch;
use super::exhaust_side::State;
use crate::quantity::{Area, GaugePressure, Length};

/// The flap on its seat, and what holds it there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flap {
    /// Of the circle on which the flap seats, m; above 0. The gas pushes on what lies inside it.
    pub contact_diameter: Length,
    /// Pressure in the canister, on the bench, at which the rod starts to move, Pa; 0 or more.
    pub cracks_at: GaugePressure,
    /// Effective area of the actuator's diaphragm, m²; above 0.
    pub diaphragm_area: Area,
    /// The flap's arm over the rod's, a number; 0 or more, and 0 leaves out the push of the gas.
    pub arm_ratio: f64,
}

/// A port under its [`Flap`], with all its travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gate {
    /// m; above 0, at most the contact circle's.
    pub port_diameter: Length,
    /// Of the flap wide open, the mean over the rim, m; above 0.
    pub lift: Length,
    /// Pressure in the canister, on the bench, at which the flap is wide open, Pa; above `cracks_at`.
    pub wide_open_at: GaugePressure,
    pub flap: Flap,
}

/// A [`Flap`] whose every value was checked.
pub(super) struct CheckedFlap {
    pub(super) cracks_at_pa: f64,
    /// Pressure in the canister for each pascal across the flap.
    leverage: f64,
}

impl CheckedFlap {
    pub(super) fn checked(flap: &Flap) -> Result<Self, Refusal> {
        let contact = above_zero("contact_diameter", flap.contact_diameter)?;
        let cracks_at_pa = from_zero("cracks_at", flap.cracks_at)?;
        Ok(Self { cracks_at_pa, leverage: checked_leverage(flap, contact)? })
    }

    /// What the push of the gas stands for in the canister.
    pub(super) fn push_pa(&self, state: &State) -> f64 {
        state.across_flap_pa() * self.leverage
    }
}

fn checked_leverage(flap: &Flap, contact_m: f64) -> Result<f64, Refusal> {
    let arm_ratio = from_zero("arm_ratio", flap.arm_ratio)?;
    Ok(leverage(contact_m, arm_ratio, above_zero("diaphragm_area", flap.diaphragm_area)?))
}

/// A [`Gate`] whose every value was checked.
pub(super) struct CheckedGate {
    pub(super) port_diameter_m: f64,
    pub(super) lift_m: f64,
    pub(super) wide_open_at_pa: f64,
    pub(super) flap: CheckedFlap,
}

impl CheckedGate {
    pub(super) fn checked(gate: &Gate) -> Result<Self, Refusal> {
        let port_diameter_m = above_zero("port_diameter", gate.port_diameter)?;
        let contact = above_zero("contact_diameter", gate.flap.contact_diameter)?;
        if contact < port_diameter_m {
            let why = "is less than the port's: the flap would drop into it";
            return refuse::<Length, _>("contact_diameter", contact, why);
        }
        let cracks_at_pa = from_zero("cracks_at", gate.flap.cracks_at)?;
        let wide_open_at_pa = above_zero("wide_open_at", gate.wide_open_at)?;
        if wide_open_at_pa <= cracks_at_pa {
            let why = "must be above cracks_at";
            return refuse::<GaugePressure, _>("wide_open_at", wide_open_at_pa, why);
        }
        let lift_m = above_zero("lift", gate.lift)?;
        let leverage = checked_leverage(&gate.flap, contact)?;
        let flap = CheckedFlap { cracks_at_pa, leverage };
        Ok(Self { port_diameter_m, lift_m, wide_open_at_pa, flap })
    }

    /// Pressure that lifts the flap: the push of the gas helps the signal.
    pub(super) fn lifts_with_pa(&self, matched: &CheckedMatch, state: &State) -> f64 {
        state.signal_pa(&matched.engine) + self.flap.push_pa(state)
    }

    /// How far the pressure rises from crack to wide open.
    pub(super) fn travel_pa(&self) -> f64 {
        self.wide_open_at_pa - self.flap.cracks_at_pa
    }

    pub(super) fn open_area_m2(&self, matched: &CheckedMatch, state: &State) -> f64 {
        let past_crack = self.lifts_with_pa(matched, state) - self.flap.cracks_at_pa;
        let share = (past_crack / self.travel_pa()).clamp(0.0, 1.0);
        opened(self.port_diameter_m, self.lift_m * share)
    }

    pub(super) fn wide_open_area_m2(&self) -> f64 {
        opened(self.port_diameter_m, self.lift_m)
    }

    /// The boost that it holds, Pa.
    pub(super) fn holds(&self, matched: &CheckedMatch) -> Result<f64, Refusal> {
        let open = |state: &State| self.open_area_m2(matched, state);
        let wide_open = (self.wide_open_area_m2(), self.wide_open_at_pa);
        matched.settled_boost("held_boost", wide_open, open)
    }
}
