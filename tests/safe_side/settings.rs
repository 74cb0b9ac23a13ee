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
    let down_to = |place: &'static str| {
        let lowest = [("lowest_place", place)];
        let known: &[&Answers<'_>] = &[SOUND, HIGHER, CUT, FUEL, &short, &lowest];
        concluded(built_in(), ANOTHER_SETTING, known)
    };
    // 200 kPa less the air's 100, and 0.1 bar kept back (common practice): 0.90 bar.
    let said = down_to("500 m");
    near(value(&said, "ceiling_of_sensor"), 90e3, 1.0);
    near(value(&said, "high_setting"), 90e3, 1.0);
}

/// ISO 2533: 101 325 Pa at the sea, 89 874.6 Pa at 1000 m.
#[test]
fn the_lowest_place_driven_to_lowers_the_ceilings_of_cut_and_sensor_and_no_other_place_raises_them()
{
    let ceilings = |air: &'static str, place: &'static str| {
        let places = [("air_pressure", air), ("lowest_place", place)];
        let said = concluded(built_in(), ANOTHER_SETTING, &[SOUND, HIGHER, CUT, SENSOR, &places]);
        [value(&said, "ceiling_of_cut"), value(&said, "ceiling_of_sensor")]
    };
    for (air, place, lowest) in [
        ("898 hPa", "0 m", 101_325.0),
        ("850 hPa", "1000 m", 89_874.6),
        ("990 hPa", "2000 m", 99e3),
    ] {
        let [cut, sensor] = ceilings(air, place);
        near(cut, 230e3 - lowest - 15e3, 1.0);
        near(sensor, 250e3 - lowest - 10e3, 1.0);
    }
}

/// By hand, the cooler leaving a quarter of what the compressor adds (Heywood, 6.8).
#[test]
fn fuel_is_reckoned_for_the_coldest_day_and_the_charge_for_the_hottest() {
    let on = |colder: &'static str, hotter: &'static str| {
        let days = [("colder_day_by", colder), ("hotter_day_by", hotter)];
        concluded(built_in(), ANOTHER_SETTING, &[SOUND, HIGHER, FUEL, &days])
    };
    let [mild, cold, hot] = [on("0 K", "0 K"), on("30 K", "0 K"), on("0 K", "20 K")];
    let change =
        |of: &str, after: &serde_json::Value| value(after, of).unwrap() - value(&mild, of).unwrap();
    // 1 K outside is some (1 K + a quarter of the compressor's own share) in the plenum: the ratio of about 2.1 over an
    // efficiency of 0.67 heats by 0.35 of the inlet temperature, so 1 + 0.25 · 0.35 = 1.09.
    // Less the little that the thinner air costs fewer losses.
    near(Some(change("charge_at_high", &hot)), 20.0 * 1.09, 1.2);
    near(Some(change("charge_at_high", &cold)), 0.0, 1e-9);
    // The charge has some 340 K in the plenum at the ceiling. 30 K colder it is denser by a tenth at least, and the absolute
    // pressure that the fuel feeds, of more than 3 bar here, lower by as much. (By the book in full: the tests of the mixture.)
    assert!(change("ceiling_of_injectors", &cold) < -0.1 * 3e5);
    near(Some(change("ceiling_of_injectors", &hot)), 0.0, 1e-6);
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
