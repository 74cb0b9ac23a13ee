//! Told apart at the gauge: its error, its unit, and the place it is connected to.

use super::pair::Pair;

const LEVEL: [(&str, &str); 5] = [
    ("boost_seen", "0.70 bar"),
    ("expected_base_boost", "0.48 bar"),
    ("expected_from", "from_print"),
    ("boost_over_the_pull", "level"),
    ("unit_on_dial", "yes"),
];

#[test]
fn a_gauge_that_shows_too_much_at_half_a_bar_is_at_fault_and_a_true_one_leaves_the_preload() {
    Pair {
        start: &LEVEL,
        measured: "gauge_at_half_bar",
        one: ("0.69 bar", "gauge_reads_high"),
        other: ("0.50 bar", "preload_too_high"),
    }
    .is_told_apart();
}

#[test]
fn a_second_gauge_that_reads_less_blames_the_first_and_one_that_agrees_the_preload() {
    Pair {
        start: &LEVEL,
        measured: "boost_by_second_gauge",
        one: ("0.49 bar", "gauge_reads_high"),
        other: ("0.69 bar", "preload_too_high"),
    }
    .is_told_apart();
}

#[test]
fn a_reading_far_off_is_the_gauge_where_its_unit_was_read_and_the_unit_where_it_was_not() {
    Pair {
        start: &[
            ("boost_seen", "0.86 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("boost_over_the_pull", "level"),
            ("gauge_at_half_bar", "0.73 bar"),
        ],
        measured: "unit_on_dial",
        one: ("yes", "gauge_reads_high"),
        other: ("no", "gauge_unit_misread"),
    }
    .is_told_apart();
}

#[test]
fn a_display_at_one_bar_with_the_engine_off_is_absolute_and_one_a_little_up_reads_high() {
    Pair {
        start: &[("boost_seen", "1.48 bar"), ("expected_base_boost", "0.48 bar")],
        measured: "gauge_at_rest",
        one: ("1.01 bar", "gauge_unit_misread"),
        other: ("0.12 bar", "gauge_reads_high"),
    }
    .is_told_apart();
}

#[test]
fn a_gauge_at_the_compressor_reads_more_by_its_place_and_one_at_the_plenum_by_its_error() {
    Pair {
        start: &[
            ("last_work", "gauge_work"),
            ("boost_seen", "0.62 bar"),
            ("expected_base_boost", "0.48 bar"),
            ("unit_on_dial", "yes"),
            ("boost_by_second_gauge", "0.48 bar"),
        ],
        measured: "gauge_tapped_at",
        one: ("tap_at_compressor", "gauge_tapped_before_throttle"),
        other: ("tap_at_plenum", "gauge_reads_high"),
    }
    .is_told_apart();
}
