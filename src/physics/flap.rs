//! The flap as a mechanical part: how far it swings, how it seats, how it grows when hot.

use super::Refusal;
use super::check::{above_zero, from_zero, refuse, result, within};
use crate::quantity::{Expansion, Length, Temperature};

/// Mean expansion coefficients of solids stay below this, 1/K; a handbook's 17e-6 typed as 17
/// doesn't.
const MAX_EXPANSION_PER_K: f64 = 1e-3;

/// Mean lift of a hinged flap from the travel of its rod: a·sin θ with sin(θ/2) = travel/(2·b), a
/// the flap's arm to its centre, b the rod's arm. The rod is taken as square to its arm at half
/// travel.
///
/// ```
/// # use boostwright::{physics::flap::flap_lift_from, quantity::{Quantity, si}};
/// // Common practice for arms of 28 and 22 mm: 4.8 mm of rod lift the flap by 15/4 mm.
/// let lift = flap_lift_from(si(4.8e-3), si(28e-3), si(22e-3)).unwrap();
/// assert!((lift.si() - 3.75e-3).abs() < 0.05e-3);
/// ```
///
/// # Errors
/// Refuses a negative travel, arms that aren't above 0, a swing beyond 90°.
pub fn flap_lift_from(
    rod_travel: Length,
    rod_arm: Length,
    flap_arm: Length,
) -> Result<Length, Refusal> {
    let travel = from_zero("rod_travel", rod_travel)?;
    let half = travel / (2.0 * above_zero("rod_arm", rod_arm)?);
    let arm = above_zero("flap_arm", flap_arm)?;
    // sin 45°: at a swing of 90° the flap stands upright and more travel lifts it no further.
    if half > std::f64::consts::FRAC_1_SQRT_2 {
        return refuse::<Length, _>("rod_travel", travel, "would swing the arm beyond 90°");
    }
    // sin θ = 2·sin(θ/2)·cos(θ/2).
    result("flap_lift_from", arm * 2.0 * half * ((1.0 - half) * (1.0 + half)).sqrt())
}

/// Rod travel that gives a flap its mean lift; [`flap_lift_from`] turned round.
///
/// ```
/// # use boostwright::{physics::flap::rod_travel_for, quantity::{Quantity, si}};
/// // Common practice for arms of 22 and 28 mm: a lift of 15/4 mm needs 4.8 mm of rod.
/// let travel = rod_travel_for(si(3.75e-3), si(22e-3), si(28e-3)).unwrap();
/// assert!((travel.si() - 4.8e-3).abs() < 0.05e-3);
/// ```
///
/// # Errors
/// Refuses a negative lift, one beyond the flap's arm, arms that aren't above 0.
pub fn rod_travel_for(lift: Length, flap_arm: Length, rod_arm: Length) -> Result<Length, Refusal> {
    let lift = from_zero("lift", lift)?;
    let sine = lift / above_zero("flap_arm", flap_arm)?;
    let arm = above_zero("rod_arm", rod_arm)?;
    if sine > 1.0 {
        return refuse::<Length, _>("lift", lift, "is more than the flap's arm can give");
    }
    result("rod_travel_for", 2.0 * arm * (sine.asin() / 2.0).sin())
}

/// Land on which a flap seats, all round: half of what it is wider than the port, less its side
/// play. A negative land is a flap that can drop into its port.
///
/// ```
/// # use boostwright::{physics::flap::seat_land, quantity::{Quantity, si}};
/// let land = seat_land(si(34e-3), si(28e-3), si(0.5e-3)).unwrap();
/// assert!((land.si() - 2.5e-3).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses diameters that aren't above 0 and a negative side play.
pub fn seat_land(
    flap_diameter: Length,
    port_diameter: Length,
    side_play: Length,
) -> Result<Length, Refusal> {
    let flap = above_zero("flap_diameter", flap_diameter)?;
    let port = above_zero("port_diameter", port_diameter)?;
    result("seat_land", (flap - port) / 2.0 - from_zero("side_play", side_play)?)
}

/// Size of a part at another temperature, L·(1 + α·(to − from)), with the mean coefficient between
/// the two.
///
/// Definition of the mean coefficient of linear expansion; a handbook's values hold from about
/// 20 °C to the temperature they name.
///
/// ```
/// # use boostwright::{physics::flap::hot_size, quantity::{Quantity, si}};
/// // 304 steel from 20 to 850 °C, mean coefficient of typical handbooks.
/// let hot = hot_size(si(28e-3), si(19.5e-6), si(293.15), si(1123.15)).unwrap();
/// assert!((hot.si() - 28.453e-3).abs() < 0.001e-3);
/// ```
///
/// # Errors
/// Refuses a size that isn't above 0, a coefficient outside 0 to 0.001 1/K, 0 K and below, a
/// result that isn't above 0.
pub fn hot_size(
    size: Length,
    expansion: Expansion,
    from: Temperature,
    to: Temperature,
) -> Result<Length, Refusal> {
    let size = above_zero("size", size)?;
    let expansion = within("expansion", expansion, 0.0, MAX_EXPANSION_PER_K)?;
    let rise = above_zero("to", to)? - above_zero("from", from)?;
    let hot = size * (1.0 + expansion * rise);
    if hot <= 0.0 {
        return refuse::<Expansion, _>("expansion", expansion, "would shrink the part to nothing");
    }
    result("hot_size", hot)
}

/// Clearance all round a hot flap in its hot pocket, half the difference of their diameters.
/// Negative: it binds.
///
/// ```
/// # use boostwright::{physics::flap::hot_clearance, quantity::{Quantity, si}};
/// // Cold 1 mm; the flap of steel grows more than its pocket of iron.
/// let (pocket, flap, cold) = (si(13.5e-6), si(19.5e-6), si(293.15));
/// let left = hot_clearance(si(30e-3), pocket, si(1023.15), si(28e-3), flap, si(1123.15), cold);
/// assert!((0.9e-3..1.0e-3).contains(&left.unwrap().si()));
/// ```
///
/// # Errors
/// As [`hot_size`], for flap and pocket.
pub fn hot_clearance(
    pocket_diameter: Length,
    pocket_expansion: Expansion,
    pocket_temperature: Temperature,
    flap_diameter: Length,
    flap_expansion: Expansion,
    flap_temperature: Temperature,
    cold: Temperature,
) -> Result<Length, Refusal> {
    let grown = |names: [&'static str; 3], size: Length, expansion: Expansion, hot: Temperature| {
        let size = above_zero(names[0], size)?;
        let expansion = within(names[1], expansion, 0.0, MAX_EXPANSION_PER_K)?;
        let rise = above_zero(names[2], hot)? - above_zero("cold", cold)?;
        Ok(size * (1.0 + expansion * rise))
    };
    let pocket = grown(
        ["pocket_diameter", "pocket_expansion", "pocket_temperature"],
        pocket_diameter,
        pocket_expansion,
        pocket_temperature,
    )?;
    let flap = grown(
        ["flap_diameter", "flap_expansion", "flap_temperature"],
        flap_diameter,
        flap_expansion,
        flap_temperature,
    )?;
    result("hot_clearance", (pocket - flap) / 2.0)
}
