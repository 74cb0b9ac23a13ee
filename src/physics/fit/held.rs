//! What the actuator makes of it: the boost that is held, and where the gas opens the gate.

use super::super::Refusal;
use super::super::actuator::leverage;
use super::super::check::{above_zero, from_zero, refuse, result};
use super::super::circle::opened;
use super::MatchedEngine;
use super::bound::Bound;
use super::charge_side::{MOST_BOOST, checked_boost};
use super::exhaust_side::State;
use super::settled::Crossing;
use crate::quantity::{Area, GaugePressure, Length, PressureDifference, Quantity};

/// A flap and its actuator, checked, SI.
struct Gate {
    port_diameter: f64,
    /// Of the flap wide open.
    lift: f64,
    cracks_at: f64,
    wide_open_at: f64,
    leverage: f64,
}

impl Gate {
    fn checked(
        [port_diameter, contact_diameter, lift]: [Length; 3],
        [cracks_at, wide_open_at]: [GaugePressure; 2],
        diaphragm_area: Area,
        arm_ratio: f64,
    ) -> Result<Self, Refusal> {
        let port = above_zero("port_diameter", port_diameter)?;
        let contact = above_zero("contact_diameter", contact_diameter)?;
        if contact < port {
            let why = "is less than the port's: the flap would drop into it";
            return refuse::<Length, _>("contact_diameter", contact, why);
        }
        let cracks_at = from_zero("cracks_at", cracks_at)?;
        let wide = above_zero("wide_open_at", wide_open_at)?;
        if wide <= cracks_at {
            let why = "must lie above cracks_at";
            return refuse::<GaugePressure, _>("wide_open_at", wide, why);
        }
        Ok(Self {
            port_diameter: port,
            lift: above_zero("lift", lift)?,
            cracks_at,
            wide_open_at: wide,
            leverage: checked_leverage(contact, arm_ratio, diaphragm_area)?,
        })
    }

    /// Pressure that lifts the flap: the push of the gas helps the signal.
    fn lifts_with(&self, bound: &Bound, state: &State) -> f64 {
        state.signal(bound) + state.across_flap() * self.leverage
    }

    /// Share of the full lift.
    fn share_open(&self, bound: &Bound, state: &State) -> f64 {
        ((self.lifts_with(bound, state) - self.cracks_at) / (self.wide_open_at - self.cracks_at))
            .clamp(0.0, 1.0)
    }

    fn open_area(&self, bound: &Bound, state: &State) -> f64 {
        opened(self.port_diameter, self.lift * self.share_open(bound, state))
    }

    fn wide_open_area(&self) -> f64 {
        opened(self.port_diameter, self.lift)
    }

    /// The boost that it holds, Pa.
    fn holds(&self, bound: &Bound, turbine_area: f64) -> Result<f64, Refusal> {
        let open = |state: &State| self.open_area(bound, state);
        let wide_open = (self.wide_open_area(), self.wide_open_at);
        bound.settled_boost("held_boost", turbine_area, wide_open, open)
    }
}

fn checked_leverage(contact: f64, arm_ratio: f64, diaphragm_area: Area) -> Result<f64, Refusal> {
    let arm_ratio = from_zero("arm_ratio", arm_ratio)?;
    Ok(leverage(contact, arm_ratio, above_zero("diaphragm_area", diaphragm_area)?))
}

/// Boost that gate and actuator hold: the higher of the creep line and the actuator line.
///
/// Lift rises linearly from 0 at `cracks_at` to `lift` at `wide_open_at`, pressures at the
/// compressor's outlet with the gas's push on the flap added, (p_3 − p_4)·contact
/// circle·`arm_ratio`/`diaphragm_area`; the area is the curtain or the port, whichever is smaller.
/// Boost settles where that is the area needed. Once the flap is wide open this is the creep line.
/// `arm_ratio` is the flap's arm over the rod's; 0 leaves the push out, and the band between with
/// and without it is what is known. 0 where the gate holds any boost down.
///
/// Balance of moments on the flap; areas and flows as in [`super::gate_area_needed`].
///
/// # Errors
/// Refuses a contact circle smaller than the port, pressures that don't rise from crack to wide
/// open, a boost that would lie above 4 bar, and what lies outside the ranges of
/// [`super::Engine`].
#[expect(clippy::too_many_arguments, reason = "a gate is that many measurements")]
pub fn held_boost(
    port_diameter: Length,
    contact_diameter: Length,
    lift: Length,
    cracks_at: GaugePressure,
    wide_open_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    matched: &MatchedEngine,
) -> Result<GaugePressure, Refusal> {
    let sizes = [port_diameter, contact_diameter, lift];
    let gate = Gate::checked(sizes, [cracks_at, wide_open_at], diaphragm_area, arm_ratio)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    result("held_boost", gate.holds(&bound, turbine_area)?)
}

/// Which of the lines holds the boost, where it isn't the actuator on its way.
#[expect(clippy::too_many_arguments, reason = "a gate is that many measurements")]
#[must_use]
pub fn held_boost_remarks(
    port_diameter: Length,
    contact_diameter: Length,
    lift: Length,
    cracks_at: GaugePressure,
    wide_open_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    matched: &MatchedEngine,
) -> Vec<String> {
    let told = || -> Result<Option<&'static str>, Refusal> {
        let sizes = [port_diameter, contact_diameter, lift];
        let gate = Gate::checked(sizes, [cracks_at, wide_open_at], diaphragm_area, arm_ratio)?;
        let (bound, turbine_area) = Bound::matched(matched)?;
        let boost = gate.holds(&bound, turbine_area)?;
        if boost == 0.0 {
            return Ok(Some("a gate of this size holds any boost down: it settles at 0"));
        }
        let open = gate.open_area(&bound, &bound.state(boost, turbine_area)?);
        Ok(if open == 0.0 {
            Some("the gate is still shut: the turbine makes no more than this")
        } else if open >= gate.wide_open_area() {
            Some("the gate passes all it can: its size holds this boost, not the actuator")
        } else {
            None
        })
    };
    told().ok().flatten().map(str::to_owned).into_iter().collect()
}

/// How far an actuator's line must lie above that of the bench for a boost to be held: `cracks_at` and
/// `wide_open_at` both raised by it give this boost in [`held_boost`]. Below 0 where it lies lower.
///
/// The fit of the actuator to one observation: the area that the boost needs gives the lift, and that
/// the pressure which lifts the flap so far.
///
/// # Errors
/// Refuses a boost at which the gate passes all it can (its size holds it, whatever the actuator's
/// line) or stays shut, and what [`held_boost`] refuses.
#[expect(clippy::too_many_arguments, reason = "a gate is that many measurements")]
pub fn actuator_line_shift(
    boost: GaugePressure,
    port_diameter: Length,
    contact_diameter: Length,
    lift: Length,
    cracks_at: GaugePressure,
    wide_open_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    matched: &MatchedEngine,
) -> Result<PressureDifference, Refusal> {
    let boost = checked_boost(boost)?;
    let sizes = [port_diameter, contact_diameter, lift];
    let gate = Gate::checked(sizes, [cracks_at, wide_open_at], diaphragm_area, arm_ratio)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    let state = bound.reached(boost, turbine_area)?;
    if state.gate_area <= 0.0 {
        let why = "is all that the turbine makes with the gate shut: no line explains it";
        return refuse::<GaugePressure, _>("boost", boost, why);
    }
    if state.gate_area >= gate.wide_open_area() {
        let why = "is held by a gate that passes all it can: no line of the actuator explains it";
        return refuse::<GaugePressure, _>("boost", boost, why);
    }
    // Below the whole port the area is the curtain, which rises in step with the lift.
    let share = state.gate_area / (std::f64::consts::PI * gate.port_diameter * gate.lift);
    let needed = gate.cracks_at + share * (gate.wide_open_at - gate.cracks_at);
    result("actuator_line_shift", gate.lifts_with(&bound, &state) - needed)
}

/// Boost at which the flap starts to lift on the running engine, where the gas helps: signal at the
/// compressor's outlet and push together reach the pressure at which the actuator cracks on the
/// bench. 0 where it stands open at any boost.
///
/// Balance of moments on the flap.
///
/// # Errors
/// Refuses a flap that stays shut up to 4 bar, and what lies outside the ranges of
/// [`super::Engine`].
pub fn opening_boost(
    contact_diameter: Length,
    cracks_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    matched: &MatchedEngine,
) -> Result<GaugePressure, Refusal> {
    let actuator = (contact_diameter, cracks_at, diaphragm_area, arm_ratio);
    lifted_at("opening_boost", actuator, matched, State::signal)
}

/// Boost at which the gas alone lifts the flap, with no signal in the canister: the highest boost
/// that a controller can hold. Pulses lift it earlier, at the mean pressures that the match knows.
///
/// Balance of moments on the flap.
///
/// # Errors
/// As [`opening_boost`].
pub fn blow_open_boost(
    contact_diameter: Length,
    cracks_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    matched: &MatchedEngine,
) -> Result<GaugePressure, Refusal> {
    let actuator = (contact_diameter, cracks_at, diaphragm_area, arm_ratio);
    lifted_at("blow_open_boost", actuator, matched, |_, _| 0.0)
}

/// The boost at which signal and push reach the crack pressure; both rise with boost.
fn lifted_at(
    what: &'static str,
    (contact_diameter, cracks_at, diaphragm_area, arm_ratio): (Length, GaugePressure, Area, f64),
    matched: &MatchedEngine,
    signal: impl Fn(&State, &Bound) -> f64,
) -> Result<GaugePressure, Refusal> {
    let contact = above_zero("contact_diameter", contact_diameter)?;
    let cracks_at = from_zero("cracks_at", cracks_at)?;
    let leverage = checked_leverage(contact, arm_ratio, diaphragm_area)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    let excess = |state: State| signal(&state, &bound) + state.across_flap() * leverage - cracks_at;
    let least = bound.state(0.0, turbine_area)?;
    if excess(least) >= 0.0 {
        return Ok(GaugePressure::from_si(0.0));
    }
    // Where no state exists, the pressure before the turbine has grown past all bounds.
    let excess = |state: Option<State>| state.map_or(f64::INFINITY, excess);
    let likely = 1.0 + cracks_at / bound.ambient;
    match bound.crossing(&least, likely, turbine_area, excess) {
        Crossing::At(state) => Ok(GaugePressure::from_si(state.charge.boost)),
        Crossing::Above => {
            let why = "would lie above 4 bar: nothing lifts the flap before";
            Err(Refusal::new(what, why).above(MOST_BOOST))
        }
        Crossing::Nowhere => Err(Refusal::new(what, "no boost up to 4 bar lifts the flap")),
    }
}
