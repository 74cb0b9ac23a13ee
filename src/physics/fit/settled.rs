//! Where boost settles: the creep line.

use std::cell::Cell;

use super::super::check::{from_zero, result};
use super::super::{Refusal, root};
use super::MatchedEngine;
use super::charge_side::{ChargeSide, MAX_BOOST_PA, MAX_RATIO};
use super::checked_engine::CheckedMatch;
use super::exhaust_side::State;
use crate::quantity::{Area, GaugePressure, Quantity};

/// Pressure ratio, over that without boost, up to which a search looks first.
const USUAL_RATIO: f64 = 2.0;

/// Where a search over boost ends.
pub(super) enum Crossing {
    At(State),
    /// Beyond [`MAX_BOOST_PA`].
    Above,
    /// At a jump, where no state exists.
    NoState,
}

impl CheckedMatch {
    /// The boost, Pa, at which the engine settles behind a gate that stands open at an area: 0 where
    /// the gate holds any boost down; refused in the name of `what` beyond [`MAX_BOOST_PA`].
    fn boost_behind(&self, what: &'static str, open_m2: f64) -> Result<f64, Refusal> {
        if self.engine.speed_rev_s == 0.0 {
            return Ok(0.0);
        }
        self.settled_at(what, self.behind_gate(open_m2))
    }

    /// The boost of a state that [`Self::behind_gate`] gives.
    fn settled_at(&self, what: &'static str, state: Option<State>) -> Result<f64, Refusal> {
        match state.map(|state| state.charge.boost_pa) {
            Some(boost) if boost > MAX_BOOST_PA => Err(too_high(what)),
            Some(boost) if boost > 0.0 => Ok(boost),
            // Whether the engine runs without boost at all.
            Some(_) => self.state(0.0).map(|_| 0.0),
            None => Err(self.state(0.0).err().unwrap_or_else(|| no_balance(what))),
        }
    }

    /// The boost, Pa, at which the gate that it needs is the gate that is open at it, which is at
    /// most `wide_open_m2`, and hardly less from a signal of `wide_open_at_pa` on. The area needed falls as
    /// boost rises and the open one doesn't, so there is one, or it is as with
    /// [`Self::boost_behind`].
    pub(super) fn settled_boost(
        &self,
        what: &'static str,
        (wide_open_m2, wide_open_at_pa): (f64, f64),
        open: impl Fn(&State) -> f64,
    ) -> Result<f64, Refusal> {
        if self.engine.speed_rev_s == 0.0 {
            return Ok(0.0);
        }
        // No boost below this can stand, and this one does where it opens the gate wide.
        let creep = self.behind_gate(wide_open_m2);
        if creep.is_some_and(|creep| {
            creep.charge.boost_pa > MAX_BOOST_PA || open(&creep) >= wide_open_m2
        }) {
            return self.settled_at(what, creep);
        }
        let short = |state: State| state.gate_area_m2 - open(&state);
        let least = match creep.filter(|creep| creep.charge.boost_pa > 0.0) {
            Some(creep) => creep,
            None => self.state(0.0)?,
        };
        if short(least) <= 0.0 {
            return Ok(0.0);
        }
        // Where no state exists, boost is out of reach: its power grows past all bounds before.
        let shortfall = |state: Option<State>| state.map_or(f64::NEG_INFINITY, short);
        let likely = 1.0 + wide_open_at_pa / self.engine.ambient_pa;
        match self.crossing(&least, likely, shortfall) {
            Crossing::At(state) => Ok(state.charge.boost_pa),
            Crossing::Above => Err(too_high(what)),
            Crossing::NoState => Err(no_balance(what)),
        }
    }

    /// Where what changes its sign once between the state without boost and [`MAX_BOOST_PA`] does so.
    /// It is looked for under a pressure ratio that is `likely` enough first.
    pub(super) fn crossing(
        &self,
        least: &State,
        likely: f64,
        height: impl Fn(Option<State>) -> f64,
    ) -> Crossing {
        // Each point looks for its expansion from that of the point before.
        let near = Cell::new(Some(least.expansion));
        let state = |charge: ChargeSide| {
            let state = self.state_of(&charge, near.get()).ok();
            if let Some(state) = &state {
                near.set(Some(state.expansion));
            }
            state
        };
        let at = |ratio: f64| height(state(self.engine.charge_at(ratio)));
        let reached = |charge: ChargeSide| (charge.ratio, height(state(charge)));
        let mut low = (least.charge.ratio, height(Some(*least)));
        let rises = low.1 < 0.0;
        let beyond = |height: f64| (height > 0.0) != rises;
        // Most boosts lie under these, and their ratios need no search.
        let mut high = None;
        for ratio in [likely, USUAL_RATIO * least.charge.ratio] {
            let charge = self.engine.charge_at(ratio);
            if ratio <= low.0 || charge.boost_pa > MAX_BOOST_PA {
                continue;
            }
            let end = reached(charge);
            if !beyond(end.1) {
                high = Some(end);
                break;
            }
            low = end;
        }
        let high = match high {
            Some(high) => high,
            // An inlet that is sucked empty before has passed all that boost can be.
            None => match self.engine.charge_side(MAX_BOOST_PA).map(reached) {
                Ok((_, height)) if beyond(height) => return Crossing::Above,
                Ok(most) => most,
                Err(_) => reached(self.engine.charge_at(MAX_RATIO)),
            },
        };
        root::between(low, high, at)
            .and_then(|ratio| state(self.engine.charge_at(ratio)))
            .map_or(Crossing::NoState, Crossing::At)
    }
}

fn too_high(what: &'static str) -> Refusal {
    Refusal::new(what, "would be above 4 bar, where the search ends").above(MAX_BOOST_PA)
}

fn no_balance(what: &'static str) -> Refusal {
    Refusal::new(what, "no boost up to 4 bar balances this gate")
}

/// Boost at which an engine settles with its gate wide open at this area: where [`gate_area_needed`]
/// is that area. Over engine speed it is the lowest boost that the gate can hold. 0 where the gate
/// holds any boost down.
///
/// [`gate_area_needed`]: super::gate_area_needed
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::{Quantity, si}};
/// let car = MatchedEngine::example();
/// let boost = creep_boost(si(250e-6), &car).unwrap();
/// assert!((gate_area_needed(boost, &car).unwrap().si() - 250e-6).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a negative area, a boost that would lie above 4 bar, and whatever lies outside the
/// ranges of [`super::Engine`].
pub fn creep_boost(port_area: Area, matched: &MatchedEngine) -> Result<GaugePressure, Refusal> {
    let open = from_zero("port_area", port_area)?;
    let checked = CheckedMatch::checked(matched)?;
    result("creep_boost", checked.boost_behind("creep_boost", open)?)
}

/// A remark where the answer is no root but the end of the search.
///
/// ```
/// # use boostwright::{physics::fit::*, quantity::si};
/// let car = MatchedEngine::example();
/// assert!(creep_boost_remarks(si(250e-6), &car).is_empty());
/// assert_eq!(creep_boost_remarks(si(30e-4), &car).len(), 1);
/// ```
#[must_use]
pub fn creep_boost_remarks(port_area: Area, matched: &MatchedEngine) -> Vec<String> {
    match creep_boost(port_area, matched) {
        Ok(boost) if boost.si() == 0.0 => {
            vec!["a gate this size bypasses all the boost: it settles at 0".to_owned()]
        }
        _ => Vec::new(),
    }
}
