//! The turbine: the expansion that drives a compressor, and how much cooler the gas leaves.

use super::Refusal;
use super::check::{above_zero, efficiency, finite, from_zero, refuse, result};
use super::nozzle::checked_gamma;
use crate::quantity::{MassFlow, Power, SpecificHeat, Temperature};

/// Share of the inlet's heat that an ideal expansion gives, 1 − (p_4/p_3)^((γ−1)/γ).
pub(super) fn ideal_share(expansion_ratio: f64, gamma: f64) -> f64 {
    // exp_m1 keeps the little work of a ratio near 1 exact; taken from 0, so that none isn't −0.
    0.0 - (-(gamma - 1.0) / gamma * expansion_ratio.ln()).exp_m1()
}

/// Expansion ratio p_3/p_4 (total to static) at which the turbine drives its compressor, from
/// η_m·η_t·ṁ·c_p·T_3·[1 − (p_4/p_3)^((γ−1)/γ)] = P. No power gives 1. An efficiency from a printed
/// turbine map usually holds the mechanical one: then give 1 for that.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, eq. 6.46 to 6.50.
///
/// ```
/// # use boostwright::{physics::{turbo::turbine_expansion_ratio, turbo::turbine_outlet_temperature}, quantity::{Quantity, si}};
/// // The power that a turbine takes from its gas gives back its expansion.
/// let (gas, hot, heat) = (1.06, 853.0, 1150.0);
/// let cool = turbine_outlet_temperature(si(hot), 1.8, 0.85, 1.33).unwrap().si();
/// let power = si(gas * heat * (hot - cool));
/// let ratio = turbine_expansion_ratio(power, si(gas), si(hot), 0.85, 1.0, si(heat), 1.33);
/// assert!((ratio.unwrap() - 1.8).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a power that even an expansion to vacuum would not give, a negative power, flows and
/// heat capacities that aren't above 0, efficiencies outside (0, 1], γ outside 1.001 to 2.
pub fn turbine_expansion_ratio(
    compressor_power: Power,
    gas_flow: MassFlow,
    gas_temperature: Temperature,
    turbine_efficiency: f64,
    mechanical_efficiency: f64,
    heat_capacity: SpecificHeat,
    gamma: f64,
) -> Result<f64, Refusal> {
    let power = from_zero("compressor_power", compressor_power)?;
    let heat = above_zero("gas_flow", gas_flow)?
        * above_zero("heat_capacity", heat_capacity)?
        * above_zero("gas_temperature", gas_temperature)?;
    let given = heat
        * efficiency("turbine_efficiency", turbine_efficiency)?
        * efficiency("mechanical_efficiency", mechanical_efficiency)?;
    let gamma = checked_gamma(gamma)?;
    let share = power / given;
    if share >= 1.0 {
        let why = "is more than this gas stream can give, even expanded to vacuum";
        return refuse::<Power, _>("compressor_power", power, why);
    }
    result("turbine_expansion_ratio", (-(-share).ln_1p() * gamma / (gamma - 1.0)).exp())
}

/// Temperature behind a turbine, T_3·{1 − η·[1 − (p_4/p_3)^((γ−1)/γ)]}.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, eq. 6.45.
///
/// ```
/// # use boostwright::{physics::turbo::turbine_outlet_temperature, quantity::{Quantity, si}};
/// // Nag, *Power Plant Engineering*, ex. 11.2: 580 °C becomes 482.26 °C.
/// let cool = turbine_outlet_temperature(si(853.0), 1.9 / 1.06, 0.85, 1.33).unwrap();
/// assert!((cool.si() - 273.0 - 482.26).abs() < 0.005);
/// ```
///
/// # Errors
/// Refuses 0 K and below, an expansion ratio below 1, an efficiency outside (0, 1], γ outside
/// 1.001 to 2.
pub fn turbine_outlet_temperature(
    inlet_temperature: Temperature,
    expansion_ratio: f64,
    efficiency: f64,
    gamma: f64,
) -> Result<Temperature, Refusal> {
    let inlet = above_zero("inlet_temperature", inlet_temperature)?;
    let ratio = finite("expansion_ratio", expansion_ratio)?;
    if ratio < 1.0 {
        return refuse::<f64, _>(
            "expansion_ratio",
            ratio,
            "is below 1: the gas would be compressed",
        );
    }
    let efficiency = super::check::efficiency("efficiency", efficiency)?;
    let gamma = checked_gamma(gamma)?;
    result("turbine_outlet_temperature", inlet * (1.0 - efficiency * ideal_share(ratio, gamma)))
}
