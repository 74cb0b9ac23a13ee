//! Burned petrol gas: what iso-octane in dry air leaves, and its heat capacity, γ and gas constant.
//!
//! Composition: CO₂, CO, H₂O, H₂ and O₂ in balance at 1740 K, where the reactions freeze on the way
//! to the turbine, at 1 atm (the pressure hardly matters); nitrogen and argon take no part.
//! Heat capacities: NASA nine-coefficient polynomials (McBride, Zehe and Gordon,
//! NASA/TP-2002-211556), typed from memory; the tests hold them against the enthalpies of formation
//! and entropies printed there, and against another library's polynomials.

use std::sync::LazyLock;

use super::check::within;
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

/// Polynomial of one species: seven coefficients of c_p/R in T⁻² to T⁴, then the constants of
/// integration of enthalpy and entropy.
type Polynomial = [f64; 9];

struct Species {
    /// g/mol (IUPAC standard atomic weights).
    molar_mass: f64,
    /// 200 to 1000 K.
    cool: Polynomial,
    /// 1000 to 6000 K.
    hot: Polynomial,
}

#[rustfmt::skip]
mod species {
    use super::Species;

    pub(super) const CARBON_DIOXIDE: Species = Species {
        molar_mass: 44.009,
        cool: [49_436.505_4, -626.411_601, 5.301_725_24, 2.503_813_816e-3, -2.127_308_728e-7,
            -7.689_988_78e-10, 2.849_677_801e-13, -45_281.984_6, -7.048_279_44],
        hot: [117_696.241_9, -1_788.791_477, 8.291_523_19, -9.223_156_78e-5, 4.863_676_88e-9,
            -1.891_053_312e-12, 6.330_036_59e-16, -39_083.505_9, -26.526_692_81],
    };
    pub(super) const CARBON_MONOXIDE: Species = Species {
        molar_mass: 28.010,
        cool: [14_890.453_26, -292.228_593_9, 5.724_527_17, -8.176_235_03e-3, 1.456_903_469e-5,
            -1.087_746_302e-8, 3.027_941_827e-12, -13_031.318_78, -7.859_241_35],
        hot: [461_919.725, -1_944.704_863, 5.916_714_18, -5.664_282_83e-4, 1.398_814_54e-7,
            -1.787_680_361e-11, 9.620_935_57e-16, -2_466.261_084, -13.874_131_08],
    };
    pub(super) const WATER_VAPOUR: Species = Species {
        molar_mass: 18.015,
        cool: [-39_479.608_3, 575.573_102, 0.931_782_653, 7.222_712_86e-3, -7.342_557_37e-6,
            4.955_043_49e-9, -1.336_933_246e-12, -33_039.743_1, 17.242_057_75],
        hot: [1_034_972.096, -2_412.698_562, 4.646_110_78, 2.291_998_307e-3, -6.836_830_48e-7,
            9.426_468_93e-11, -4.822_380_53e-15, -13_842.865_09, -7.978_148_51],
    };
    pub(super) const HYDROGEN: Species = Species {
        molar_mass: 2.016,
        cool: [40_783.232_1, -800.918_604, 8.214_702_01, -1.269_714_457e-2, 1.753_605_076e-5,
            -1.202_860_27e-8, 3.368_093_49e-12, 2_682.484_665, -30.437_888_44],
        hot: [560_812.801, -837.150_474, 2.975_364_532, 1.252_249_124e-3, -3.740_716_19e-7,
            5.936_625_2e-11, -3.606_994_1e-15, 5_339.824_41, -2.202_774_769],
    };
    pub(super) const OXYGEN: Species = Species {
        molar_mass: 31.998,
        cool: [-34_255.634_2, 484.700_097, 1.119_010_961, 4.293_889_24e-3, -6.836_300_52e-7,
            -2.023_372_7e-9, 1.039_040_018e-12, -3_391.454_87, 18.496_994_7],
        hot: [-1_037_939.022, 2_344.830_282, 1.819_732_036, 1.267_847_582e-3, -2.188_067_988e-7,
            2.053_719_572e-11, -8.193_467_05e-16, -16_890.109_29, 17.387_165_06],
    };
    pub(super) const NITROGEN: Species = Species {
        molar_mass: 28.014,
        cool: [22_103.714_97, -381.846_182, 6.082_738_36, -8.530_914_41e-3, 1.384_646_189e-5,
            -9.625_793_62e-9, 2.519_705_809e-12, 710.846_086, -10.760_037_44],
        hot: [587_712.406, -2_239.249_073, 6.066_949_22, -6.139_685_5e-4, 1.491_806_679e-7,
            -1.923_105_485e-11, 1.061_954_386e-15, 12_832.104_15, -15.866_400_27],
    };
    pub(super) const ARGON: Species = Species {
        molar_mass: 39.948,
        cool: [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.379_674_91],
        hot: [0.0, 0.0, 2.5, 0.0, 0.0, 0.0, 0.0, -745.375, 4.379_674_91],
    };
}

impl Species {
    fn polynomial(&self, temperature: f64) -> &Polynomial {
        if temperature < 1000.0 { &self.cool } else { &self.hot }
    }

    /// c_p/R (NASA/TP-2002-211556, eq. 1).
    fn heat_capacity(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, ..] = self.polynomial(t);
        (a1 / t + a2) / t + a3 + t * (a4 + t * (a5 + t * (a6 + t * a7)))
    }

    /// H/(R·T), enthalpies of formation at 298.15 K included (same, eq. 2).
    fn enthalpy(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, b1, _] = self.polynomial(t);
        let series = a3 + t * (a4 / 2.0 + t * (a5 / 3.0 + t * (a6 / 4.0 + t * a7 / 5.0)));
        -a1 / (t * t) + a2 * t.ln() / t + series + b1 / t
    }

    /// S/R at 1 bar (same, eq. 3).
    fn entropy(&self, t: f64) -> f64 {
        let [a1, a2, a3, a4, a5, a6, a7, _, b2] = self.polynomial(t);
        let series = t * (a4 + t * (a5 / 2.0 + t * (a6 / 3.0 + t * a7 / 4.0)));
        -a1 / (2.0 * t * t) - a2 / t + a3 * t.ln() + series + b2
    }

    /// G/(R·T) at 1 bar.
    fn gibbs(&self, t: f64) -> f64 {
        self.enthalpy(t) - self.entropy(t)
    }
}

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

#[cfg(test)]
mod tests {
    use super::{GAS_CONSTANT, Species, species};

    const ALL: [(&str, &Species); 7] = [
        ("CO2", &species::CARBON_DIOXIDE),
        ("CO", &species::CARBON_MONOXIDE),
        ("H2O", &species::WATER_VAPOUR),
        ("H2", &species::HYDROGEN),
        ("O2", &species::OXYGEN),
        ("N2", &species::NITROGEN),
        ("Ar", &species::ARGON),
    ];

    /// A slip in one typed digit would break one of these.
    #[test]
    fn both_ranges_of_each_polynomial_meet_at_1000_kelvin() {
        for (name, of) in ALL {
            let below = 1000.0 - 1e-9;
            assert!((of.heat_capacity(below) - of.heat_capacity(1000.0)).abs() < 1e-6, "{name}");
            assert!((of.enthalpy(below) - of.enthalpy(1000.0)).abs() < 1e-6, "{name}");
            assert!((of.entropy(below) - of.entropy(1000.0)).abs() < 1e-6, "{name}");
        }
    }

    /// NIST-JANAF Thermochemical Tables, 4th ed. (1998): S°(298.15 K), J/(mol K), and ΔfH°(298.15 K),
    /// kJ/mol; figures from memory.
    #[test]
    fn entropy_and_enthalpy_of_formation_are_those_of_the_janaf_tables() {
        let janaf = [
            (213.795, -393.522),
            (197.653, -110.527),
            (188.834, -241.826),
            (130.680, 0.0),
            (205.147, 0.0),
            (191.609, 0.0),
            (154.845, 0.0),
        ];
        for ((name, of), (entropy, formation)) in ALL.into_iter().zip(janaf) {
            assert!((of.entropy(298.15) * GAS_CONSTANT - entropy).abs() < 0.02, "{name}");
            let enthalpy = of.enthalpy(298.15) * GAS_CONSTANT * 298.15 / 1000.0;
            assert!((enthalpy - formation).abs() < 0.02, "{name}: {enthalpy}");
        }
    }
}
