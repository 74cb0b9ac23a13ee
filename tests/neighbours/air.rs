//! Told apart by regulated air, standing still: hose, canister, lever, flap.

use super::pair::Pair;

#[test]
fn air_that_escapes_though_the_canister_holds_is_the_hose_and_else_the_diaphragm() {
    Pair {
        start: &[
            ("boost_seen", "1.02 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "races"),
            ("air_from_hose_end", "air_escapes"),
        ],
        measured: "air_at_canister",
        one: ("canister_moves", "signal_hose_open"),
        other: ("canister_leaks", "diaphragm_split"),
    }
    .is_told_apart();
}

#[test]
fn bubbles_show_whether_hose_or_canister_leaks() {
    Pair {
        start: &[
            ("boost_seen", "0.98 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("air_from_hose_end", "air_escapes"),
        ],
        measured: "hiss_from",
        one: ("hiss_at_hose", "signal_hose_open"),
        other: ("hiss_at_canister", "diaphragm_split"),
    }
    .is_told_apart();
}

#[test]
fn a_canister_that_moves_with_air_of_its_own_leaves_hose_open_or_blocked() {
    Pair {
        start: &[
            ("boost_seen", "1.02 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "races"),
            ("what_off_means", "plain_hose_fitted"),
            ("air_at_canister", "canister_moves"),
        ],
        measured: "air_from_hose_end",
        one: ("air_escapes", "signal_hose_open"),
        other: ("nothing_moves", "signal_hose_blocked"),
    }
    .is_told_apart();
}

#[test]
fn air_at_the_canister_tells_a_seized_rod_from_a_blocked_hose() {
    Pair {
        start: &[
            ("boost_seen", "1.02 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("what_off_means", "plain_hose_fitted"),
            ("air_from_hose_end", "nothing_moves"),
            ("lever_is_free", "yes"),
        ],
        measured: "air_at_canister",
        one: ("canister_holds", "actuator_seized"),
        other: ("canister_moves", "signal_hose_blocked"),
    }
    .is_told_apart();
}

#[test]
fn a_lever_free_by_hand_is_the_canister_and_a_tight_one_the_shaft() {
    Pair {
        start: &[
            ("boost_seen", "1.02 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("air_from_hose_end", "nothing_moves"),
            ("air_at_canister", "canister_holds"),
        ],
        measured: "lever_is_free",
        one: ("yes", "actuator_seized"),
        other: ("no", "gate_pivot_stuck"),
    }
    .is_told_apart();
}

#[test]
fn an_unhooked_rod_that_stays_still_is_seized_and_one_that_moves_had_a_tight_lever() {
    Pair {
        start: &[
            ("boost_seen", "1.02 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("air_at_canister", "canister_holds"),
            ("canister_port_is_right", "yes"),
        ],
        measured: "rod_alone_moves",
        one: ("no", "actuator_seized"),
        other: ("yes", "gate_pivot_stuck"),
    }
    .is_told_apart();
}

#[test]
fn a_still_canister_is_seized_unless_the_hose_sits_on_its_closing_side() {
    Pair {
        start: &[
            ("last_work", "turbo_work"),
            ("boost_seen", "1.10 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("air_from_hose_end", "nothing_moves"),
            ("air_at_canister", "canister_holds"),
            ("lever_is_free", "yes"),
        ],
        measured: "canister_port_is_right",
        one: ("yes", "actuator_seized"),
        other: ("no", "wrong_side_of_canister"),
    }
    .is_told_apart();
}

#[test]
fn a_rod_that_moves_without_its_flap_slips_and_with_it_the_port_is_too_small() {
    Pair {
        start: &[
            ("boost_seen", "0.93 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("rod_fully_out", "0.62 bar"),
            ("rod_travel", "8.4 mm"),
            ("witness_travel", "8.2 mm"),
        ],
        measured: "air_from_hose_end",
        one: ("rod_only", "arm_slips_on_shaft"),
        other: ("flap_opens", "gate_too_small"),
    }
    .is_told_apart();
}
