//! Round holes and what a flap leaves open above them.

use super::Refusal;
use super::check::{above_zero, finite, from_zero, refuse, result};
use crate::quantity::{Angle, Area, Length};
use std::f64::consts::PI;

/// Area of a round hole, π·d²/4.
///
/// ```
/// # use boostwright::{physics::circle::circle_area, quantity::{Quantity, si}};
/// let area = circle_area(si(20e-3)).unwrap();
/// assert!((area.si() - std::f64::consts::PI * 1e-4).abs() < 1e-18);
/// ```
///
/// # Errors
/// Refuses a negative diameter.
pub fn circle_area(diameter: Length) -> Result<Area, Refusal> {
    let diameter = from_zero("diameter", diameter)?;
    result("circle_area", disc(diameter))
}

/// Area of a disc, m², from its diameter in m.
pub(super) fn disc(diameter: f64) -> f64 {
    PI / 4.0 * diameter * diameter
}

/// Diameter of the round hole of this area, √(4·A/π).
///
/// ```
/// # use boostwright::{physics::circle::circle_diameter, quantity::{Quantity, si}};
/// let bore = circle_diameter(si(std::f64::consts::PI * 1e-4)).unwrap();
/// assert!((bore.si() - 20e-3).abs() < 1e-17);
/// ```
///
/// # Errors
/// Refuses a negative area.
pub fn circle_diameter(area: Area) -> Result<Length, Refusal> {
    result("circle_diameter", (4.0 / PI * from_zero("area", area)?).sqrt())
}

/// The next size of a tool that is no smaller than a bore: the bore rounded up to whole steps, 0.5 mm
/// of drills and reamers, say.
///
/// ```
/// # use boostwright::{physics::circle::next_size, quantity::{Quantity, si}};
/// assert!((next_size(si(24.1e-3), si(0.5e-3)).unwrap().si() - 24.5e-3).abs() < 1e-12);
/// assert!((next_size(si(24.5e-3), si(0.5e-3)).unwrap().si() - 24.5e-3).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a negative diameter and a step that isn't above 0.
pub fn next_size(diameter: Length, step: Length) -> Result<Length, Refusal> {
    // A bore that is a whole number of steps but for the last digit is one.
    const LAST_DIGIT: f64 = 1e-9;
    let (diameter, step) = (from_zero("diameter", diameter)?, above_zero("step", step)?);
    result("next_size", (diameter / step - LAST_DIGIT).ceil().max(0.0) * step)
}

/// Sine of an angle.
///
/// ```
/// # use boostwright::{physics::circle::sine, quantity::si};
/// assert!((sine(si(std::f64::consts::FRAC_PI_6)).unwrap() - 0.5).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses what is no number.
pub fn sine(angle: Angle) -> Result<f64, Refusal> {
    result("sine", finite("angle", angle)?.sin())
}

/// Cosine of an angle.
///
/// ```
/// # use boostwright::{physics::circle::cosine, quantity::si};
/// assert!((cosine(si(std::f64::consts::FRAC_PI_3)).unwrap() - 0.5).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses what is no number.
pub fn cosine(angle: Angle) -> Result<f64, Refusal> {
    result("cosine", finite("angle", angle)?.cos())
}

/// Angle whose sine is this, from −90° to 90°.
///
/// ```
/// # use boostwright::{physics::circle::arcsine, quantity::Quantity};
/// assert!((arcsine(0.5).unwrap().si() - std::f64::consts::FRAC_PI_6).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses what lies outside −1 to 1.
pub fn arcsine(sine: f64) -> Result<Angle, Refusal> {
    let sine = finite("sine", sine)?;
    if sine.abs() > 1.0 {
        return refuse::<f64, _>("sine", sine, "is outside -1 to 1");
    }
    result("arcsine", sine.asin())
}

/// Cylinder between a round port and the flap or valve above it, π·d·h; for a hinged flap `lift`
/// is the mean over the rim. Past h = d/4 the port itself is smaller.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 6.3.2 (valve curtain area).
///
/// ```
/// # use boostwright::{physics::{circle::curtain_area, circle::circle_area}, quantity::{Quantity, si}};
/// let (curtain, port) = (curtain_area(si(24e-3), si(6e-3)), circle_area(si(24e-3)));
/// assert!((curtain.unwrap().si() - port.unwrap().si()).abs() < 1e-18);
/// ```
///
/// # Errors
/// Refuses a negative diameter or lift.
pub fn curtain_area(diameter: Length, lift: Length) -> Result<Area, Refusal> {
    let diameter = from_zero("diameter", diameter)?;
    result("curtain_area", PI * diameter * from_zero("lift", lift)?)
}

/// What a flap at this lift leaves open: the curtain or the port, whichever is smaller.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 6.3.2.
///
/// ```
/// # use boostwright::{physics::{circle::open_area, circle::circle_area}, quantity::si};
/// assert!(open_area(si(24e-3), si(5e-3)).unwrap() < circle_area(si(24e-3)).unwrap());
/// assert_eq!(open_area(si(24e-3), si(9e-3)), circle_area(si(24e-3)));
/// ```
///
/// # Errors
/// Refuses a negative diameter or lift.
pub fn open_area(port_diameter: Length, lift: Length) -> Result<Area, Refusal> {
    let diameter = from_zero("port_diameter", port_diameter)?;
    result("open_area", opened(diameter, from_zero("lift", lift)?))
}

/// Area in m² that a flap leaves open at `lift` over a port of `diameter`, both in m.
pub(super) fn opened(diameter: f64, lift: f64) -> f64 {
    (PI * diameter * lift).min(disc(diameter))
}
