//! Drawings are to scale: a millimetre of the part is a millimetre on paper.

use boostwright::report::{html, svg};

use super::{planned, value};
use crate::built_in::built_in;

const CAR: &str = "two rotors, thin wall";
/// A hundredth is written; more than a tenth of a millimetre off is no drawing to cut by.
const WITHIN: f64 = 0.1;

/// The elements of a kind, each with its attributes as they are written.
fn elements<'s>(svg: &'s str, kind: &str) -> Vec<&'s str> {
    let start = format!("<{kind} ");
    svg.split(&start).skip(1).map(|rest| rest.split('>').next().unwrap()).collect()
}

fn attribute(element: &str, name: &str) -> f64 {
    let text = element.split(&format!("{name}=\"")).nth(1).unwrap().split('"').next().unwrap();
    text.trim_end_matches("mm").parse().unwrap()
}

fn length(line: &str) -> f64 {
    let along = |from, to| attribute(line, to) - attribute(line, from);
    along("x1", "x2").hypot(along("y1", "y2"))
}

#[track_caller]
fn has(lengths: &[f64], wanted_mm: f64) {
    let found = lengths.iter().any(|length| (length - wanted_mm).abs() <= WITHIN);
    assert!(found, "{wanted_mm} mm is not among {lengths:?}");
}

#[test]
fn what_is_drawn_measures_what_the_plan_says_to_a_tenth_of_a_millimetre() {
    let said = planned(built_in(), CAR, &[]);
    let svg = svg(&said).unwrap();
    // One unit of the picture is a millimetre of paper.
    let whole = elements(&svg, "svg")[0];
    let view = whole.split("viewBox=\"0 0 ").nth(1).unwrap().split('"').next().unwrap();
    let (width, height) = view.split_once(' ').unwrap();
    assert_eq!(attribute(whole, " width"), width.parse::<f64>().unwrap());
    assert_eq!(attribute(whole, "height"), height.parse::<f64>().unwrap());
    assert!(whole.contains("mm\""), "{whole}");

    let circles: Vec<f64> =
        elements(&svg, "circle").iter().map(|circle| 2.0 * attribute(circle, " r")).collect();
    let lines: Vec<f64> = elements(&svg, "line").iter().map(|line| length(line)).collect();
    let mm = |id: &str| value(&said, id).unwrap() * 1e3;
    // The answers: 25 mm to 30 mm, an outer lever of 30 mm.
    for diameter in [30.0, 25.0, mm("flap_diameter"), mm("pilot_port"), 60.0] {
        has(&circles, diameter);
    }
    for wanted in [
        50.0,
        mm("wall_left"),
        mm("arm_for_new_flap"),
        mm("lift_aimed_at"),
        mm("rod_travel_for_new_port"),
        mm("relief_at_stop"),
        2.0,
        3.0,
    ] {
        has(&lines, wanted);
    }
}

/// The thin wall is at 30° from the hinge, clockwise: up and to the right. The new bore is 1.0 mm to the other
/// side of the old one's middle.
#[test]
fn the_new_bore_is_set_over_away_from_the_thin_wall() {
    let svg = svg(&planned(built_in(), CAR, &[])).unwrap();
    let circles = elements(&svg, "circle");
    let middle = |diameter: f64| {
        let own = circles.iter().find(|circle| 2.0 * attribute(circle, " r") == diameter).unwrap();
        (attribute(own, "cx"), attribute(own, "cy"))
    };
    let ((new_x, new_y), (old_x, old_y)) = (middle(30.0), middle(25.0));
    // sin 30° and cos 30°; on paper y runs down.
    assert!((old_x - new_x - 0.5).abs() <= 0.02, "{old_x} {new_x}");
    assert!((new_y - old_y - 0.87).abs() <= 0.02, "{old_y} {new_y}");
}

#[test]
fn new_sizes_carry_a_tolerance_and_the_page_for_a_browser_holds_the_same_picture() {
    let said = planned(built_in(), CAR, &[]);
    let svg = svg(&said).unwrap();
    assert!(svg.contains("new port ⌀ 30.0 ± 0.1"), "{}", svg.as_str());
    assert!(svg.contains("This line must measure 50 mm"));
    let page = html(&said);
    assert!(page.contains("new port ⌀ 30.0 ± 0.1"));
    assert!(page.contains("Drawn to scale"));
}

#[test]
fn without_a_plan_there_is_nothing_to_draw_and_without_a_wall_no_wall_is_drawn() {
    let pack = built_in();
    let fuel = planned(pack, "four injectors of 550 at lambda 0.75", &[]);
    assert!(svg(&fuel).is_none());
    let unmeasured = svg(&planned(pack, CAR, &["wall_round_port"])).unwrap();
    assert!(!unmeasured.contains("thinnest wall"));
    assert!(unmeasured.contains("new port"));
}
