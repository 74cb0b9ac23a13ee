//! Correction of a measured power to reference weather, for comparing one day with another.

use super::Refusal;
use super::check::within;
use crate::quantity::{AbsolutePressure, Quantity, Temperature};

/// What the power corrections take for weather: beyond this a reading is wrong, K and Pa.
const WEATHER: ((f64, f64), (f64, f64)) = ((220.0, 340.0), (40_000.0, 120_000.0));

fn weather(
    temperature: Temperature,
    dry_pressure: AbsolutePressure,
) -> Result<(f64, f64), Refusal> {
    let (temperatures, pressures) = WEATHER;
    let temperature = within("temperature", temperature, temperatures.0, temperatures.1)?;
    Ok((temperature, within("dry_pressure", dry_pressure, pressures.0, pressures.1)?))
}

/// Factor that brings a measured brake power to 25 °C and 99 kPa of dry air:
/// 1.180·(99 kPa/p_d)·√((t + 273)/298) − 0.180, t in °C.
///
/// SAE J1349 (June 1990), spark ignition, with its assumed mechanical efficiency of 0.85. Typed
/// from memory.
///
/// ```
/// # use boostwright::{physics::correction::power_correction_j1349, quantity::si};
/// // 1 in its reference weather.
/// assert!((power_correction_j1349(si(298.15), si(99e3)).unwrap() - 1.0).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a temperature outside 220 to 340 K and a dry pressure outside 40 to 120 kPa.
pub fn power_correction_j1349(
    temperature: Temperature,
    dry_pressure: AbsolutePressure,
) -> Result<f64, Refusal> {
    let (kelvin, pressure) = weather(temperature, dry_pressure)?;
    let ratio = ((kelvin - 0.15) / 298.0).sqrt();
    Ok(1.18 * (99_000.0 / pressure) * ratio - 0.18)
}

/// Factor that brings a measured power to 298 K and 99 kPa of dry air:
/// (99 kPa/p_d)^1.2·(T/298 K)^0.6.
///
/// ISO 1585:1992, 6.3.1, spark-ignition engines with or without boost. Typed from memory.
///
/// ```
/// # use boostwright::{physics::correction::power_correction_iso1585, quantity::si};
/// // 1 in its reference weather.
/// assert!((power_correction_iso1585(si(298.0), si(99e3)).unwrap() - 1.0).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a temperature outside 220 to 340 K and a dry pressure outside 40 to 120 kPa.
pub fn power_correction_iso1585(
    temperature: Temperature,
    dry_pressure: AbsolutePressure,
) -> Result<f64, Refusal> {
    let (kelvin, pressure) = weather(temperature, dry_pressure)?;
    Ok((99_000.0 / pressure).powf(1.2) * (kelvin / 298.0).powf(0.6))
}

/// A remark where the weather lies outside what the standards allow for a corrected test.
///
/// ```
/// # use boostwright::{physics::correction::correction_remarks, quantity::si};
/// assert!(correction_remarks(si(298.0), si(99e3)).is_empty());
/// assert_eq!(correction_remarks(si(268.0), si(99e3)).len(), 1);
/// ```
#[must_use]
pub fn correction_remarks(temperature: Temperature, dry_pressure: AbsolutePressure) -> Vec<String> {
    let within_test = (288.0..=308.5).contains(&temperature.si())
        && (90_000.0..=105_000.0).contains(&dry_pressure.si());
    if within_test {
        return Vec::new();
    }
    vec![
        "the weather is outside 15 to 35 °C and 90 to 105 kPa, the range of the correction"
            .to_owned(),
    ]
}
