//! The polynomials of the burned gas, typed by hand, against themselves and printed tables.

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../src/physics/species.rs"]
mod species;

use species::Species;

/// J/(mol K), exact since 2019 (BIPM, SI brochure).
const GAS_CONSTANT: f64 = 8.314_462_618;

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
