//! The physics against values worked out apart from it; `README.md` beside this file says how.
//!
//! Tolerances: twelve digits stand in the tables, so a relation with a closed form is held to 1e-10
//! unless a test says why not.

mod agreement;
mod table;

use agreement::{Within, agrees, share};

const CLOSED_FORM: Within = share(1e-10);

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
