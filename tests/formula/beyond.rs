//! A value beyond the end of its search: not worked out, and yet known not to be the least.

use super::workbench::{Bench, close, missing, refusal, value};
use boostwright::quantity::GaugePressure;

/// More air than this engine takes at 4 bar: a litre a turn at 6000 rpm is about 0.1 kg/s without
/// boost, and five times the pressure brings less than five times the air.
const BEYOND: &str = "boost_at_air_flow(0.8 kg/s, 6000 rpm, 500 mm2, 0.75, 5 mm2, 1 L, 0.87, 0.83, \
    101.325 kPa, 293.15 K, 15 K, 6 kPa, 12 kPa, 25 kPa, 0.15 kg/s, 0.7, 0.75, 0.62, 0.97, 1213.15 K)";

#[test]
fn what_lies_beyond_the_search_has_no_number() {
    assert!(refusal(BEYOND).contains("at 4 bar, where the search ends"));
}

#[test]
fn what_lies_beyond_the_search_is_not_the_least() {
    for function in ["min", "least_known"] {
        close(value(&format!("{function}(0.8 bar, {BEYOND})")), 0.8e5, 1e-12);
        close(value(&format!("{function}({BEYOND}, 1.2 bar, 0.8 bar)")), 0.8e5, 1e-12);
    }
}

#[test]
fn beyond_the_end_of_the_search_nobody_knows_which_is_the_least() {
    for function in ["min", "least_known"] {
        let told = refusal(&format!("{function}({BEYOND}, 4.5 bar)"));
        assert!(told.contains("where the search ends"), "{told}");
        refusal(&format!("{function}({BEYOND}, {BEYOND})"));
    }
    refusal(&format!("max(0.8 bar, {BEYOND})"));
}

#[test]
fn what_is_made_of_it_may_lie_anywhere() {
    // What is taken off may bring it below the other.
    refusal(&format!("min(0.8 bar, {BEYOND} - 3.5 bar)"));
    refusal(&format!("min(-0.8 bar, -{BEYOND})"));
}

#[test]
fn of_what_is_not_known_only_least_known_makes_nothing() {
    let names = Bench(vec![missing::<GaugePressure>("seen")]);
    close(names.value("least_known(0.8 bar, seen)"), 0.8e5, 1e-12);
    close(names.value(&format!("least_known(seen, {BEYOND}, 0.8 bar)")), 0.8e5, 1e-12);
    for formula in ["min(0.8 bar, seen)", "least_known(seen, seen)"] {
        assert_eq!(names.worked(formula), Err("not known".to_owned()), "{formula}");
    }
}

#[test]
fn another_refusal_is_no_lower_limit() {
    // Less than the engine takes without boost: the ceiling lies below, not beyond.
    let below = BEYOND.replace("0.8 kg/s", "0.01 kg/s");
    let told = refusal(&format!("least_known(0.8 bar, {below})"));
    assert!(told.contains("without boost"), "{told}");
}
