//! Where the gauge sits counts wherever the pressure of the plenum or of the charge is spoken of. With
//! the usual 12 kPa between compressor and plenum a gauge at the compressor reads so much more.

use boostwright::rules::Pack;

use super::{TOO_HIGH, concluded, near, value};
use crate::built_in::built_in;

fn at(pack: &Pack, place: &str, complaint: &str, working: &str) -> Option<f64> {
    let answers = [
        ("gauge_tapped_at", place),
        ("boost_seen", "0.95 bar"),
        ("expected_base_boost", "0.5 bar"),
        ("boost_reached", "0.95 bar"),
        ("target_boost", "0.8 bar"),
        ("boost_at_cut", "1.0 bar"),
        ("air_pressure", "1000 hPa"),
        ("sensor_full_scale", "250 kPa"),
        ("overboost_cut", "210 kPa"),
        ("rail_under_boost", "3.9 bar"),
        ("boost_at_rail_reading", "0.9 bar"),
        ("rod_starts_to_move", "0.42 bar"),
        ("rod_fully_out", "0.72 bar"),
        ("opening_share", "0.5"),
    ];
    let said = concluded(pack, complaint, &[&answers]);
    value(&said, working)
}

/// What a gauge at the compressor says of a pressure, less what one at the plenum says.
#[track_caller]
fn apart(pack: &Pack, complaint: &str, working: &str, expected: f64) {
    let [compressor, plenum] = ["tap_at_compressor", "tap_at_plenum"]
        .map(|place| at(pack, place, complaint, working).unwrap_or_else(|| panic!("no {working}")));
    near(Some(compressor - plenum), expected, 1.0);
}

#[test]
fn a_gauge_at_the_plenum_is_taken_at_its_word_and_one_at_the_compressor_is_not() {
    let pack = built_in();
    let plenum = |place: &str| at(pack, place, TOO_HIGH, "boost_less_charge_drop");
    near(plenum("tap_at_plenum"), 95e3, 1.0);
    near(plenum("tap_before_throttle"), 95e3, 1.0);
    near(plenum("tap_at_compressor"), 83e3, 1.0);
    near(plenum("tap_in_signal_hose"), 83e3, 1.0);
    // Nobody knows where it sits, so nothing is said.
    assert_eq!(plenum("unknown"), None);
}

#[test]
fn what_the_engine_gets_is_less_than_a_gauge_at_the_compressor_shows() {
    let pack = built_in();
    apart(pack, "cuts_out_at_a_threshold", "cut_pressure", -12e3);
    apart(pack, "cuts_out_at_a_threshold", "sensor_room", 12e3);
    apart(pack, "cuts_out_at_a_threshold", "wanted_under_cut", 12e3);
    apart(pack, "runs_lean_or_knocks", "rail_over_plenum", 12e3);
}

/// The canister feels the compressor's pressure, and a gauge there shows it undiminished.
#[test]
fn a_gauge_at_the_compressor_is_to_show_what_the_canister_feels() {
    let pack = built_in();
    // 0.42 bar and half of the 0.30 bar to the stop.
    near(at(pack, "tap_at_compressor", TOO_HIGH, "base_expected"), 57e3, 1.0);
    near(at(pack, "tap_at_plenum", TOO_HIGH, "base_expected"), 45e3, 1.0);
}
