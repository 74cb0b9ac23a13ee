//! Where boost settles: the creep line.

use super::super::check::{from_zero, result};
use super::super::{Refusal, root};
use super::MatchedEngine;
use super::bound::Bound;
use super::exhaust_side::State;
use crate::quantity::{Area, GaugePressure, Quantity};

/// Where the search for a boost ends, Pa: 4 bar.
pub const MOST_BOOST: f64 = 400_000.0;

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
        if short(self.state(0.0, turbine_area)?) <= 0.0 {
            return Ok(0.0);
        }
        // Where no state exists, boost is out of reach: its power grows past all bounds before.
        let shortfall =
            |boost: f64| self.state(boost, turbine_area).map_or(f64::NEG_INFINITY, &short);
        if shortfall(MOST_BOOST) > 0.0 {
            return Err(Refusal::new(what, "would lie above 4 bar, where the search ends"));
        }
        root::bracketed(0.0, MOST_BOOST, shortfall)
            .filter(|boost| self.state(*boost, turbine_area).is_ok())
            .ok_or_else(|| Refusal::new(what, "no boost up to 4 bar balances this gate"))
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
