//! Every number of a plan against `tests/reference/plans.py`: geometry, the engine solved by other means, and
//! the preload found by trying whole gates.

use super::{in_force, of_car, planned, value};
use crate::built_in::built_in;
use crate::reference::table::{number, rows};

/// The burned gas of either side has its own source, which costs up to 4e-4 of a boost (see the tests of the
/// match); a preload is the difference of two such.
const SHARE: f64 = 1e-3;

const PORT: &str = "two litres, stroke too short";

/// Below this a number is nothing, in SI.
const NOTHING: f64 = 1e-9;

#[test]
fn every_number_of_seven_plans_is_that_of_the_sheet() {
    let pack = built_in();
    let mut cars: Vec<String> = rows("plans.csv").iter().map(|row| row["case"].clone()).collect();
    cars.dedup();
    assert!(cars.len() >= 6, "{cars:?}");
    let mut faults = Vec::new();
    for car in &cars {
        let said = planned(pack, car, &[]);
        for row in of_car(car, "expected") {
            let (id, expected) = (&row["id"], number(&row["value"]));
            let found = value(&said, id);
            let off = found.map(|found| (found - expected).abs());
            if off.is_none_or(|off| off > NOTHING + SHARE * expected.abs()) {
                faults.push(format!("{car}: {id} is {found:?}, not {expected}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Half a bar to either side would be a forecast that no repair can miss. With port and engine known, base boost is known to
/// less than a tenth; by the bench alone, to twice that.
#[test]
fn base_boost_is_forecast_so_closely_that_a_repair_can_fail_it() {
    let pack = built_in();
    let width = |without: &[&str]| {
        let said = planned(pack, PORT, without);
        let line = said.workings.iter().find(|working| working.id == "base_expected").unwrap();
        line.high - line.low
    };
    let (known, bench) = (width(&[]), width(&["port_diameter"]));
    assert!(known < 0.1e5, "{known}");
    assert!(bench > 2.0 * known, "{bench} {known}");
}

/// 27 mm are asked to lift by 9 mm, and rod, stroke and forecast are worked out for that lift.
#[test]
fn a_stroke_that_is_too_short_for_the_one_lift_is_said_before_cutting() {
    let said = planned(built_in(), "two litres, stroke too short", &[]);
    assert!(in_force(&said, "stroke_too_short"));
    assert!(value(&said, "stroke_to_spare").unwrap() < 0.0);
}

#[test]
fn a_preload_too_small_for_the_larger_flap_is_said_with_the_pressure_that_brings_the_wanted_base() {
    let pack = built_in();
    let name = "two point three litres, preload for the new flap";
    let said = planned(pack, name, &[]);
    assert!(in_force(&said, "base_would_fall_short"));
    assert!(value(&said, "crack_to_set").unwrap() > 0.46e5);
}

/// By hand: 6.5 mm of draw bring the first movement from 0.42 to 0.68 bar; (0.68 - 0.45)/(0.26/6.5) = 5.75 turns
/// of 1 mm, of 6.5 mm of draw.
#[test]
fn turns_that_leave_no_draw_are_not_the_cure() {
    let said = planned(built_in(), "an actuator with too stiff a spring", &[]);
    assert!((value(&said, "turns_to_back_off").unwrap() - 5.75).abs() < 0.01);
    assert!((value(&said, "draw_left").unwrap() - 0.75e-3).abs() < 0.01e-3);
    assert!(in_force(&said, "no_draw_left"));
    // 0.0009 mm² behind a hose of 4 mm do nothing.
    assert!(!in_force(&said, "leak_adds_boost"));
}

/// 5 mm of wall and 2.5 mm of growth leave 2.5 mm where the bore stays in the middle: nothing is cut.
#[test]
fn a_bore_that_is_not_set_over_from_a_thin_wall_is_forbidden() {
    let pack = built_in();
    let over = planned(pack, "two rotors, thin wall", &[]);
    assert!(!in_force(&over, "wall_too_thin"));
    let middle = planned(pack, "two rotors, thin wall", &["planned_set_over"]);
    assert!(in_force(&middle, "wall_too_thin"));
    assert!((value(&middle, "bore_set_over").unwrap() - 1e-3).abs() < 1e-9);
    let cut = middle.planned.iter().chain(&middle.next_work).any(|work| work.id == "open_the_port");
    assert!(!cut);
}
