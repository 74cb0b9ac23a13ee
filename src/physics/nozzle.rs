//! Isentropic flow of a gas through a restriction.

use super::Refusal;
use super::check::{above_zero, from_zero, refuse, result, up_to};
use crate::quantity::{AbsolutePressure, Area, MassFlow, SpecificHeat, Temperature};

/// A gas as the nozzle sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gas {
    /// Ratio of the heat capacities, above 1.
    pub(super) gamma: f64,
    /// J/(kg K).
    pub(super) constant: f64,
}

impl Gas {
    /// Flow function ψ(p/p_0), so that the flux is p_0/√(R·T_0)·ψ; constant once choked.
    pub(super) fn flow_function(self, pressure_ratio: f64) -> f64 {
        let gamma = self.gamma;
        let ratio = pressure_ratio.max(critical(gamma));
        let logarithm = ratio.ln();
        // 1 − r^((γ−1)/γ) through exp_m1: exact for a ratio near 1, where the flow starts. Taken
        // from 0 and not negated: no flow must be 0, not −0, or an area divided by it turns round.
        let head = 0.0 - (logarithm * (gamma - 1.0) / gamma).exp_m1();
        (2.0 * gamma / (gamma - 1.0) * head).sqrt() * (logarithm / gamma).exp()
    }

    /// Mass flux into `back` out of a supply at `pressure` and `temperature`, kg/(s m²). All in
    /// SI, `back` not above `pressure`.
    pub(super) fn flux(self, pressure: f64, temperature: f64, back: f64) -> f64 {
        pressure / (self.constant * temperature).sqrt() * self.flow_function(back / pressure)
    }
}

fn critical(gamma: f64) -> f64 {
    (2.0 / (gamma + 1.0)).powf(gamma / (gamma - 1.0))
}

/// A ratio of heat capacities: above 1 (a gas of boundless degrees of freedom), at most 5/3 for a
/// real one; the little beyond is left to polytropic exponents.
pub(super) fn checked_gamma(gamma: f64) -> Result<f64, Refusal> {
    let gamma = up_to("gamma", gamma, 2.0)?;
    // Below this the exponents γ/(γ−1) lose their digits.
    if gamma < 1.001 {
        return refuse::<f64, _>("gamma", gamma, "is not above 1 (at least 1.001)");
    }
    Ok(gamma)
}

/// Back pressure over supply pressure at and below which the flow is choked,
/// (2/(γ+1))^(γ/(γ−1)).
///
/// NACA Report 1135, eq. (50) with M 1; Heywood, *Internal Combustion Engine Fundamentals*, C.10.
///
/// ```
/// # use boostwright::physics::nozzle::critical_pressure_ratio;
/// // NACA Report 1135, tables for γ 1.4: 0.5283.
/// assert!((critical_pressure_ratio(1.4).unwrap() - 0.5283).abs() < 5e-5);
/// ```
///
/// # Errors
/// Refuses γ outside 1.001 to 2.
pub fn critical_pressure_ratio(gamma: f64) -> Result<f64, Refusal> {
    Ok(critical(checked_gamma(gamma)?))
}

/// Isentropic flow through an effective area (discharge coefficient times opening), choked where
/// the back pressure is low enough. Equal pressures give 0.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, eq. C.8 and C.9; NACA Report 1135.
///
/// ```
/// # use boostwright::{physics::nozzle::nozzle_flow, quantity::{Quantity, si}};
/// // Fox and McDonald, *Introduction to Fluid Mechanics*, ex. 12.2: 2.20 kg/s.
/// let (area, air) = (si(10e-4), si(287.0));
/// let flow = nozzle_flow(area, si(1e6), si(333.0), si(591e3), 1.4, air).unwrap();
/// assert!((flow.si() - 2.20).abs() < 0.005);
/// ```
///
/// # Errors
/// Refuses a negative area, pressures below vacuum, a back pressure above the supply, 0 K and
/// below, γ outside 1.001 to 2, a gas constant that isn't above 0.
pub fn nozzle_flow(
    area: Area,
    pressure: AbsolutePressure,
    temperature: Temperature,
    back_pressure: AbsolutePressure,
    gamma: f64,
    gas_constant: SpecificHeat,
) -> Result<MassFlow, Refusal> {
    let area = from_zero("area", area)?;
    let (supply, back) = falling("pressure", pressure, "back_pressure", back_pressure)?;
    let temperature = above_zero("temperature", temperature)?;
    let gamma = checked_gamma(gamma)?;
    let constant = above_zero("gas_constant", gas_constant)?;
    result("nozzle_flow", area * Gas { gamma, constant }.flux(supply, temperature, back))
}

/// A supply and a back pressure that doesn't stand above it.
pub(super) fn falling(
    supply_name: &'static str,
    supply: AbsolutePressure,
    back_name: &'static str,
    back: AbsolutePressure,
) -> Result<(f64, f64), Refusal> {
    let supply = above_zero(supply_name, supply)?;
    let back = from_zero(back_name, back)?;
    if back > supply {
        let why = format!("is above the supply ({supply_name}): the flow would reverse");
        return refuse::<AbsolutePressure, _>(back_name, back, why);
    }
    Ok((supply, back))
}
