//! What the actuator makes of it: the boost that gate and actuator hold, and the line of the actuator
//! that an observation proves.

use super::super::Refusal;
use super::super::check::{refuse, result};
use super::MatchedEngine;
use super::charge_side::checked_boost;
use super::checked_engine::CheckedMatch;
use super::gate::{CheckedGate, Gate};
use crate::quantity::{GaugePressure, PressureDifference};

/// Boost that gate and actuator hold: the higher of the creep line and the actuator line.
///
/// Lift rises linearly from 0 at `cracks_at` to `lift` at `wide_open_at`, pressures at the
/// compressor's outlet with the gas's push on the flap added, (p_3 − p_4)·contact
/// circle·`arm_ratio`/`diaphragm_area`; the area is the curtain or the port, whichever is smaller.
/// Boost settles where that is the area needed. Once the flap is wide open this is the creep line.
/// An `arm_ratio` of 0 leaves the push out, and the band between with and without it is what is
/// known. 0 where the gate holds any boost down.
///
/// Balance of moments on the flap; areas and flows as in [`super::gate_area_needed`].
///
/// ```
/// # use boostwright::{physics::{fit::*, circle::circle_area}, quantity::si};
/// # let flap = Flap { contact_diameter: si(28e-3), cracks_at: si(50e3), diaphragm_area: si(20e-4), arm_ratio: 0.85 };
/// # let gate = Gate { port_diameter: si(24e-3), lift: si(8e-3), wide_open_at: si(80e3), flap };
/// let car = MatchedEngine::example();
/// let creep = creep_boost(circle_area(gate.port_diameter).unwrap(), &car).unwrap();
/// assert!(held_boost(&gate, &car).unwrap() >= creep);
/// ```
///
/// # Errors
/// Refuses a contact circle smaller than the port, pressures that don't rise from crack to wide
/// open, a boost that would lie above 4 bar, and what lies outside the ranges of [`Gate`] and
/// [`super::Engine`].
pub fn held_boost(gate: &Gate, matched: &MatchedEngine) -> Result<GaugePressure, Refusal> {
    let gate = CheckedGate::checked(gate)?;
    result("held_boost", gate.holds(&CheckedMatch::checked(matched)?)?)
}

/// Which of the lines holds the boost, where it isn't the actuator on its way.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// # let flap = Flap { contact_diameter: si(28e-3), cracks_at: si(50e3), diaphragm_area: si(20e-4), arm_ratio: 0.85 };
/// # let gate = Gate { port_diameter: si(24e-3), lift: si(8e-3), wide_open_at: si(80e3), flap };
/// let car = MatchedEngine::example();
/// let gate = Gate { port_diameter: si(12e-3), ..gate };
/// assert!(held_boost_remarks(&gate, &car)[0].contains("its size sets this boost"));
/// ```
#[must_use]
pub fn held_boost_remarks(gate: &Gate, matched: &MatchedEngine) -> Vec<String> {
    let remark = || -> Result<Option<&'static str>, Refusal> {
        let gate = CheckedGate::checked(gate)?;
        let matched = CheckedMatch::checked(matched)?;
        let boost = gate.holds(&matched)?;
        if boost == 0.0 {
            return Ok(Some("a gate this size bypasses all the boost: it settles at 0"));
        }
        let open = gate.open_area_m2(&matched, &matched.state(boost)?);
        Ok(if open == 0.0 {
            Some("the gate is still shut: this is all the turbine makes")
        } else if open >= gate.wide_open_area_m2() {
            Some(
                "the gate passes all it can: its size sets this boost, not the actuator (boost \
                creep)",
            )
        } else {
            None
        })
    };
    remark().ok().flatten().map(str::to_owned).into_iter().collect()
}

/// How far an actuator's line must lie above that of the bench for a boost to be held: `cracks_at` and
/// `wide_open_at` both raised by it give this boost in [`held_boost`]. Below 0 where it lies lower.
///
/// The fit of the actuator to one observation: the area that the boost needs gives the lift, and that
/// the pressure which lifts the flap so far.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::{Quantity, si}};
/// # let flap = Flap { contact_diameter: si(28e-3), cracks_at: si(50e3), diaphragm_area: si(20e-4), arm_ratio: 0.85 };
/// # let gate = Gate { port_diameter: si(24e-3), lift: si(8e-3), wide_open_at: si(80e3), flap };
/// let car = MatchedEngine::example();
/// // The line of the bench holds what it holds: no shift.
/// let held = held_boost(&gate, &car).unwrap();
/// assert!(actuator_line_shift(held, &gate, &car).unwrap().si().abs() < 1e-3);
/// ```
///
/// # Errors
/// Refuses a boost at which the gate passes all it can (its size holds it, whatever the actuator's
/// line) or stays shut, and what [`held_boost`] refuses.
pub fn actuator_line_shift(
    boost: GaugePressure,
    gate: &Gate,
    matched: &MatchedEngine,
) -> Result<PressureDifference, Refusal> {
    let boost = checked_boost(boost)?;
    let gate = CheckedGate::checked(gate)?;
    let matched = CheckedMatch::checked(matched)?;
    let state = matched.reached(boost)?;
    if state.gate_area_m2 <= 0.0 {
        let why = "is all the turbine makes with the gate shut, whatever the actuator";
        return refuse::<GaugePressure, _>("boost", boost, why);
    }
    if state.gate_area_m2 >= gate.wide_open_area_m2() {
        let why = "is set by a gate that passes all it can, whatever the actuator (boost creep)";
        return refuse::<GaugePressure, _>("boost", boost, why);
    }
    // Below the whole port the area is the curtain, which rises in step with the lift.
    let share = state.gate_area_m2 / (std::f64::consts::PI * gate.port_diameter_m * gate.lift_m);
    let needed = gate.flap.cracks_at_pa + share * gate.travel_pa();
    result("actuator_line_shift", gate.lifts_with_pa(&matched, &state) - needed)
}
