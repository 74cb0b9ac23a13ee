//! The whole table of functions: the names that rule files rest on, and that no argument whatever
//! makes a function panic or give something that is no number.

use std::collections::HashSet;

use boostwright::formula::functions::{FUNCTIONS, Function, find};
use proptest::prelude::{Just, Strategy, any, prop_assert, prop_oneof, proptest};

use super::wide;

const ENGINE: &str = "speed, turbine_area, discharge_coefficient, leak_area, volume_per_turn, \
    volumetric_efficiency, lambda, ambient, ambient_temperature, inlet_heating, inlet_drop, \
    charge_drop, exhaust_drop, reference_flow, compressor_efficiency, cooler_effectiveness, \
    turbine_efficiency, mechanical_efficiency, turbine_inlet_temperature";

/// Names and order of arguments that packs and saved sessions rest on; E stands for the engine, S for one that
/// comes up to speed.
const CONTRACT: [(&str, &str); 45] = [
    ("standard_pressure", "altitude"),
    ("standard_temperature", "altitude"),
    ("pressure_altitude", "pressure"),
    ("air_density", "pressure, temperature"),
    ("absolute", "gauge, ambient"),
    ("gauge", "pressure, ambient"),
    ("circle_area", "diameter"),
    ("circle_diameter", "area"),
    ("curtain_area", "diameter, lift"),
    ("compressor_outlet_temperature", "inlet_temperature, pressure_ratio, efficiency"),
    ("compressor_work", "inlet_temperature, pressure_ratio, efficiency"),
    ("cooler_outlet_temperature", "inlet_temperature, coolant_temperature, effectiveness"),
    ("critical_pressure_ratio", "gamma"),
    ("nozzle_flow", "area, pressure, temperature, back_pressure, gamma, gas_constant"),
    ("burned_gas_heat_capacity", "lambda, temperature"),
    ("burned_gas_gamma", "lambda, temperature"),
    ("burned_gas_constant", "lambda"),
    ("pneumatic_flow", "conductance, critical_ratio, pressure, back_pressure, temperature"),
    (
        "canister_pressure",
        "supply_conductance, supply_critical_ratio, vent_conductance, vent_critical_ratio, source, \
         ambient, temperature",
    ),
    (
        "turbine_expansion_ratio",
        "compressor_power, gas_flow, gas_temperature, turbine_efficiency, mechanical_efficiency, \
         heat_capacity, gamma",
    ),
    ("engine_air_flow", "volume_per_turn, speed, volumetric_efficiency, pressure, temperature"),
    ("rotary_chamber_volume", "eccentricity, generating_radius, width"),
    ("clamped_plate_stress", "pressure, radius, thickness"),
    ("supported_plate_stress", "pressure, radius, thickness, poisson"),
    ("clamped_plate_deflection", "pressure, radius, thickness, modulus, poisson"),
    ("supported_plate_deflection", "pressure, radius, thickness, modulus, poisson"),
    ("hot_size", "size, expansion, from, to"),
    ("decay_time_isothermal", "volume, temperature, start, end, ambient, area"),
    ("decay_time_adiabatic", "volume, temperature, start, end, ambient, area"),
    ("leak_area_isothermal", "volume, temperature, start, end, ambient, time"),
    ("leak_area_adiabatic", "volume, temperature, start, end, ambient, time"),
    ("stoichiometric_ratio", "carbon, hydrogen, oxygen"),
    ("fuel_flow", "air_flow, lambda, stoichiometric_ratio"),
    ("injector_flow", "rated_flow, rated_difference, difference"),
    ("injector_duty", "fuel_flow, injectors, injector_flow, density"),
    ("power_correction_j1349", "temperature, dry_pressure"),
    ("shaft_power", "torque, speed"),
    ("gate_area_needed", "boost, E"),
    ("creep_boost", "port_area, E"),
    (
        "held_boost",
        "port_diameter, contact_diameter, lift, cracks_at, wide_open_at, diaphragm_area, arm_ratio, E",
    ),
    ("opening_boost", "contact_diameter, cracks_at, diaphragm_area, arm_ratio, E"),
    ("turbine_area_from", "boost, port_area, E without turbine_area"),
    ("threshold_speed", "boost, S"),
    ("steady_boost", "speed, S"),
    (
        "speed_at_boost",
        "boost, start_speed, charge_volume, inertia_factor, mass, gear_ratio, final_drive, \
         tyre_circumference, dragging, S",
    ),
];

fn arguments(function: &Function) -> String {
    let names: Vec<&str> = function.arguments.iter().map(|argument| argument.name).collect();
    names.join(", ")
}

#[test]
fn functions_that_rule_files_rest_on_keep_their_names_and_the_order_of_their_arguments() {
    let unmatched = ENGINE.replace("turbine_area, ", "");
    let spool = unmatched.replace("speed, discharge_coefficient, ", "");
    let spool = format!(
        "turbine_area, compressor_diameter, turbine_diameter, charge_leak, exhaust_leak, {spool}"
    );
    for (name, wanted) in CONTRACT {
        let function = find(name).unwrap_or_else(|| panic!("{name} is gone"));
        let wanted = wanted.replace("E without turbine_area", &unmatched).replace('E', ENGINE);
        let wanted = wanted.replace('S', &spool);
        assert_eq!(arguments(function), wanted, "{name}");
    }
}

#[test]
fn every_function_has_one_name_a_subject_a_summary_and_a_source() {
    let names: HashSet<&str> = FUNCTIONS.iter().map(|function| function.name).collect();
    assert_eq!(names.len(), FUNCTIONS.len());
    for function in FUNCTIONS {
        let texts = [function.subject, function.summary, function.source];
        assert!(texts.iter().all(|text| !text.is_empty()), "{}", function.name);
        let arguments: HashSet<&str> =
            function.arguments.iter().map(|argument| argument.name).collect();
        assert_eq!(arguments.len(), function.arguments.len(), "{}", function.name);
        assert!(function.arguments.iter().all(|argument| !argument.range.is_empty()));
    }
}

#[test]
fn what_is_no_number_is_refused_by_every_argument_of_every_function() {
    for function in FUNCTIONS {
        for hostile in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let given = vec![hostile; function.arguments.len()];
            assert!((function.call)(&given).is_err(), "{}", function.name);
        }
    }
}

/// Any value at all, and often one that a car could show.
fn value() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        Just(0.0),
        Just(-1.0),
        1e-6..1.0f64,
        0.5..2.0f64,
        200.0..1500.0f64,
        1e4..1e6f64,
    ]
}

proptest! {
    #![proptest_config(wide())]

    #[test]
    fn no_argument_makes_a_function_panic_or_give_what_is_no_number(
        which in 0..FUNCTIONS.len(),
        given in proptest::collection::vec(value(), 30),
    ) {
        let function = &FUNCTIONS[which];
        let given = &given[..function.arguments.len()];
        if let Ok(result) = (function.call)(given) {
            prop_assert!(result.is_finite(), "{} of {given:?}: {result}", function.name);
        }
        let _told = (function.remarks)(given);
    }
}
