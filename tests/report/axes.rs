//! The axes of plots, by themselves.

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../src/report/axis.rs"]
mod axis;

use axis::Axis;

#[test]
fn ticks_are_round_numbers_inside_the_range() {
    let axis = Axis::over([16.0, 32.0].into_iter(), 5.0).unwrap();
    assert_eq!(axis.ticks(), [20.0, 25.0, 30.0]);
    assert_eq!(axis.rounded_out().ticks(), [15.0, 20.0, 25.0, 30.0, 35.0]);
}

#[test]
fn labels_have_the_digits_of_the_step() {
    let axis = Axis::over([0.31, 0.92].into_iter(), 4.0).unwrap().rounded_out();
    let labels: Vec<String> = axis.ticks().iter().map(|tick| axis.label(*tick)).collect();
    assert_eq!(labels, ["0.2", "0.4", "0.6", "0.8", "1.0"]);
}

#[test]
fn a_single_value_gets_room() {
    let axis = Axis::over([0.5].into_iter(), 4.0).unwrap();
    assert!(axis.low < 0.5 && axis.high > 0.5);
}

#[test]
fn what_no_step_can_tell_apart_has_no_axis() {
    assert_eq!(Axis::over([f64::MAX, f64::MIN].into_iter(), 4.0), None);
    assert_eq!(Axis::over([1.0, 1.0 + 1e-15].into_iter(), 4.0), None);
    assert_eq!(Axis::over([f64::NAN].into_iter(), 4.0), None);
}
