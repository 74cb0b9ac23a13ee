//! The standard atmosphere (ISO 2533:1975), geopotential altitude.

use super::Refusal;
use crate::quantity::{AbsolutePressure, Length, Quantity};

/// Pressure of the standard atmosphere at a geopotential altitude, −2 km to 11 km.
///
/// ISO 2533:1975, eq. (12): p = p_b·(1 + β·(H − H_b)/T_b)^(−g_n/(β·R)) with p_b 101 325 Pa,
/// T_b 288.15 K, β −6.5 K/km.
///
/// # Errors
/// Refuses an altitude outside the troposphere.
pub fn standard_pressure(altitude: Length) -> Result<AbsolutePressure, Refusal> {
    let height = altitude.si();
    if !(-2000.0..=11_000.0).contains(&height) {
        return Err(Refusal::new("altitude", format!("{height} m lies outside -2000 to 11000 m")));
    }
    let ratio: f64 = 1.0 - 0.0065 * height / 288.15;
    Ok(AbsolutePressure::from_si(101_325.0 * ratio.powf(9.806_65 / (0.0065 * 287.052_87))))
}
