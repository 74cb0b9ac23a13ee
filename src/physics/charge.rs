//! The charge side: what the compressor does to the air, what it costs, what the cooler takes back.

use super::check::{above_zero, compression, efficiency, result, within};
use super::{Refusal, gas};
use crate::quantity::{Quantity, SpecificEnergy, Temperature};

/// Rise of temperature over inlet temperature for a compressor: ((p_2/p_1)^((γ−1)/γ) − 1)/η.
pub(super) fn relative_rise(pressure_ratio: f64, efficiency: f64) -> f64 {
    let exponent = (gas::AIR_GAMMA - 1.0) / gas::AIR_GAMMA;
    // exp_m1 keeps the small rise of a ratio near 1 exact.
    (exponent * pressure_ratio.ln()).exp_m1() / efficiency
}

/// Pressure ratio at which a compressor heats its air by this share of its inlet temperature:
/// [`relative_rise`] turned round.
pub(super) fn ratio_of_rise(relative_rise: f64, efficiency: f64) -> f64 {
    (1.0 + efficiency * relative_rise).powf(gas::AIR_GAMMA / (gas::AIR_GAMMA - 1.0))
}

fn checked_rise(
    inlet_temperature: Temperature,
    pressure_ratio: f64,
    compressor_efficiency: f64,
) -> Result<(f64, f64), Refusal> {
    let inlet = above_zero("inlet_temperature", inlet_temperature)?;
    let ratio = compression("pressure_ratio", pressure_ratio)?;
    let efficiency = efficiency("efficiency", compressor_efficiency)?;
    Ok((inlet, inlet * relative_rise(ratio, efficiency)))
}

/// Temperature behind a compressor, T_2 = T_1·[1 + ((p_2/p_1)^((γ−1)/γ) − 1)/η_c], with the
/// total-to-total isentropic efficiency, γ 1.4.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 6.8.
///
/// ```
/// # use boostwright::{physics::charge::compressor_outlet_temperature, quantity::{Quantity, si}};
/// // Gupta, *Fundamentals of Internal Combustion Engines*, ex. 15.6: 17 °C becomes 86 °C.
/// let hot = compressor_outlet_temperature(si(290.0), 1.8 / 0.98, 0.80).unwrap();
/// assert!((hot.si() - 273.0 - 86.0).abs() < 0.5);
/// ```
///
/// # Errors
/// Refuses 0 K and below, a pressure ratio below 1, an efficiency outside (0, 1].
pub fn compressor_outlet_temperature(
    inlet_temperature: Temperature,
    pressure_ratio: f64,
    efficiency: f64,
) -> Result<Temperature, Refusal> {
    let (inlet, rise) = checked_rise(inlet_temperature, pressure_ratio, efficiency)?;
    result("compressor_outlet_temperature", inlet + rise)
}

/// Work that a compressor puts into a kilogram of air, c_p·(T_2 − T_1) with c_p 1005 J/(kg K);
/// see [`compressor_outlet_temperature`].
///
/// ```
/// # use boostwright::{physics::{charge::compressor_work, charge::compressor_outlet_temperature}, quantity::{Quantity, si}};
/// let hot = compressor_outlet_temperature(si(290.0), 1.8, 0.9).unwrap();
/// let work = compressor_work(si(290.0), 1.8, 0.9).unwrap();
/// assert!((work.si() - 1005.0 * (hot.si() - 290.0)).abs() < 1e-6);
/// ```
///
/// # Errors
/// As [`compressor_outlet_temperature`].
pub fn compressor_work(
    inlet_temperature: Temperature,
    pressure_ratio: f64,
    efficiency: f64,
) -> Result<SpecificEnergy, Refusal> {
    let (_, rise) = checked_rise(inlet_temperature, pressure_ratio, efficiency)?;
    result("compressor_work", gas::AIR_HEAT_CAPACITY * rise)
}

/// Temperature behind a charge cooler, T_2 − ε·(T_2 − T_coolant): the definition of the
/// effectiveness, with the air as the weaker stream (Kays and London, *Compact Heat Exchangers*).
///
/// ```
/// # use boostwright::{physics::charge::cooler_outlet_temperature, quantity::{Quantity, si}};
/// assert_eq!(cooler_outlet_temperature(si(380.0), si(300.0), 0.75).unwrap().si(), 320.0);
/// ```
///
/// # Errors
/// Refuses 0 K and below and an effectiveness outside [0, 1].
pub fn cooler_outlet_temperature(
    inlet_temperature: Temperature,
    coolant_temperature: Temperature,
    effectiveness: f64,
) -> Result<Temperature, Refusal> {
    let inlet = above_zero("inlet_temperature", inlet_temperature)?;
    let coolant = above_zero("coolant_temperature", coolant_temperature)?;
    let effectiveness = within("effectiveness", effectiveness, 0.0, 1.0)?;
    Ok(Temperature::from_si(inlet - effectiveness * (inlet - coolant)))
}
