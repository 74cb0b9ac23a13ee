//! Told apart by what sits in the signal line: its source, the controller's valve, and the weather on
//! a fixed setting.

use super::pair::Pair;

#[test]
fn a_hose_that_starts_at_the_plenum_has_the_wrong_source_and_one_at_the_compressor_is_open() {
    Pair {
        start: &[
            ("last_work", "hose_work"),
            ("boost_seen", "0.88 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("what_off_means", "plain_hose_fitted"),
            ("boost_with_plain_hose", "0.50 bar"),
        ],
        measured: "hose_taken_from",
        one: ("from_plenum", "signal_from_wrong_place"),
        other: ("from_compressor", "signal_hose_open"),
    }
    .is_told_apart();
}

#[test]
fn a_valve_with_its_hoses_swapped_is_piped_wrong_and_with_them_right_it_sticks() {
    Pair {
        start: &[
            ("boost_seen", "1.05 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("what_off_means", "valve_unpowered"),
            ("air_from_hose_end", "nothing_moves"),
            ("boost_with_plain_hose", "0.49 bar"),
        ],
        measured: "valve_ports_as_marked",
        one: ("no", "control_valve_piped_wrong"),
        other: ("yes", "control_valve_stuck"),
    }
    .is_told_apart();
}

#[test]
fn a_valve_that_passes_air_leaves_the_hose_blocked_and_one_that_does_not_is_stuck() {
    Pair {
        start: &[
            ("boost_seen", "1.05 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("what_off_means", "valve_unpowered"),
            ("air_from_hose_end", "nothing_moves"),
            ("air_at_canister", "canister_moves"),
            ("valve_ports_as_marked", "yes"),
        ],
        measured: "valve_passes_air",
        one: ("yes", "signal_hose_blocked"),
        other: ("no", "control_valve_stuck"),
    }
    .is_told_apart();
}

#[test]
fn air_22_k_colder_explains_a_fixed_setting_and_air_as_warm_leaves_the_valve() {
    Pair {
        start: &[
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.70 bar"),
            ("hose_is_sound", "yes"),
            ("what_off_means", "lowest_setting"),
            ("valve_ports_as_marked", "yes"),
            ("boost_with_plain_hose", "0.48 bar"),
            ("air_temperature_when_set", "24 °C ± 1"),
        ],
        measured: "air_temperature",
        one: ("2 °C ± 1", "open_loop_in_cold_air"),
        other: ("23 °C ± 1", "control_valve_stuck"),
    }
    .is_told_apart();
}

#[test]
fn a_plain_hose_that_brings_boost_down_on_a_cold_day_was_the_setting_and_else_the_port() {
    Pair {
        start: &[
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.62 bar"),
            ("what_off_means", "lowest_setting"),
            ("air_from_hose_end", "flap_opens"),
            ("air_temperature_when_set", "24 °C"),
            ("air_temperature", "2 °C"),
            ("rod_travel", "8.4 mm"),
            ("witness_travel", "8.2 mm"),
        ],
        measured: "boost_with_plain_hose",
        one: ("0.48 bar", "open_loop_in_cold_air"),
        other: ("0.89 bar", "gate_too_small"),
    }
    .is_told_apart();
}
