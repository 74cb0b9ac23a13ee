//! One lift throughout the plan of a port: the lift aimed at is the one whose rod travel and stroke are
//! worked out, as the forecast of the boost has it.

use super::{Answers, TOO_HIGH, caution, concluded, near, value};
use crate::built_in::built_in;

const PLAN: &Answers<'_> = &[
    ("boost_seen", "0.9 bar"),
    ("expected_base_boost", "0.5 bar"),
    ("gauge_at_rest", "0 bar"),
    ("hose_is_sound", "yes"),
    ("air_from_hose_end", "flap_opens"),
    ("boost_over_the_pull", "climbs"),
    ("gate_kind", "internal_gate"),
    ("port_diameter", "21 mm"),
    ("flap_lift", "7 mm"),
    ("planned_port", "27 mm"),
    ("plan_the_gate", "yes"),
    ("wall_round_port", "8 mm"),
    ("rod_preload", "2.0 mm"),
    ("flap_arm", "22 mm"),
    ("arm_ratio", "0.85"),
    ("canister_stroke", "10 mm"),
];

/// By hand: a third of 27 mm is 9.0 mm; a flap arm of 22 mm lifts so far at asin(9/22) = 24.15°, where
/// a rod arm of 22/0.85 = 25.88 mm has travelled 2 · 25.88 · sin(12.07°) = 10.83 mm. With 2.0 mm of
/// preload that is 12.83 mm of a stroke of 10 mm.
#[test]
fn a_port_of_27_mm_takes_9_mm_of_lift_10_8_of_rod_travel_and_2_8_of_stroke_that_is_not_there() {
    let said = concluded(built_in(), TOO_HIGH, &[PLAN]);
    near(value(&said, "lift_aimed_at"), 9.0e-3, 1e-6);
    near(value(&said, "rod_travel_for_new_port"), 10.83e-3, 0.01e-3);
    near(value(&said, "stroke_to_spare"), -2.83e-3, 0.01e-3);
    assert_eq!(caution(&said, "stroke_too_short"), Some("care"));
}

#[test]
fn no_second_lift_stands_beside_the_one_aimed_at() {
    let pack = built_in();
    assert!(pack.workings.find("lift_for_new_port").is_none());
}

#[test]
fn a_stroke_that_is_long_enough_gives_no_warning() {
    let said = concluded(
        built_in(),
        TOO_HIGH,
        &[&PLAN[..PLAN.len() - 1], &[("canister_stroke", "14 mm")]],
    );
    near(value(&said, "stroke_to_spare"), 1.17e-3, 0.01e-3);
    assert_eq!(caution(&said, "stroke_too_short"), None);
}
