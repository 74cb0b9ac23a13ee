//! Burned petrol gas: what iso-octane in dry air leaves, and its heat capacity, γ and gas constant.
//!
//! Composition: CO₂, CO, H₂O, H₂ and O₂ in balance at 1740 K, where the reactions freeze on the way
//! to the turbine, at 1 atm (the pressure hardly matters); nitrogen and argon take no part.
//! Heat capacities: those of [`super::species`].

use std::sync::LazyLock;

use super::check::within;
use super::species::{self, Species};
use super::{Refusal, root};
use crate::quantity::{Quantity, SpecificHeat, Temperature};

/// J/(mol K), exact since 2019 (BIPM, SI brochure).
const GAS_CONSTANT: f64 = 8.314_462_618;
/// Where the composition freezes, K.
const FREEZING: f64 = 1740.0;
/// Moles of carbon, and of water when all hydrogen burns, in a mole of iso-octane, C₈H₁₈.
const CARBON: f64 = 8.0;
const WATER: f64 = 9.0;
/// Moles of nitrogen and of argon a mole of oxygen in dry air (ISO 2533:1975, table 2).
const NITROGEN: f64 = 78.084 / 20.9476;
const ARGON: f64 = 0.934 / 20.9476;

/// Where the gas tables hold.
const LAMBDAS: (f64, f64) = (0.8, 1.15);
/// K.
const TEMPERATURES: (f64, f64) = (300.0, 1500.0);

/// Moles of each species from a mole of fuel.
type Moles = [(f64, &'static Species); 7];

/// Constants of the balances CO₂ + H₂ = CO + H₂O and CO + ½ O₂ = CO₂ where the composition freezes.
static BALANCES: LazyLock<(f64, f64)> = LazyLock::new(|| {
    use species::{CARBON_DIOXIDE, CARBON_MONOXIDE, HYDROGEN, OXYGEN, WATER_VAPOUR};
    let constant = |change: f64| (-change).exp();
    let gibbs = |of: &Species| of.gibbs(FREEZING);
    let monoxide_and_water = gibbs(&CARBON_MONOXIDE) + gibbs(&WATER_VAPOUR);
    (
        constant(monoxide_and_water - gibbs(&CARBON_DIOXIDE) - gibbs(&HYDROGEN)),
        constant(gibbs(&CARBON_DIOXIDE) - gibbs(&CARBON_MONOXIDE) - gibbs(&OXYGEN) / 2.0),
    )
});

/// Composition at an air ratio that was checked, or `None` where no balance was found.
///
/// One unknown: the carbon monoxide. The water-gas balance then gives the hydrogen, CO + ½ O₂ = CO₂
/// the oxygen, and that must be what the oxygen atoms leave.
fn composition(lambda: f64) -> Option<Moles> {
    use species::{
        ARGON as AR, CARBON_DIOXIDE, CARBON_MONOXIDE, HYDROGEN, NITROGEN as N2, OXYGEN,
        WATER_VAPOUR,
    };
    let &(water_gas, burning) = &*BALANCES;
    let oxygen_needed = CARBON + WATER / 2.0;
    let (nitrogen, argon) = (lambda * oxygen_needed * NITROGEN, lambda * oxygen_needed * ARGON);

    let hydrogen = |monoxide: f64| WATER * monoxide / (water_gas * (CARBON - monoxide) + monoxide);
    let inert = nitrogen + argon;
    // The oxygen that holds the carbon monoxide where it is, x its mole fraction:
    // (C − CO)/CO = K·√(x·p). 1.01325 bar, since the polynomials' entropies are for 1 bar.
    let held = |monoxide: f64| {
        let fraction = ((CARBON - monoxide) / (monoxide * burning)).powi(2) / 1.013_25;
        fraction / (1.0 - fraction) * (CARBON + WATER + inert)
    };
    // The oxygen that the atoms leave.
    let left =
        |monoxide: f64| oxygen_needed * (lambda - 1.0) + (monoxide + hydrogen(monoxide)) / 2.0;
    // Where a tenth is oxygen, three times what is left at λ 1.15.
    let least = CARBON / (1.0 + burning * (0.1 * 1.013_25_f64).sqrt());
    // In rich gas hardly any is left. With none at all there would be a little less monoxide: with the
    // hydrogen as much as the lacking oxygen would burn, a quadratic.
    let lacking = 2.0 * oxygen_needed * (1.0 - lambda);
    let linear = WATER + water_gas * (CARBON + lacking) - lacking;
    let root = (linear * linear + 4.0 * (1.0 - water_gas) * water_gas * CARBON * lacking).sqrt();
    let from = least.max(2.0 * water_gas * CARBON * lacking / (linear + root));
    // What is left rises by half a mole a mole of monoxide at least, and what holds it falls.
    let to = CARBON.min(from + 2.0 * held(from));
    let monoxide = root::bracketed(from, to, |monoxide| left(monoxide) - held(monoxide))?;
    let hydrogen = hydrogen(monoxide);
    Some([
        (CARBON - monoxide, &CARBON_DIOXIDE),
        (monoxide, &CARBON_MONOXIDE),
        (WATER - hydrogen, &WATER_VAPOUR),
        (hydrogen, &HYDROGEN),
        (held(monoxide), &OXYGEN),
        (nitrogen, &N2),
        (argon, &AR),
    ])
}

fn checked_composition(lambda: f64) -> Result<Moles, Refusal> {
    let lambda = within("lambda", lambda, LAMBDAS.0, LAMBDAS.1)?;
    composition(lambda).ok_or_else(|| {
        Refusal::new("lambda", format!("{lambda} gives no balance of the burned gas"))
    })
}

fn constant_of(moles: &Moles) -> f64 {
    let all: f64 = moles.iter().map(|(amount, _)| amount).sum();
    let mass: f64 = moles.iter().map(|(amount, of)| amount * of.molar_mass / 1000.0).sum();
    all * GAS_CONSTANT / mass
}

/// The burned gas at a turbine's door.
#[derive(Debug, Clone, Copy)]
pub(super) struct BurnedGas {
    /// At constant pressure, J/(kg K).
    pub(super) heat_capacity: f64,
    pub(super) gamma: f64,
    /// J/(kg K).
    pub(super) constant: f64,
}

/// What λ makes of the gas; its heat goes with temperature.
#[derive(Clone, Copy)]
pub(super) struct Mixture {
    moles: Moles,
    all: f64,
    constant: f64,
}

impl Mixture {
    /// Refuses λ outside the tables.
    pub(super) fn of(lambda: f64) -> Result<Self, Refusal> {
        let moles = checked_composition(lambda)?;
        let all = moles.iter().map(|(amount, _)| amount).sum();
        Ok(Self { moles, all, constant: constant_of(&moles) })
    }

    /// The gas at a temperature, K, which the caller has checked.
    pub(super) fn at(&self, kelvin: f64) -> BurnedGas {
        let molar: f64 =
            self.moles.iter().map(|(amount, of)| amount * of.heat_capacity(kelvin)).sum();
        let constant = self.constant;
        let heat_capacity = molar / self.all * constant;
        BurnedGas { heat_capacity, gamma: heat_capacity / (heat_capacity - constant), constant }
    }
}

/// A temperature within the tables, K; `name` is what a refusal calls it.
pub(super) fn checked_temperature(
    name: &'static str,
    temperature: Temperature,
) -> Result<f64, Refusal> {
    within(name, temperature, TEMPERATURES.0, TEMPERATURES.1)
}

/// Heat capacity of burned petrol gas at constant pressure; λ 0.8 to 1.15, 300 to 1500 K.
///
/// NASA/TP-2002-211556; composition as the module's head says.
///
/// ```
/// # use boostwright::{physics::burned::burned_gas_heat_capacity, quantity::si};
/// let heat_capacity = |kelvin| burned_gas_heat_capacity(1.0, si(kelvin)).unwrap();
/// assert!(heat_capacity(1200.0) > heat_capacity(600.0));
/// ```
///
/// # Errors
/// Refuses λ or a temperature outside the tables.
pub fn burned_gas_heat_capacity(
    lambda: f64,
    temperature: Temperature,
) -> Result<SpecificHeat, Refusal> {
    let gas = Mixture::of(lambda)?.at(checked_temperature("temperature", temperature)?);
    Ok(SpecificHeat::from_si(gas.heat_capacity))
}

/// Ratio of the heat capacities of burned petrol gas; see [`burned_gas_heat_capacity`].
///
/// ```
/// # use boostwright::{physics::burned::*, quantity::{Quantity, si}};
/// let heat_capacity = burned_gas_heat_capacity(0.9, si(1e3)).unwrap().si();
/// let constant = burned_gas_constant(0.9).unwrap().si();
/// let gamma = burned_gas_gamma(0.9, si(1e3)).unwrap();
/// assert!((gamma - heat_capacity / (heat_capacity - constant)).abs() < 1e-12);
/// ```
///
/// # Errors
/// Refuses λ or a temperature outside the tables.
pub fn burned_gas_gamma(lambda: f64, temperature: Temperature) -> Result<f64, Refusal> {
    Ok(Mixture::of(lambda)?.at(checked_temperature("temperature", temperature)?).gamma)
}

/// Gas constant of burned petrol gas; see [`burned_gas_heat_capacity`].
///
/// ```
/// # use boostwright::physics::burned::burned_gas_constant;
/// // Rich gas is lighter, for its hydrogen and carbon monoxide.
/// assert!(burned_gas_constant(0.85).unwrap() > burned_gas_constant(1.0).unwrap());
/// ```
///
/// # Errors
/// Refuses λ outside 0.8 to 1.15.
pub fn burned_gas_constant(lambda: f64) -> Result<SpecificHeat, Refusal> {
    Ok(SpecificHeat::from_si(constant_of(&checked_composition(lambda)?)))
}
