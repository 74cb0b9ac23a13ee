//! Values, repeated readings and tables, on the scripted twin.

use boostwright::terminal::{Ended, Finish};

use super::garage::{Held, Memory, garage, go_on, talk};

/// As far as the first value, then these lines.
fn first_value(lines: &[&str]) -> Held {
    let start = ["y", "1"];
    talk(&garage(), &[&start[..], lines].concat())
}

/// As far as the readings that are repeated, then these lines.
fn readings(lines: &[&str]) -> Held {
    let start = ["y", "1", "0.4 bar", "c"];
    talk(&garage(), &[&start[..], lines].concat())
}

/// As far as the table, then these lines.
fn table(lines: &[&str]) -> Held {
    let start = ["y", "1", "0.4 bar"];
    talk(&garage(), &[&start[..], lines].concat())
}

#[test]
fn the_unit_the_range_and_what_is_normal_stand_below_the_question() {
    let held = first_value(&["s"]);
    assert!(held.says("Gauge pressure in bar, 0.1 to 2 bar."), "{}", held.said);
    assert!(held.says("Normal: 0.3 to 0.5 bar."));
}

#[test]
fn a_comma_does_for_the_point() {
    let held = first_value(&["0,42 bar", "s"]);
    assert!(held.says("Taken as 0.420 ± 0.020 bar."), "{}", held.said);
}

#[test]
fn a_missing_unit_is_taken_only_once_the_person_has_seen_which() {
    let held = first_value(&["0.42", "y", "s"]);
    assert!(held.says("No unit given. Is it 0.42 bar?"));
    assert_eq!(held.memory.lines()[2], "opens_at=0.42 bar");
}

#[test]
fn a_missing_unit_that_is_not_the_usual_one_is_typed_again() {
    let held = first_value(&["6", "6 psi", "s"]);
    assert!(
        held.says("6 bar is outside the plausible range"),
        "six bar is out of range: {}",
        held.said
    );
    let held = first_value(&["0.9", "n", "6 psi", "s"]);
    assert!(held.says("Then type the number with its unit."));
    assert_eq!(held.memory.lines()[2], "opens_at=6 psi");
}

#[test]
fn the_value_with_its_unit_may_be_typed_where_the_unit_is_asked_back() {
    let held = first_value(&["0.9", "0,95 bar", "s"]);
    assert_eq!(held.memory.lines()[2], "opens_at=0,95 bar", "{}", held.said);
    let held = first_value(&["0.9", "6 psi", "s"]);
    assert_eq!(held.memory.lines()[2], "opens_at=6 psi", "{}", held.said);
}

#[test]
fn a_look_at_the_help_keeps_the_readings_typed_so_far() {
    for wish in ["h", "w", "?"] {
        let held = readings(&["0.9 bar", "0.92 bar", wish, "0.91 bar", "s"]);
        assert_eq!(held.memory.lines()[4], "peak=0.9 bar; 0.92 bar; 0.91 bar", "{}", held.said);
        assert!(held.says("So far: 0.9 bar; 0.92 bar."), "{}", held.said);
    }
    let held = readings(&["0.9 bar", "h", "", "s"]);
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar");
}

#[test]
fn a_look_at_the_help_keeps_the_rows_and_the_cells_of_a_table() {
    let held = table(&["0.4 bar", "0 mm", "0.6 bar", "h", "5 mm", "", "s"]);
    assert_eq!(held.memory.lines()[3], "travel={0.4 bar, 0 mm; 0.6 bar, 5 mm}", "{}", held.said);
}

#[test]
fn a_typed_uncertainty_keeps_its_place_when_the_unit_is_added() {
    let held = first_value(&["0.42 ± 0.01", "y", "s"]);
    assert_eq!(held.memory.lines()[2], "opens_at=0.42 ± 0.01 bar");
    let held = first_value(&["0.42 ± 2 %", "y", "s"]);
    assert_eq!(held.memory.lines()[2], "opens_at=0.42 bar ± 2 %");
}

#[test]
fn out_of_range_is_asked_again_with_the_range() {
    let held = first_value(&["4.2 bar", "0.42 bar", "s"]);
    assert!(held.says("outside the plausible range (0.1 to 2 bar)"), "{}", held.said);
    assert_eq!(held.memory.lines()[2], "opens_at=0.42 bar");
}

#[test]
fn what_is_no_value_is_told_and_asked_again() {
    let nonsense = [
        ("42 mm", "mm is a unit of length"),
        ("abc", "there is no number in abc"),
        ("1 bar 2 psi", "holds more than one number"),
        ("nan bar", "is not a number that could be measured"),
        ("", "Type a number with its unit, bar"),
    ];
    for (typed, told) in nonsense {
        let held = first_value(&[typed, "0.42 bar", "s"]);
        assert!(held.says(told), "{typed}: {}", held.said);
        assert_eq!(held.memory.lines()[2], "opens_at=0.42 bar");
    }
}

#[test]
fn ten_megabytes_are_refused_and_not_echoed_by_the_refusal() {
    let paste = "9".repeat(10_000_000);
    let held = first_value(&[&paste, "s"]);
    assert!(held.said.contains("longer than 200 letters"));
    assert_eq!(held.memory.kept.len(), 2);
}

#[test]
fn readings_are_typed_one_a_line() {
    let held = readings(&["0.9 bar", "0.92 bar", "0.91 bar", "s"]);
    assert!(held.says("3 readings, one per line; an empty line ends early."));
    assert!(held.says("3/3 > 0.91 bar"));
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar; 0.92 bar; 0.91 bar");
}

#[test]
fn an_empty_line_ends_the_readings_sooner_but_not_before_the_first() {
    let held = readings(&["", "0.9 bar", "", "s"]);
    assert!(held.says("Type a number with its unit"));
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar");
}

#[test]
fn several_readings_on_one_line_are_all_of_them() {
    let held = readings(&["0.9; 0.92; 0.91 bar", "s"]);
    assert_eq!(held.memory.lines()[4], "peak=0.9; 0.92; 0.91 bar");
}

#[test]
fn a_unit_agreed_to_holds_for_the_readings_that_follow() {
    let held = readings(&["0.9", "y", "0.92", "0.91", "s"]);
    assert_eq!(held.times("No unit given"), 1);
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar; 0.92 bar; 0.91 bar");
}

/// Whoever reads one gauge in psi reads the next so, too.
#[test]
fn the_unit_of_a_pressure_is_remembered_for_the_next() {
    let start = ["y", "1", "6 psi", "c"];
    let held = talk(&garage(), &[&start[..], &["13", "y", "13.2", "13.1", "s"]].concat());
    assert!(held.says("No unit given. Is it 13 psi?"), "{}", held.said);
    assert_eq!(held.memory.lines()[4], "peak=13 psi; 13.2 psi; 13.1 psi");
    // What is typed with a unit of its own is taken as it is.
    let held = talk(&garage(), &[&start[..], &["0.9 bar", "s"]].concat());
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar");
}

#[test]
fn back_among_readings_goes_to_the_one_before() {
    let held = readings(&["0.9 bar", "0.5 bar", "b", "0.92 bar", "0.91 bar", "s"]);
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar; 0.92 bar; 0.91 bar");
}

#[test]
fn readings_that_were_broken_off_go_on_where_they_were() {
    let broken = readings(&["0.9 bar", "0.92 bar"]);
    assert_eq!(broken.end, Err(Ended::Gone));
    assert_eq!(broken.memory.lines()[4], "peak=0.9 bar; 0.92 bar");
    let held = go_on(&garage(), broken.memory, &["0.91 bar", "s"]);
    assert!(held.says("So far: 0.9 bar; 0.92 bar."), "{}", held.said);
    assert_eq!(held.memory.lines()[4], "peak=0.9 bar; 0.92 bar; 0.91 bar");
}

#[test]
fn a_table_is_typed_cell_by_cell_and_ends_with_an_empty_line() {
    let held = table(&["0.4 bar", "0 mm", "0.6 bar", "5 mm", "", "s"]);
    assert!(held.says("One row at a time: pressure in bar, then travel in mm."));
    assert!(held.says("row 2, travel > 5 mm"));
    assert_eq!(held.memory.lines()[3], "travel={0.4 bar, 0 mm; 0.6 bar, 5 mm}");
}

#[test]
fn a_table_of_one_row_is_not_enough() {
    let held = table(&["0.4 bar", "0 mm", "", "0.6 bar", "5 mm", "", "s"]);
    assert!(held.says("A table needs at least 2 rows"));
    assert_eq!(held.memory.lines()[3], "travel={0.4 bar, 0 mm; 0.6 bar, 5 mm}");
}

#[test]
fn a_unit_agreed_to_holds_down_its_column() {
    let held = table(&["0.4", "y", "0", "y", "0.6", "5", "", "s"]);
    assert_eq!(held.times("No unit given"), 2, "once a column");
    assert_eq!(held.memory.lines()[3], "travel={0.4 bar, 0 mm; 0.6 bar, 5 mm}");
}

#[test]
fn back_in_a_table_goes_to_the_cell_before() {
    let held = table(&["0.4 bar", "b", "0.5 bar", "1 mm", "0.6 bar", "5 mm", "", "s"]);
    assert_eq!(held.memory.lines()[3], "travel={0.5 bar, 1 mm; 0.6 bar, 5 mm}");
}

#[test]
fn a_value_that_is_looked_at_again_stays_what_it_was() {
    let held = first_value(&["0.42 bar", "b", "0.42 bar", "s"]);
    assert_eq!(held.end, Ok(Finish::Stopped));
    assert_eq!(held.memory.lines()[2], "opens_at=0.42 bar");
}

#[test]
fn nothing_is_kept_of_a_value_whose_unit_was_not_agreed_to() {
    let held = go_on(&garage(), Memory::default(), &["y", "1", "0.42"]);
    assert_eq!(held.end, Err(Ended::Gone));
    assert_eq!(held.memory.kept.len(), 2);
}
