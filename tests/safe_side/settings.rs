//! No setting under the spring, and no high one on what nobody knows.

use super::{ANOTHER_SETTING, Answers, caution, concluded, near, value, why_not};
use crate::built_in::built_in;

const SOUND: &Answers<'_> = &[
    ("fault_free_for_weeks", "yes"),
    ("knock_heard", "no"),
    ("also_noticed", "none"),
    ("fluids_are_dry", "yes"),
    ("lambda_under_boost", "0.80"),
    ("gauge_at_rest", "0 bar"),
    ("gauge_tapped_at", "tap_at_plenum"),
    ("engine_kind", "four_stroke_pistons"),
    ("engine_displacement", "1.6 L"),
    ("top_engine_speed", "6500 rpm"),
    ("expected_base_boost", "0.50 bar"),
    ("oil_level", "oil_between"),
    ("unit_on_dial", "yes"),
    ("gauge_hose_sound", "yes"),
    ("hose_is_sound", "yes"),
    ("air_temperature", "15 °C"),
    ("engine_data_at_hand", "no"),
];
const HIGHER: &Answers<'_> =
    &[("setting_wanted", "setting_higher"), ("wanted_high_boost", "0.9 bar")];
const CUT: &Answers<'_> = &[("overboost_cut", "230 kPa")];
const FUEL: &Answers<'_> = &[("injector_rated_flow", "550 cm3/min"), ("injectors_fitted", "4")];
const SENSOR: &Answers<'_> = &[("sensor_full_scale", "250 kPa")];

const MISSING: [&str; 3] =
    ["no_high_without_cut", "no_high_without_fuel", "no_high_without_sensor"];

/// Which of cut, fuel and sensor is said to be missing, and whether a high setting is named.
fn planned(known: &[&Answers<'_>]) -> ([bool; 3], bool) {
    let answers: Vec<&Answers<'_>> =
        [SOUND, HIGHER].into_iter().chain(known.iter().copied()).collect();
    let said = concluded(built_in(), ANOTHER_SETTING, &answers);
    (MISSING.map(|id| caution(&said, id).is_some()), value(&said, "high_setting").is_some())
}

#[test]
fn no_high_setting_is_named_while_cut_fuel_or_sensor_is_unknown_and_which_is_missing_is_said() {
    assert_eq!(planned(&[]), ([true, true, true], false));
    assert_eq!(planned(&[CUT, FUEL]), ([false, false, true], false));
    assert_eq!(planned(&[CUT, SENSOR]), ([false, true, false], false));
    assert_eq!(planned(&[FUEL, SENSOR]), ([true, false, false], false));
    assert_eq!(planned(&[CUT, FUEL, SENSOR]), ([false, false, false], true));
    // An air meter counts the air whatever the sensor reads, but only up to its own end.
    let meter = ("air_metering_kind", "by_air_meter");
    assert_eq!(planned(&[CUT, FUEL, &[meter]]), ([false; 3], false));
    assert_eq!(planned(&[CUT, FUEL, &[meter, ("air_meter_limit", "250 g/s")]]), ([false; 3], true));
}

#[test]
fn the_top_of_the_boost_sensor_is_a_ceiling() {
    let short = [("sensor_full_scale", "200 kPa"), ("air_pressure", "1000 hPa")];
    let said = concluded(built_in(), ANOTHER_SETTING, &[SOUND, HIGHER, CUT, FUEL, &short]);
    // 200 kPa less the air's 100, and 0.1 bar kept back (common practice): 0.90 bar.
    near(value(&said, "ceiling_of_sensor"), 90e3, 1.0);
    near(value(&said, "high_setting"), 90e3, 1.0);
}

#[test]
fn a_setting_under_the_spring_is_refused_with_the_reason_and_has_no_number() {
    let lower = [("setting_wanted", "setting_lower"), ("wanted_high_boost", "0.35 bar")];
    let said = concluded(built_in(), ANOTHER_SETTING, &[SOUND, &lower]);
    assert_eq!(caution(&said, "wanted_under_spring"), Some("danger"));
    for id in ["low_setting", "high_setting"] {
        assert_eq!(value(&said, id), None, "{id}");
        let why = why_not(&said, id);
        assert!(why.contains("a controller can only raise boost above"), "{why}");
    }
    let above = [("setting_wanted", "setting_lower"), ("wanted_high_boost", "0.7 bar")];
    let said = concluded(built_in(), ANOTHER_SETTING, &[SOUND, &above]);
    assert_eq!(caution(&said, "wanted_under_spring"), None);
    near(value(&said, "high_setting"), 70e3, 1.0);
    near(value(&said, "low_setting"), 60e3, 1.0);
}
