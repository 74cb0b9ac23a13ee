//! Where boost settles: the creep line.

use std::cell::Cell;

use super::super::check::{from_zero, result};
use super::super::{Refusal, root};
use super::MatchedEngine;
use super::bound::Bound;
use super::charge_side::{ChargeSide, MOST_RATIO};
use super::exhaust_side::State;
use crate::quantity::{Area, GaugePressure, Quantity};

/// Where the search for a boost ends, Pa: 4 bar.
pub const MOST_BOOST: f64 = 400_000.0;
/// Pressure ratio, over that without boost, up to which a search looks first.
const USUAL_RATIO: f64 = 2.0;

/// Where a search over boost ends.
pub(super) enum Crossing {
    At(State),
    /// Beyond [`MOST_BOOST`].
    Above,
    /// At a jump, where no state exists.
    Nowhere,
}

impl Bound {
    /// The boost, Pa, at which the gate that it needs is the gate that is open at it. The area
    /// needed falls as boost rises and the open one doesn't, so there is one, or the gate holds
    /// any boost down (0), or none up to [`MOST_BOOST`] (refused in the name of `what`).
    pub(super) fn settled_boost(
        &self,
        what: &'static str,
        turbine_area: f64,
        open: impl Fn(&State) -> f64,
    ) -> Result<f64, Refusal> {
        if self.speed == 0.0 {
            return Ok(0.0);
        }
        let short = |state: State| state.gate_area - open(&state);
        let least = self.state(0.0, turbine_area)?;
        if short(least) <= 0.0 {
            return Ok(0.0);
        }
        // Where no state exists, boost is out of reach: its power grows past all bounds before.
        let shortfall = |state: Option<State>| state.map_or(f64::NEG_INFINITY, short);
        match self.crossing(&least, turbine_area, shortfall) {
            Crossing::At(state) => Ok(state.charge.boost),
            Crossing::Above => {
                let why = "would lie above 4 bar, where the search ends";
                Err(Refusal::new(what, why).above(MOST_BOOST))
            }
            Crossing::Nowhere => Err(Refusal::new(what, "no boost up to 4 bar balances this gate")),
        }
    }

    /// Where what changes its sign once between the state without boost and [`MOST_BOOST`] does so.
    pub(super) fn crossing(
        &self,
        least: &State,
        turbine_area: f64,
        height: impl Fn(Option<State>) -> f64,
    ) -> Crossing {
        // Each point looks for its expansion from that of the point before.
        let near = Cell::new(Some(least.expansion));
        let state = |charge: ChargeSide| {
            let state = self.state_of(&charge, turbine_area, near.get()).ok();
            if let Some(state) = &state {
                near.set(Some(state.expansion));
            }
            state
        };
        let at = |ratio: f64| height(state(self.charge_at(ratio)));
        let start = least.charge.ratio;
        // Most boosts lie under this, and its ratio needs no search.
        let usual = self.charge_at(USUAL_RATIO * start);
        let rises = height(Some(*least)) < 0.0;
        let beyond = |charge: ChargeSide| (height(state(charge)) > 0.0) != rises;
        let high = if usual.boost <= MOST_BOOST && !beyond(usual) {
            usual.ratio
        } else {
            // An inlet that is sucked empty before has passed all that boost can be.
            match self.charge_side(MOST_BOOST) {
                Ok(most) if beyond(most) => return Crossing::Above,
                Ok(most) => most.ratio,
                Err(_) => MOST_RATIO,
            }
        };
        root::bracketed(start, high, at)
            .and_then(|ratio| state(self.charge_at(ratio)))
            .map_or(Crossing::Nowhere, Crossing::At)
    }
}

/// Boost at which an engine settles with its gate wide open at this area: where [`gate_area_needed`]
/// is that area. Over engine speed it is the lowest boost that the gate can hold. 0 where the gate
/// holds any boost down.
///
/// [`gate_area_needed`]: super::gate_area_needed
///
/// # Errors
/// Refuses a negative area, a boost that would lie above 4 bar, and whatever lies outside the
/// ranges of [`super::Engine`].
pub fn creep_boost(port_area: Area, matched: &MatchedEngine) -> Result<GaugePressure, Refusal> {
    let open = from_zero("port_area", port_area)?;
    let (bound, turbine_area) = Bound::matched(matched)?;
    result("creep_boost", bound.settled_boost("creep_boost", turbine_area, |_| open)?)
}

/// A remark where the answer is no root but the end of the search.
#[must_use]
pub fn creep_boost_remarks(port_area: Area, matched: &MatchedEngine) -> Vec<String> {
    match creep_boost(port_area, matched) {
        Ok(boost) if boost.si() == 0.0 => {
            vec!["a gate of this size holds any boost down: it settles at 0".to_owned()]
        }
        _ => Vec::new(),
    }
}
