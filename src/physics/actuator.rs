//! The actuator against the gas: what its spring holds shut, and where the exhaust's push opens it.
//!
//! `arm_ratio` is the flap's arm over the rod's arm; the push of the gas acts on the circle on which
//! the flap seats.

use super::Refusal;
use super::check::{above_zero, finite, from_zero, refuse, result, shown};
use super::circle::disc;
use crate::quantity::{
    Area, Force, GaugePressure, Length, PressureDifference, Quantity, Stiffness,
};

/// Pressure in the canister that a difference of one pascal across the flap stands for.
pub(super) fn leverage(contact_diameter: f64, arm_ratio: f64, diaphragm_area: f64) -> f64 {
    disc(contact_diameter) * arm_ratio / diaphragm_area
}

/// Change of the pressure at which an actuator cracks when its rod is shortened by turns of its
/// thread (lengthened: negative): turns·pitch·rate/area.
///
/// ```
/// # use boostwright::{physics::actuator::preload_change, quantity::{Quantity, si}};
/// // Two turns of 1 mm on a spring of 6 N/mm are 12 N, on 20 cm² 60 mbar.
/// let change = preload_change(2.0, si(1e-3), si(6e3), si(20e-4)).unwrap();
/// assert_eq!(change.si(), 6e3);
/// ```
///
/// # Errors
/// Refuses a pitch, rate or area that isn't above 0.
pub fn preload_change(
    turns: f64,
    thread_pitch: Length,
    spring_rate: Stiffness,
    diaphragm_area: Area,
) -> Result<PressureDifference, Refusal> {
    let travel = finite("turns", turns)? * above_zero("thread_pitch", thread_pitch)?;
    let rate = above_zero("spring_rate", spring_rate)?;
    result("preload_change", travel * rate / above_zero("diaphragm_area", diaphragm_area)?)
}

/// Force with which the preload holds the flap on its seat: cracks_at·area/arm_ratio.
///
/// ```
/// # use boostwright::{physics::actuator::closing_force, quantity::{Quantity, si}};
/// // 0.5 bar on 20 cm² are 100 N at the rod.
/// assert_eq!(closing_force(si(50e3), si(20e-4), 0.8).unwrap().si(), 125.0);
/// ```
///
/// # Errors
/// Refuses a negative crack pressure, an area or arm ratio that isn't above 0.
pub fn closing_force(
    cracks_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
) -> Result<Force, Refusal> {
    let preload =
        from_zero("cracks_at", cracks_at)? * above_zero("diaphragm_area", diaphragm_area)?;
    result("closing_force", preload / above_zero("arm_ratio", arm_ratio)?)
}

/// Mean pressure difference across the flap at which the gas lifts it without any signal, when the
/// pulses reach `pulsation` times their mean: closing force/(contact circle·pulsation).
///
/// ```
/// # use boostwright::{physics::actuator::blow_open_difference, quantity::si};
/// let lifts = |pulsation| blow_open_difference(si(50e3), si(20e-4), 0.8, si(28e-3), pulsation);
/// assert!(lifts(1.3).unwrap() < lifts(1.0).unwrap());
/// ```
///
/// # Errors
/// As [`closing_force`]; refuses a contact diameter that isn't above 0 and a pulsation below 1.
pub fn blow_open_difference(
    cracks_at: GaugePressure,
    diaphragm_area: Area,
    arm_ratio: f64,
    contact_diameter: Length,
    pulsation: f64,
) -> Result<PressureDifference, Refusal> {
    let force = closing_force(cracks_at, diaphragm_area, arm_ratio)?.si();
    let contact = disc(above_zero("contact_diameter", contact_diameter)?);
    let pulsation = finite("pulsation", pulsation)?;
    if pulsation < 1.0 {
        let why = "is below 1: a peak can't be below its mean";
        return refuse::<f64, _>("pulsation", pulsation, why);
    }
    result("blow_open_difference", force / (contact * pulsation))
}

/// Boost that a controller is to hold over what the spring holds alone, where that can be: a controller
/// bleeds the canister's signal away, so it only raises boost. At the spring's own boost it has
/// nothing to do.
///
/// ```
/// # use boostwright::{physics::actuator::raised_boost, quantity::{Quantity, si}};
/// assert_eq!(raised_boost(si(90e3), si(60e3)).unwrap().si(), 90e3);
/// assert!(raised_boost(si(50e3), si(60e3)).is_err());
/// ```
///
/// # Errors
/// Refuses a negative boost of the spring, and a boost below it.
pub fn raised_boost(boost: GaugePressure, spring: GaugePressure) -> Result<GaugePressure, Refusal> {
    let spring = from_zero("spring", spring)?;
    let raised = finite("boost", boost)?;
    if raised < spring {
        let held = shown(GaugePressure::KIND, spring);
        let why = format!(
            "is below the {held} that the spring holds, and a controller can only raise boost \
             above that"
        );
        return refuse::<GaugePressure, _>("boost", raised, why);
    }
    result("raised_boost", raised)
}

/// Pressure in the canister at which the flap starts to lift with a pressure difference across it:
/// cracks_at − difference·contact circle·arm_ratio/area. Negative: the gas opens it alone.
///
/// ```
/// # use boostwright::{physics::{actuator::opening_pressure, circle::circle_area}, quantity::{Quantity, si}};
/// // On a diaphragm as large as the contact circle the arms alone count.
/// let diaphragm = circle_area(si(40e-3)).unwrap();
/// let opens = opening_pressure(si(50e3), si(20e3), si(40e-3), 0.5, diaphragm).unwrap();
/// assert!((opens.si() - 40e3).abs() < 1e-6);
/// ```
///
/// # Errors
/// Refuses a negative crack pressure, difference or arm ratio, a contact diameter or area that
/// isn't above 0.
pub fn opening_pressure(
    cracks_at: GaugePressure,
    difference: PressureDifference,
    contact_diameter: Length,
    arm_ratio: f64,
    diaphragm_area: Area,
) -> Result<GaugePressure, Refusal> {
    let bench = from_zero("cracks_at", cracks_at)?;
    let contact = above_zero("contact_diameter", contact_diameter)?;
    let arm_ratio = from_zero("arm_ratio", arm_ratio)?;
    let leverage = leverage(contact, arm_ratio, above_zero("diaphragm_area", diaphragm_area)?);
    result("opening_pressure", bench - from_zero("difference", difference)? * leverage)
}
