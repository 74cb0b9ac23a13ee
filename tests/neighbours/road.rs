//! Told apart on a staged pull: the rod's witness, the gate tied open, the boost against the speed,
//! and the boost once it has settled.

use super::pair::Pair;

const BEYOND_WIDE_OPEN: [(&str, &str); 5] = [
    ("boost_seen", "0.92 bar"),
    ("expected_base_boost", "0.48 bar"),
    ("what_off_means", "plain_hose_fitted"),
    ("rod_fully_out", "0.62 bar"),
    ("rod_travel", "8.4 mm"),
];

/// A hose off, a split diaphragm and a seized rod all let boost pass the wide-open pressure: that
/// alone doesn't speak for the port.
#[test]
fn a_witness_pushed_all_the_way_is_the_port_and_one_hardly_moved_is_the_hose() {
    Pair {
        start: &BEYOND_WIDE_OPEN,
        measured: "witness_travel",
        one: ("8.2 mm", "gate_too_small"),
        other: ("0.5 mm", "signal_hose_open"),
    }
    .is_told_apart();
}

#[test]
fn a_gate_tied_open_that_changes_nothing_is_too_small_and_else_it_never_opened() {
    Pair {
        start: &BEYOND_WIDE_OPEN,
        measured: "boost_with_gate_tied_open",
        one: ("0.90 bar", "gate_too_small"),
        other: ("0.35 bar", "signal_hose_open"),
    }
    .is_told_apart();
}

#[test]
fn boost_that_races_away_is_the_hose_and_boost_that_climbs_with_speed_the_port() {
    Pair {
        start: &[("boost_seen", "0.95 bar"), ("expected_base_boost", "0.48 bar")],
        measured: "boost_over_the_pull",
        one: ("races", "signal_hose_open"),
        other: ("climbs", "gate_too_small"),
    }
    .is_told_apart();
}

#[test]
fn boost_level_over_the_last_2000_rpm_is_preload_and_boost_that_rises_the_port() {
    Pair {
        start: &[
            ("boost_seen", "0.74 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("expected_from", "from_print"),
            ("unit_on_dial", "yes"),
            ("gauge_at_half_bar", "0.50 bar"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_preload", "4.0 mm"),
            ("peak_boost", "0.74 bar ± 0.02"),
        ],
        measured: "boost_2000_rpm_earlier",
        one: ("0.45 bar ± 0.02", "gate_too_small"),
        other: ("0.73 bar ± 0.02", "preload_too_high"),
    }
    .is_told_apart();
}

#[test]
fn boost_that_comes_back_within_two_seconds_had_a_slow_signal_and_else_the_preload_is_high() {
    Pair {
        start: &[
            ("boost_seen", "0.76 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_preload", "4.5 mm"),
            ("hose_short_and_stiff", "no"),
        ],
        measured: "settled_boost",
        one: ("0.48 bar", "signal_too_slow"),
        other: ("0.75 bar", "preload_too_high"),
    }
    .is_told_apart();
}
