//! The physics against values worked out apart from it; `README.md` beside this file says how.
//!
//! Tolerances: twelve digits stand in the tables, so a relation with a closed form is held to
//! 1e-10, one that both sides solve or integrate to 1e-8, unless a test says why not.

mod agreement;
pub(crate) mod table;

use agreement::{From, Within, agrees, column_agrees, share};

const CLOSED_FORM: Within = share(1e-10);
const SOLVED: Within = share(1e-8);

// Below sea level the library starts from the six-digit pressure printed for -5000 m: 2.6e-7 of the
// pressure, 2.2 mm of altitude.

#[test]
fn standard_atmosphere_agrees_with_another_library() {
    agrees("atmosphere.csv", "standard_pressure", share(3e-7));
    agrees("atmosphere.csv", "standard_temperature", CLOSED_FORM);
}

#[test]
fn altitude_from_pressure_agrees_to_three_millimetres() {
    agrees("atmosphere.csv", "pressure_altitude", Within { relative: 0.0, absolute: 3e-3 });
}

#[test]
fn ideal_air_is_within_a_third_of_a_percent_of_real_air() {
    agrees("air.csv", "air_density", share(0.0033));
}

#[test]
fn nozzle_flow_agrees_with_a_quadrature_of_the_isentrope() {
    // Round-off in the square root near equal pressures costs the closed form some digits.
    agrees("nozzle.csv", "nozzle_flow", share(1e-9));
}

#[test]
fn critical_ratio_is_where_the_flow_is_largest() {
    // A maximum is flat: a search finds its place to the root of its own precision.
    agrees("nozzle.csv", "critical_pressure_ratio", share(1e-6));
}

#[test]
fn compressor_agrees_with_another_library() {
    agrees("compressor.csv", "compressor_outlet_temperature", CLOSED_FORM);
    agrees("compressor.csv", "compressor_work", CLOSED_FORM);
}

// No two sources of heat capacities agree better than this: water's equation of state, which is
// meant for up to 1273 K, costs 8e-4 at 1500 K, the seven-coefficient polynomials 1.5e-3 between 300
// and 1000 K.

#[test]
fn burned_gas_heat_capacity_agrees_with_equations_of_state_and_polynomials() {
    column_agrees(
        "gas.csv",
        "heat_capacity_coolprop",
        "burned_gas_heat_capacity",
        &[],
        share(8e-4),
    );
    agrees("gas.csv", "burned_gas_heat_capacity", share(1.5e-3));
}

#[test]
fn burned_gas_gamma_agrees_with_polynomials() {
    agrees("gas.csv", "burned_gas_gamma", share(5e-4));
}

#[test]
fn burned_gas_constant_agrees_with_the_balance_of_another_library() {
    agrees("gas.csv", "burned_gas_constant", share(5e-6));
}

#[test]
fn turbine_expansion_ratio_gives_the_power_back() {
    agrees("turbine.csv", "turbine_expansion_ratio", CLOSED_FORM);
}

#[test]
fn flow_by_conductance_lies_on_the_ellipse() {
    // Near equal pressures one less the square of the share costs digits.
    agrees("pneumatic_flow.csv", "pneumatic_flow", share(1e-9));
}

#[test]
fn canister_pressure_lets_out_what_comes_in() {
    agrees("canister.csv", "canister_pressure", SOLVED);
}

#[test]
fn blow_down_and_filling_times_agree_with_the_integrated_equation() {
    agrees("decay.csv", "decay_time_isothermal", SOLVED);
    agrees("decay.csv", "decay_time_adiabatic", SOLVED);
}

#[test]
fn leak_area_from_the_integrated_time_is_the_area_that_was_put_in() {
    for (function, time) in [
        ("leak_area_isothermal", "decay_time_isothermal"),
        ("leak_area_adiabatic", "decay_time_adiabatic"),
    ] {
        column_agrees("decay.csv", "area", function, &[("time", From::Column(time))], SOLVED);
    }
}

#[test]
fn plates_agree_with_the_solved_plate_equation() {
    for function in [
        "clamped_plate_stress",
        "clamped_plate_deflection",
        "supported_plate_stress",
        "supported_plate_deflection",
    ] {
        agrees("plates.csv", function, CLOSED_FORM);
    }
}

// With the same burned gas both sides agree to 1e-9. The gas of each has its own source, as above:
// 6e-4 of its heat capacity at these temperatures are up to 4e-4 of the results.
const MATCHED: Within = share(4e-4);

#[test]
fn gate_area_needed_agrees_with_independent_root_finding() {
    // The gate takes what the turbine leaves; near none, that difference isn't known better.
    agrees("creep.csv", "gate_area_needed", Within { absolute: 3e-8, ..MATCHED });
}

#[test]
fn creep_boost_agrees_with_independent_root_finding() {
    agrees("creep.csv", "creep_boost", MATCHED);
}

#[test]
fn matched_turbine_agrees_with_independent_root_finding() {
    agrees("creep.csv", "turbine_area_from", MATCHED);
}

#[test]
fn held_boost_agrees_with_and_without_the_push_of_the_exhaust() {
    agrees("creep.csv", "held_boost", MATCHED);
    let without_push = [("arm_ratio", From::Value(0.0))];
    column_agrees("creep.csv", "held_boost_without_push", "held_boost", &without_push, MATCHED);
}

// The burned gas of each side has its own source, as above. Where boost begins, both solve the same
// balance; the program's charge leak is a few kelvin off.

#[test]
fn where_boost_begins_agrees_with_independent_root_finding() {
    agrees("spool.csv", "threshold_speed", share(1e-3));
    agrees("spool.csv", "steady_boost", share(0.01));
}

// The table integrates the pressure in the pipes, which the program takes as settled; its shaft carries
// their filling as so much more to bring to speed.

#[test]
fn a_pull_agrees_with_the_integrated_pipes_shaft_and_car() {
    agrees("spool.csv", "boost_time", share(0.03));
    agrees("spool.csv", "speed_at_boost", share(0.01));
}

#[test]
fn the_time_of_the_car_alone_agrees_with_a_quadrature() {
    let slow = [("start_speed", From::Column("slow_start"))];
    column_agrees("spool.csv", "car_time", "car_time", &slow, share(0.02));
}

#[test]
fn a_pull_that_holds_its_boost_agrees_with_a_quadrature_and_tells_what_drags() {
    agrees("spool.csv", "pull_time", share(1e-3));
    // What drags is a small part of what the car's mass takes, and is known by so much less.
    let time = [("time", From::Column("pull_time"))];
    let within = Within { relative: 0.03, absolute: 5.0 };
    column_agrees("spool.csv", "dragging", "dragging_from", &time, within);
}
