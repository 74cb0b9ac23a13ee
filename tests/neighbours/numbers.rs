//! Told apart by a measurement on the bench: travel, lift, first movement, friction and heat.

use super::pair::Pair;

#[test]
fn lift_of_a_quarter_of_the_port_leaves_the_port_and_less_is_the_lift() {
    Pair {
        start: &[
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "climbs"),
            ("air_from_hose_end", "flap_opens"),
            ("port_diameter", "19 mm"),
        ],
        measured: "flap_lift",
        one: ("6.4 mm", "gate_too_small"),
        other: ("2.6 mm", "lift_limited"),
    }
    .is_told_apart();
}

#[test]
fn travel_won_by_taking_the_pipe_off_is_the_pipes_and_else_the_port_is_too_small() {
    Pair {
        start: &[
            ("last_work", "exhaust_work"),
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "climbs"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_travel", "6.2 mm"),
        ],
        measured: "rod_travel_pipe_off",
        one: ("9.3 mm", "flap_fouls_pipe"),
        other: ("6.3 mm", "gate_too_small"),
    }
    .is_told_apart();
}

#[test]
fn wax_squeezed_thin_is_the_pipe_and_wax_left_thick_the_port() {
    Pair {
        start: &[
            ("last_work", "exhaust_work"),
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "climbs"),
        ],
        measured: "gap_behind_flap",
        one: ("0.0 mm", "flap_fouls_pipe"),
        other: ("2.7 mm", "gate_too_small"),
    }
    .is_told_apart();
}

#[test]
fn a_late_start_that_goes_with_the_preload_was_preload_and_one_that_stays_is_the_spring() {
    Pair {
        start: &[
            ("boost_seen", "0.74 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "level"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_starts_to_move", "0.60 bar"),
            ("rod_fully_out", "0.88 bar"),
            ("spring_marked", "0.38 bar"),
        ],
        measured: "crack_without_preload",
        one: ("0.24 bar", "preload_too_high"),
        other: ("0.52 bar", "spring_too_stiff"),
    }
    .is_told_apart();
}

#[test]
fn a_first_movement_on_its_label_leaves_only_the_wish_and_above_it_the_preload() {
    Pair {
        start: &[
            ("boost_seen", "0.55 bar"),
            ("expected_base_boost", "0.33 bar"),
            ("boost_over_the_pull", "level"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_starts_to_move", "0.45 bar"),
            ("rod_fully_out", "0.72 bar"),
        ],
        measured: "spring_marked",
        one: ("0.45 bar", "controller_limit_misunderstood"),
        other: ("0.25 bar", "preload_too_high"),
    }
    .is_told_apart();
}

#[test]
fn a_rod_that_starts_later_hot_than_cold_binds_and_one_that_starts_alike_does_not() {
    Pair {
        start: &[
            ("boost_seen", "0.90 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "climbs"),
            ("air_from_hose_end", "flap_opens"),
            ("rod_starts_to_move", "0.38 bar"),
            ("rod_fully_out", "0.62 bar"),
        ],
        measured: "rod_first_move_hot",
        one: ("0.66 bar", "gate_binds_hot"),
        other: ("0.40 bar", "gate_too_small"),
    }
    .is_told_apart();
}
