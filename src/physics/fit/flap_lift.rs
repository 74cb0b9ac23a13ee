//! Where the flap starts to lift on the running engine: with the signal's help, and by the gas alone.

use super::super::Refusal;
use super::MatchedEngine;
use super::charge_side::MAX_BOOST_PA;
use super::checked_engine::{CheckedEngine, CheckedMatch};
use super::exhaust_side::State;
use super::gate::{CheckedFlap, Flap};
use super::settled::Crossing;
use crate::quantity::{GaugePressure, Quantity};

/// Boost at which the flap starts to lift on the running engine, where the gas helps: signal at the
/// compressor's outlet and push together reach the pressure at which the actuator cracks on the
/// bench. 0 where it stands open at any boost.
///
/// Balance of moments on the flap.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// # let flap = Flap { contact_diameter: si(28e-3), cracks_at: si(50e3), diaphragm_area: si(20e-4), arm_ratio: 0.85 };
/// let car = MatchedEngine::example();
/// // The gas helps: it opens before the signal alone would.
/// assert!(opening_boost(&flap, &car).unwrap() < flap.cracks_at);
/// ```
///
/// # Errors
/// Refuses a flap that stays shut up to 4 bar, and what lies outside the ranges of [`Flap`] and
/// [`super::Engine`].
pub fn opening_boost(flap: &Flap, matched: &MatchedEngine) -> Result<GaugePressure, Refusal> {
    lifted_at("opening_boost", flap, matched, State::signal_pa)
}

/// Boost at which the gas alone lifts the flap, with no signal in the canister: the highest boost
/// that a controller can hold. Pulses lift it earlier, at the mean pressures that the match knows.
///
/// Balance of moments on the flap.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// # let flap = Flap { contact_diameter: si(28e-3), cracks_at: si(50e3), diaphragm_area: si(20e-4), arm_ratio: 0.85 };
/// let car = MatchedEngine::example();
/// assert!(blow_open_boost(&flap, &car).unwrap() > opening_boost(&flap, &car).unwrap());
/// ```
///
/// # Errors
/// As [`opening_boost`].
pub fn blow_open_boost(flap: &Flap, matched: &MatchedEngine) -> Result<GaugePressure, Refusal> {
    lifted_at("blow_open_boost", flap, matched, |_, _| 0.0)
}

/// The boost at which signal and push reach the crack pressure; both rise with boost.
fn lifted_at(
    what: &'static str,
    flap: &Flap,
    matched: &MatchedEngine,
    signal_pa: impl Fn(&State, &CheckedEngine) -> f64,
) -> Result<GaugePressure, Refusal> {
    let flap = CheckedFlap::checked(flap)?;
    let matched = CheckedMatch::checked(matched)?;
    let excess = |state: State| {
        signal_pa(&state, &matched.engine) + flap.push_pa(&state) - flap.cracks_at_pa
    };
    let least = matched.state(0.0)?;
    if excess(least) >= 0.0 {
        return Ok(GaugePressure::from_si(0.0));
    }
    // Where no state exists, the pressure before the turbine has grown past all bounds.
    let excess = |state: Option<State>| state.map_or(f64::INFINITY, excess);
    let likely = 1.0 + flap.cracks_at_pa / matched.engine.ambient_pa;
    match matched.crossing(&least, likely, excess) {
        Crossing::At(state) => Ok(GaugePressure::from_si(state.charge.boost_pa)),
        Crossing::Above => {
            let why = "would be above 4 bar: nothing lifts the flap before that";
            Err(Refusal::new(what, why).above(MAX_BOOST_PA))
        }
        Crossing::NoState => Err(Refusal::new(what, "no boost up to 4 bar lifts the flap")),
    }
}
