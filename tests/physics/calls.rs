//! Every function of the table called from a formula as a person writes it, units and all: dimensions
//! and kinds of its arguments fit what the trade says, and the number is that of a printed example,
//! of a reference table, or of the definition.

use std::sync::Arc;

use boostwright::formula::functions::FUNCTIONS;
use boostwright::formula::{Evaluator, Meaning, Names, check};

/// A formula without names of its own.
struct Nothing;

impl Names for Nothing {
    fn find(&self, _name: &str) -> Option<Meaning<'_>> {
        None
    }

    fn all(&self) -> Vec<&str> {
        Vec::new()
    }
}

/// The value of a formula in coherent SI.
fn value(text: &str) -> f64 {
    let formula = check(text, &Nothing, None).unwrap_or_else(|faults| panic!("{text}: {faults:?}"));
    let evaluator = Evaluator::new(Vec::new(), Vec::new(), &[], Arc::default());
    evaluator.value(&formula).unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// Call, number in coherent SI, tolerance as a share, source. E stands for the first engine of
/// `tests/reference/creep.csv`.
type Call = (&'static str, f64, f64, &'static str);

const REST: &str = "discharge_coefficient = 0.75, leak_area = 5 mm2, volume_per_turn = 1 L, \
    volumetric_efficiency = 87 %, lambda = 0.83, ambient = 1013.25 mbar, \
    ambient_temperature = 20 °C, inlet_heating = 15 K, inlet_drop = 6 kPa, charge_drop = 12 kPa, \
    exhaust_drop = 25 kPa, reference_flow = 150 g/s, compressor_efficiency = 0.7, \
    cooler_effectiveness = 0.75, turbine_efficiency = 0.62, mechanical_efficiency = 0.97, \
    turbine_inlet_temperature = 940 °C";

const AIR: [Call; 18] = [
    ("standard_pressure(1 km)", 89_874.6, 1e-5, "ISO 2533, table"),
    ("standard_temperature(1 km)", 281.65, 1e-9, "ISO 2533, table"),
    ("pressure_altitude(898.746 mbar)", 1000.0, 1e-4, "ISO 2533, table"),
    ("air_density(1013.25 mbar, 15 °C)", 1.225, 1e-4, "ISO 2533, table"),
    ("absolute(0.5 bar, 1 bar)", 1.5e5, 1e-12, "definition"),
    ("gauge(1.5 bar, 1 bar)", 0.5e5, 1e-12, "definition"),
    ("compressor_outlet_temperature(303 K, 2.1 / 0.97, 75 %)", 402.76, 1e-4, "Nag, ex. 11.2"),
    ("compressor_work(303 K, 2.1 / 0.97, 0.75)", 1005.0 * 99.76, 1e-3, "Nag, ex. 11.2"),
    ("cooler_outlet_temperature(100 °C, 20 °C, 0.75)", 313.15, 1e-12, "definition"),
    ("drop_at_flow(12 kPa, 0.15 kg/s, 0.3 kg/s)", 48e3, 1e-12, "square law"),
    (
        "engine_air_flow(3769.91 cm3 / 2, 3000 rpm, 0.9, 1.7 bar, 328 K)",
        551.5 / 3600.0,
        3e-4,
        "Gupta, ex. 15.4",
    ),
    ("rotary_chamber_volume(15 mm, 105 mm, 80 mm)", 654.7e-6, 1e-4, "Yamamoto"),
    ("shaft_power(1 lbf ft, 5252 rpm)", 745.7, 1e-4, "33 000 ft lbf/min"),
    ("road_speed(6500 rpm, 1.35, 4.1, 1.95 m)", 137.0 / 3.6, 4e-3, "common practice"),
    ("power_correction_j1349(25 °C, 99 kPa)", 1.0, 1e-12, "SAE J1349"),
    ("power_correction_iso1585(298 K, 99 kPa)", 1.0, 1e-12, "ISO 1585"),
    ("stoichiometric_ratio(8, 18, 0)", 15.13, 1e-2, "Heywood, appendix D"),
    ("fuel_flow(147 g/s, 0.8, 14.7)", 12.5e-3, 1e-12, "definition of lambda"),
];

const GAS: [Call; 14] = [
    ("critical_pressure_ratio(1.4)", 0.5283, 1e-4, "NACA 1135, table I"),
    (
        "nozzle_flow(10 cm3 / 1 cm, 1000 kPa, 333 K, 591 kPa, 1.4, 287 J/(kg K))",
        2.20,
        2e-3,
        "Fox, ex. 12.2",
    ),
    ("burned_gas_heat_capacity(1, 1100 K)", 1295.0, 2.4e-3, "NASA polynomials"),
    ("burned_gas_gamma(1, 1100 K)", 1.288, 8e-4, "NASA polynomials"),
    ("burned_gas_constant(1)", 289.6, 7e-4, "NASA polynomials"),
    (
        "turbine_expansion_ratio(8 kW, 0.12 kg/s, 940 °C, 0.62, 0.97, 1330 J/(kg K), 1.289)",
        1.373_643_927_19,
        1e-9,
        "turbine.csv",
    ),
    ("turbine_outlet_temperature(853 K, 1.9 / 1.06, 0.85, 1.33)", 755.26, 1e-5, "Nag, ex. 11.2"),
    ("pneumatic_flow(1 dm3/(s bar), 0.3, 6 bar, 1 bar, 293.15 K)", 7.11e-3, 1e-12, "ISO 6358-1"),
    (
        "canister_pressure(1 dm3/(s bar), 0.3, 0 dm3/(s bar), 0.3, 2 bar, 1 bar, 20 °C)",
        2e5,
        1e-12,
        "no vent",
    ),
    (
        "decay_time_isothermal(12 L, 20 °C, 151325 Pa, 131325 Pa, 1 atm, 3 mm2)",
        3.130_777_192_29,
        1e-9,
        "decay.csv",
    ),
    (
        "decay_time_adiabatic(12 L, 20 °C, 151325 Pa, 131325 Pa, 1 atm, 3 mm2)",
        2.259_469_300_56,
        1e-9,
        "decay.csv",
    ),
    (
        "leak_area_isothermal(12 L, 20 °C, 151325 Pa, 131325 Pa, 1 atm, 3.13077719229 s)",
        3e-6,
        1e-9,
        "decay.csv",
    ),
    (
        "leak_area_adiabatic(12 L, 20 °C, 151325 Pa, 131325 Pa, 1 atm, 2.25946930056 s)",
        3e-6,
        1e-9,
        "decay.csv",
    ),
    ("leak_flow(10 mm2, 1.7 bar, 50 °C, 1 bar)", 3.8e-3, 1.5e-2, "common practice"),
];

const PARTS: [Call; 27] = [
    ("circle_area(4 mm)", 12.566e-6, 1e-4, "geometry"),
    ("next_size(24.1 mm, 0.5 mm)", 24.5e-3, 1e-12, "arithmetic"),
    ("sine(30 deg)", 0.5, 1e-12, "geometry"),
    ("cosine(60 deg)", 0.5, 1e-12, "geometry"),
    ("arcsine(0.5)", std::f64::consts::FRAC_PI_6, 1e-12, "geometry"),
    ("circle_diameter(12.5664 mm2)", 4e-3, 1e-5, "geometry"),
    ("curtain_area(24 mm, 6 mm)", 452.39e-6, 1e-5, "geometry"),
    ("open_area(24 mm, 12 mm)", 452.39e-6, 1e-5, "geometry"),
    ("flap_lift_from(8 mm, 28 mm, 22 mm)", 6.25e-3, 1e-2, "common practice"),
    ("rod_travel_for(6.25 mm, 22 mm, 28 mm)", 8e-3, 1e-2, "common practice"),
    ("seat_land(34 mm, 28 mm, 0.5 mm)", 2.5e-3, 1e-12, "geometry"),
    (
        "clamped_plate_stress(6 psi, 40 in, 1 in) / 1 psi",
        7200.0,
        1e-9,
        "Timoshenko, Strength of Materials",
    ),
    ("supported_plate_stress(300 kPa, 17 mm, 3 mm, 0.3)", 11_921_250.0, 1e-9, "plates.csv"),
    (
        "clamped_plate_deflection(6 psi, 40 in, 1 in, 30e6 psi, 0.3) / 1 in",
        0.0874,
        6e-4,
        "Timoshenko, Strength of Materials",
    ),
    (
        "supported_plate_deflection(300 kPa, 17 mm, 3 mm, 150 GPa, 0.3)",
        4.303_651_527_78e-6,
        1e-9,
        "plates.csv",
    ),
    ("hot_size(28 mm, 19.5e-6/K, 20 °C, 850 °C)", 28.453e-3, 1e-5, "handbook mean"),
    (
        "hot_clearance(30 mm, 13.5e-6/K, 750 °C, 28 mm, 19.5e-6/K, 850 °C, 20 °C)",
        0.9212e-3,
        1e-3,
        "handbook means",
    ),
    ("preload_change(2, 1 mm, 6 N/mm, 20 cm2)", 6e3, 1e-12, "balance of forces"),
    ("raised_boost(0.9 bar, 0.5 bar)", 90e3, 1e-12, "the wish itself, over the spring"),
    ("closing_force(0.5 bar, 20 cm2, 0.8)", 125.0, 1e-12, "balance of moments"),
    (
        "blow_open_difference(0.5 bar, 20 cm2, 0.8, 40 mm, 1.25)",
        79_577.0,
        1e-4,
        "balance of moments",
    ),
    (
        "0.5 bar - opening_pressure(0.5 bar, 0.5 bar, 25 mm, 0.8, circle_area(40 mm))",
        0.16e5,
        3e-2,
        "common practice",
    ),
    ("lambda_of_flows(147 g/s, 12.5 g/s, 14.7)", 0.8, 1e-12, "definition of lambda"),
    ("injector_flow(600 cm3/min, 3 bar, 4 bar / 3)", 2e-5 / 3.0, 1e-12, "orifice"),
    ("injector_duty(10 g/s, 4, 300 cm3/min, 0.75 kg/L)", 2.0 / 3.0, 1e-12, "continuity"),
    ("injected_fuel(4, 300 cm3/min, 0.75 kg/L, 80 %)", 12e-3, 1e-12, "continuity"),
    ("miss_boost(0.7 bar, 1 bar, 0.8 mm, 0.65 mm)", 1.1e5, 2e-2, "common practice"),
];

/// The first engine of `tests/reference/spool.csv`, S, and its car, C.
const SPOOL: &str = "turbine_area = 420 mm2, compressor_diameter = 56 mm, turbine_diameter = 52 mm, \
    charge_leak = 0 mm2, exhaust_leak = 0 mm2, leak_area = 5 mm2, volume_per_turn = 1 L, \
    volumetric_efficiency = 85 %, lambda = 0.9, ambient = 1013.25 mbar, \
    ambient_temperature = 20 °C, inlet_heating = 15 K, inlet_drop = 6 kPa, charge_drop = 12 kPa, \
    exhaust_drop = 25 kPa, reference_flow = 150 g/s, compressor_efficiency = 0.72, \
    cooler_effectiveness = 0.75, turbine_efficiency = 0.68, mechanical_efficiency = 0.97, \
    turbine_inlet_temperature = 940 °C";
const CAR: &str = "mass = 1400 kg, gear_ratio = 1.4, final_drive = 3.9, tyre_circumference = 1.9 m, \
    dragging = 0 N";

const COMING_UP: [Call; 12] = [
    ("threshold_speed(boost = 0.4 bar, S)", 28.2221173478, 1e-3, "spool.csv"),
    ("steady_boost(speed = 29.0687808683 turn/s, S)", 46311.8984399, 1e-2, "spool.csv"),
    ("speed_at_boost(0.4 bar, 1800 rpm, 11 L, 1, C, S)", 39.0001084495, 1e-2, "spool.csv"),
    ("boost_time(0.4 bar, 1800 rpm, 11 L, 1, C, S)", 1.86636044161, 3e-2, "spool.csv"),
    ("car_time(0.4 bar, 21.1665880109 turn/s, C, S)", 1.34129903096, 2e-2, "spool.csv"),
    ("pull_time(0.4 bar, 3000 rpm, 4500 rpm, C, S)", 4.45786891082, 1e-3, "spool.csv"),
    (
        "1 N + dragging_from(4.45786891082 s, 0.4 bar, 3000 rpm, 4500 rpm, C, S)",
        1.0,
        5.0,
        "spool.csv",
    ),
    (
        "corrected_flow(50 lb/min, 60 °F, 101353 Pa, 545 degR, 96182 Pa)",
        46.3 * 0.453_592_37 / 60.0,
        3e-3,
        "a turbocharger builder's text",
    ),
    ("rim_speed(1 m, 5945 rpm)", 311.3, 2e-4, "Gorla and Khan, ex. 4.4"),
    (
        "compressor_rim_speed(4.23, 295 K, 0.9 * 1.04 * 0.78)",
        455.5,
        5e-3,
        "Cohen, Rogers and Saravanamuttoo, ex. 4.1, from memory",
    ),
    (
        "compressor_choke_flow(40 mm, 1, 20 °C, 101.3 kPa)",
        239.0 * 0.001_256_637,
        2e-3,
        "Heywood, eq. C.9: 239 kg/(s m²)",
    ),
    // 0.05 · 1 · (50 mm)² · 1.225 kg/m³ · 340.29 m/s.
    (
        "compressor_surge_flow(50 mm, 2, 0.05, 15 °C, 101325 Pa)",
        0.05 * 0.0025 * 1.225 * 340.294,
        1e-4,
        "ISO 2533, density and velocity of sound at sea level",
    ),
];

const OF_AN_ENGINE: [Call; 15] = [
    ("gate_area_needed(boost = 0.5 bar, E)", 0.000_334_290_827_219, 2e-3, "creep.csv"),
    (
        "turbine_area_from(0.5 bar, 250 mm2, speed = 6000 rpm, REST)",
        0.000_684_269_533_407,
        2e-3,
        "creep.csv",
    ),
    ("creep_boost(port_area = 250 mm2, E)", 75_754.313_957_6, 2e-3, "creep.csv"),
    (
        "held_boost(24 mm, 28 mm, 8 mm, 0.5 bar, 0.8 bar, 20 cm2, 0.85, E)",
        40_285.086_551_6,
        2e-3,
        "creep.csv",
    ),
    // The boost that the bench line of 0.5 to 0.8 bar holds, against one 0.1 bar lower.
    (
        "actuator_line_shift(0.402850865516 bar, 24 mm, 28 mm, 8 mm, 0.4 bar, 0.7 bar, 20 cm2, 0.85, E)",
        0.1e5,
        2e-2,
        "creep.csv",
    ),
    // Without a spring the flap stands open at any boost.
    ("opening_boost(28 mm, 0 bar, 20 cm2, 0.85, E)", 0.0, 0.0, "no spring"),
    ("blow_open_boost(28 mm, 0 bar, 20 cm2, 0.85, E)", 0.0, 0.0, "no spring"),
    ("turbine_inlet_pressure(0.5 bar, E)", 208_086.7, 2e-3, "engine.py beside creep.csv"),
    ("gate_share(0.5 bar, E)", 0.369_117, 2e-3, "engine.py beside creep.csv"),
    ("air_flow_at(0.5 bar, E)", 0.145_638_851_561_6, 1e-9, "engine.py beside creep.csv"),
    ("charge_temperature_at(0.5 bar, E)", 314.916, 1e-5, "engine.py beside creep.csv"),
    ("boost_at_air_flow(145.6388515616 g/s, E)", 0.5e5, 1e-9, "engine.py beside creep.csv"),
    ("compressor_ratio_at(0.5 bar, E)", 1.700_003_826_567, 1e-9, "engine.py beside creep.csv"),
    ("compressor_outlet_at(0.5 bar, E)", 380.215_194_65, 1e-9, "engine.py beside creep.csv"),
    // Its flow times √(308.15/298.15), over an inlet of 95 669 Pa.
    (
        "compressor_flow_at(0.5 bar, 25 °C, 1 bar, E)",
        0.154_764_200_178,
        1e-9,
        "engine.py beside creep.csv",
    ),
];

#[test]
fn every_function_can_be_called_as_people_write_it_and_gives_the_number_of_its_source() {
    let calls: Vec<Call> = [&AIR[..], &GAS, &PARTS, &OF_AN_ENGINE, &COMING_UP].concat();
    for (call, expected, share, source) in &calls {
        let engine = format!("speed = 6000 rpm, turbine_area = 500 mm2, {REST}");
        let text = call.replace("REST", REST).replace(", E)", &format!(", {engine})"));
        let text =
            text.replace(", S)", &format!(", {SPOOL})")).replace(", C,", &format!(", {CAR},"));
        let found = value(&text);
        let off = (found - expected).abs();
        assert!(off <= share * expected.abs(), "{source}: {call} gives {found}, not {expected}");
    }
    for function in FUNCTIONS {
        let call = format!("{}(", function.name);
        assert!(
            calls.iter().any(|(text, ..)| text.contains(&call)),
            "{} is not tried",
            function.name
        );
    }
}
