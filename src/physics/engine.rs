//! The engine as a pump and as a source of power.

use super::check::{above_zero, finite, from_zero, result, up_to};
use super::{Refusal, gas};
use crate::quantity::{
    AbsolutePressure, Length, MassFlow, Power, Rotation, Speed, Temperature, Torque, Volume,
};
use std::f64::consts::PI;

/// Highest volumetric efficiency that is taken for meant: tuned intakes reach about 1.25, and
/// textbooks refer a boosted engine's to ambient density.
pub(super) const MAX_VOLUMETRIC_EFFICIENCY: f64 = 2.0;

/// Air that an engine takes in, η_v·p/(R·T)·V·n. `volume_per_turn` is the volume taken in a turn
/// of the crankshaft: half the displacement of a four-stroke, one chamber a rotor of a rotary.
/// The efficiency is referred to the density at `pressure` and `temperature`, the manifold's.
/// Standing still gives 0.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, eq. 2.27.
///
/// ```
/// # use boostwright::{physics::engine::engine_air_flow, quantity::{Quantity, si}};
/// // Gupta, *Fundamentals of Internal Combustion Engines*, ex. 15.4: 551.5 kg/h, with R 287.
/// let volume = 2.0 * std::f64::consts::PI / 4.0 * 0.1 * 0.1 * 0.12;
/// let air = engine_air_flow(si(volume), si(50.0), 0.9, si(1.7e5), si(328.0)).unwrap();
/// assert!((air.si() * 3600.0 - 551.5).abs() < 0.2);
/// ```
///
/// # Errors
/// Refuses a negative volume or speed, a volumetric efficiency outside (0, 2], a pressure below
/// vacuum, 0 K and below.
pub fn engine_air_flow(
    volume_per_turn: Volume,
    speed: Rotation,
    volumetric_efficiency: f64,
    pressure: AbsolutePressure,
    temperature: Temperature,
) -> Result<MassFlow, Refusal> {
    let volume = from_zero("volume_per_turn", volume_per_turn)?;
    let speed = from_zero("speed", speed)?;
    let efficiency =
        up_to("volumetric_efficiency", volumetric_efficiency, MAX_VOLUMETRIC_EFFICIENCY)?;
    let pressure = from_zero("pressure", pressure)?;
    let temperature = above_zero("temperature", temperature)?;
    let density = pressure / (gas::AIR_CONSTANT * temperature);
    result("engine_air_flow", efficiency * density * volume * speed)
}

/// Swept volume of one chamber of a rotary engine, 3√3·e·R·b.
///
/// K. Yamamoto, *Rotary Engine* (Sankaido, 1981), chapter 2.
///
/// ```
/// # use boostwright::{physics::engine::rotary_chamber_volume, quantity::{Quantity, si}};
/// // K. Yamamoto, *Rotary Engine*: 654.7 cm³.
/// let chamber = rotary_chamber_volume(si(15e-3), si(105e-3), si(80e-3)).unwrap();
/// assert!((chamber.si() - 654.7e-6).abs() < 0.05e-6);
/// ```
///
/// # Errors
/// Refuses lengths that aren't above 0.
pub fn rotary_chamber_volume(
    eccentricity: Length,
    generating_radius: Length,
    width: Length,
) -> Result<Volume, Refusal> {
    let eccentricity = above_zero("eccentricity", eccentricity)?;
    let radius = above_zero("generating_radius", generating_radius)?;
    let width = above_zero("width", width)?;
    result("rotary_chamber_volume", 3.0 * 3f64.sqrt() * eccentricity * radius * width)
}

/// Power at a shaft, 2π·M·n. A negative torque is a shaft that is driven.
///
/// ```
/// # use boostwright::{physics::engine::shaft_power, quantity::{Quantity, si}};
/// let power = shaft_power(si(100.0), si(50.0)).unwrap();
/// assert!((power.si() - 10e3 * std::f64::consts::PI).abs() < 1e-9);
/// ```
///
/// # Errors
/// Refuses a negative speed.
pub fn shaft_power(torque: Torque, speed: Rotation) -> Result<Power, Refusal> {
    let torque = finite("torque", torque)?;
    result("shaft_power", 2.0 * PI * torque * from_zero("speed", speed)?)
}

/// Road speed at an engine speed in a gear: n·circumference/(gear ratio·final drive). Slip of
/// tyre and clutch is left out.
///
/// ```
/// # use boostwright::{physics::engine::road_speed, quantity::{Quantity, si}};
/// assert_eq!(road_speed(si(50.0), 1.0, 4.0, si(2.0)).unwrap().si(), 25.0);
/// ```
///
/// # Errors
/// Refuses a negative speed, and ratios or a circumference that aren't above 0.
pub fn road_speed(
    speed: Rotation,
    gear_ratio: f64,
    final_drive: f64,
    tyre_circumference: Length,
) -> Result<Speed, Refusal> {
    let speed = from_zero("speed", speed)?;
    let ratio = above_zero("gear_ratio", gear_ratio)? * above_zero("final_drive", final_drive)?;
    result("road_speed", speed / ratio * above_zero("tyre_circumference", tyre_circumference)?)
}
