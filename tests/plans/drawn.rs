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

/// The arc's radius and chord, mm.
fn arc(path: &str) -> (f64, f64) {
    let text = path.split(" d=\"").nth(1).unwrap().split('"').next().unwrap();
    let numbers: Vec<f64> = text.split(' ').filter_map(|part| part.parse().ok()).collect();
    let [x1, y1, radius, _, _, _, _, x2, y2] = numbers[..] else { panic!("{text}") };
    (radius, (x2 - x1).hypot(y2 - y1))
}

/// By hand: 30 mm lift by 10 mm on an arm of 27 + 0.3 + 1 · cos 30° - 0.5 = 27.67 mm, which is asin(10/27.67) = 21.19°;
/// the present flap lifts by 8 mm on 27 mm, 17.24°. A chord is 2 r sin(angle/2).
#[test]
fn the_swing_of_the_arm_is_drawn_with_its_stop() {
    let svg = svg(&planned(built_in(), CAR, &[])).unwrap();
    let arm = 27.3 + 30.0_f64.to_radians().cos() - 0.5;
    let swings = [
        (arm + 36.0 / 2.0 + 4.0, (10.0 / arm).asin(), "swing from shut to the stop 21.2°"),
        (arm / 2.0, (8.0_f64 / 27.0).asin(), "swing to the stop as it is 17.2°"),
    ];
    let arcs: Vec<(f64, f64)> = elements(&svg, "path").iter().map(|path| arc(path)).collect();
    assert_eq!(arcs.len(), swings.len());
    for ((radius, chord), (wanted, swing, label)) in arcs.iter().zip(swings) {
        assert!((radius - wanted).abs() <= WITHIN, "{radius} {wanted}");
        let by_hand = 2.0 * wanted * (swing / 2.0).sin();
        assert!((chord - by_hand).abs() <= WITHIN, "{chord} {by_hand}");
        assert!(svg.contains(label), "{}", svg.as_str());
    }
    let lines: Vec<f64> = elements(&svg, "line").iter().map(|line| length(line)).collect();
    // The stop, and the present arm at it.
    has(&lines, 5.0);
    has(&lines, 27.0);
    assert!(svg.contains("stop, as planned"));
}

/// 38 mm out at 45° are 26.87 mm to the right and up from the middle of the port as it is now; 36 mm at 135° are 25.46
/// mm right and down; 37 mm at 300° are 32.04 mm left and 18.50 mm up.
#[test]
fn the_studs_lie_where_they_were_measured_and_only_where_they_were() {
    let pack = built_in();
    let drawn = svg(&planned(pack, CAR, &[])).unwrap();
    let circles = |diameter: f64| -> Vec<(f64, f64)> {
        let own = elements(&drawn, "circle");
        let own =
            own.iter().filter(|circle| (2.0 * attribute(circle, " r") - diameter).abs() < 0.02);
        own.map(|circle| (attribute(circle, "cx"), attribute(circle, "cy"))).collect()
    };
    let (port_x, port_y) = circles(25.0)[0];
    let studs = circles(10.0);
    assert_eq!(studs.len(), 3);
    for ((x, y), (right, up)) in
        studs.iter().zip([(26.87, 26.87), (25.46, -25.46), (-32.04, 18.50)])
    {
        assert!((x - port_x - right).abs() <= WITHIN, "{x} {port_x} {right}");
        assert!((port_y - y - up).abs() <= WITHIN, "{y} {port_y} {up}");
    }
    assert!(drawn.contains("stud ⌀ 10.0"));
    assert!(!svg(&planned(pack, CAR, &["flange_studs"])).unwrap().contains("stud ⌀"));
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
