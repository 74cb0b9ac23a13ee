//! Fuel: how much the air asks for, and what the injectors give.

use super::Refusal;
use super::check::{above_zero, from_zero, refuse, result, up_to};
use crate::quantity::{Density, MassFlow, PressureDifference, VolumeFlow};

/// Molar masses, g/mol (IUPAC standard atomic weights 2021, abridged).
const CARBON: f64 = 12.011;
const HYDROGEN: f64 = 1.008;
const OXYGEN: f64 = 15.999;
/// Molar mass of the air that brings one mole of oxygen: O₂ + 3.76 N₂.
const AIR: f64 = 2.0 * OXYGEN + 3.76 * 28.014;

/// Air–fuel ratio by mass at which a fuel of this many atoms burns completely in O₂ + 3.76 N₂.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 3.4 (there with nitrogen of 28.16 g/mol for
/// argon and the rest, which gives 0.7 % more).
///
/// ```
/// # use boostwright::physics::fuel::stoichiometric_ratio;
/// // Octane: 15.13 in Heywood, appendix D.
/// assert!((stoichiometric_ratio(8.0, 18.0, 0.0).unwrap() / 15.13 - 1.0).abs() < 0.01);
/// ```
///
/// # Errors
/// Refuses negative counts and a fuel that needs no oxygen.
pub fn stoichiometric_ratio(carbon: f64, hydrogen: f64, oxygen: f64) -> Result<f64, Refusal> {
    let carbon = from_zero("carbon", carbon)?;
    let hydrogen = from_zero("hydrogen", hydrogen)?;
    let oxygen = from_zero("oxygen", oxygen)?;
    let needed = carbon + hydrogen / 4.0 - oxygen / 2.0;
    if needed <= 0.0 {
        return refuse::<f64, _>(
            "oxygen",
            oxygen,
            "is all that the carbon and hydrogen could burn with",
        );
    }
    let fuel = CARBON * carbon + HYDROGEN * hydrogen + OXYGEN * oxygen;
    result("stoichiometric_ratio", needed * AIR / fuel)
}

/// Fuel that an air flow asks for at an air ratio: ṁ_a/(λ·AFR). No air gives 0.
///
/// Heywood, *Internal Combustion Engine Fundamentals*, 3.4 (definition of λ).
///
/// ```
/// # use boostwright::{physics::fuel::fuel_flow, quantity::{Quantity, si}};
/// assert!((fuel_flow(si(0.147), 0.8, 14.7).unwrap().si() - 0.0125).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses a negative flow, λ or a ratio that isn't above 0.
pub fn fuel_flow(
    air_flow: MassFlow,
    lambda: f64,
    stoichiometric_ratio: f64,
) -> Result<MassFlow, Refusal> {
    let air = from_zero("air_flow", air_flow)?;
    let lambda = above_zero("lambda", lambda)?;
    let ratio = above_zero("stoichiometric_ratio", stoichiometric_ratio)?;
    result("fuel_flow", air / (lambda * ratio))
}

/// Air ratio of an air flow with a fuel flow: what remains, for instance, when a bank of injectors
/// is cut.
///
/// ```
/// # use boostwright::{physics::fuel::lambda_of_flows, quantity::si};
/// assert!((lambda_of_flows(si(0.147), si(0.0125), 14.7).unwrap() - 0.8).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses a negative air flow, a fuel flow or ratio that isn't above 0.
pub fn lambda_of_flows(
    air_flow: MassFlow,
    fuel_flow: MassFlow,
    stoichiometric_ratio: f64,
) -> Result<f64, Refusal> {
    let air = from_zero("air_flow", air_flow)?;
    let fuel = above_zero("fuel_flow", fuel_flow)?;
    let ratio = above_zero("stoichiometric_ratio", stoichiometric_ratio)?;
    result("lambda_of_flows", air / fuel / ratio)
}

/// Flow of an injector held open at another pressure difference than it was rated at:
/// q·√(Δp/Δp_rated). The difference is rail less manifold.
///
/// Incompressible flow through an orifice (Heywood, *Internal Combustion Engine Fundamentals*,
/// 7.3.2).
///
/// ```
/// # use boostwright::{physics::fuel::injector_flow, quantity::{Quantity, si}};
/// // Four times the difference gives twice the flow.
/// assert_eq!(injector_flow(si(5e-6), si(1e5), si(4e5)).unwrap().si(), 10e-6);
/// ```
///
/// # Errors
/// Refuses a rated flow that isn't above 0, and no or a negative difference.
pub fn injector_flow(
    rated_flow: VolumeFlow,
    rated_difference: PressureDifference,
    difference: PressureDifference,
) -> Result<VolumeFlow, Refusal> {
    let flow = above_zero("rated_flow", rated_flow)?;
    let rated = above_zero("rated_difference", rated_difference)?;
    result("injector_flow", flow * (above_zero("difference", difference)? / rated).sqrt())
}

/// Share of the time that injectors must stay open for a fuel flow: ṁ/(ρ·n·q). Above 1 they can't
/// give it. No fuel gives 0.
///
/// ```
/// # use boostwright::{physics::{fuel::injector_duty, fuel::injected_fuel}, quantity::si};
/// let half = injected_fuel(4.0, si(5e-6), si(740.0), 0.5).unwrap();
/// assert!((injector_duty(half, 4.0, si(5e-6), si(740.0)).unwrap() - 0.5).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses a negative fuel flow, less than one injector, a flow or density that isn't above 0.
pub fn injector_duty(
    fuel_flow: MassFlow,
    injectors: f64,
    injector_flow: VolumeFlow,
    density: Density,
) -> Result<f64, Refusal> {
    let fuel = from_zero("fuel_flow", fuel_flow)?;
    let all = most_fuel(injectors, injector_flow, density)?;
    result("injector_duty", fuel / all)
}

/// Fuel that injectors give at a duty, ρ·n·q·duty.
///
/// ```
/// # use boostwright::{physics::fuel::injected_fuel, quantity::{Quantity, si}};
/// let most = injected_fuel(4.0, si(5e-6), si(740.0), 1.0).unwrap();
/// assert!((most.si() - 14.8e-3).abs() < 1e-15);
/// ```
///
/// # Errors
/// Refuses less than one injector, a flow or density that isn't above 0, a duty outside (0, 1].
pub fn injected_fuel(
    injectors: f64,
    injector_flow: VolumeFlow,
    density: Density,
    duty: f64,
) -> Result<MassFlow, Refusal> {
    let duty = up_to("duty", duty, 1.0)?;
    result("injected_fuel", most_fuel(injectors, injector_flow, density)? * duty)
}

fn most_fuel(injectors: f64, injector_flow: VolumeFlow, density: Density) -> Result<f64, Refusal> {
    let count = above_zero("injectors", injectors)?;
    if count < 1.0 {
        return refuse::<f64, _>("injectors", count, "is less than one injector");
    }
    Ok(count * above_zero("injector_flow", injector_flow)? * above_zero("density", density)?)
}
