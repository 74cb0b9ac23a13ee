//! The root finder, where roots are known.

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../src/physics/root.rs"]
mod root;

use root::bracketed;

#[test]
fn a_root_is_found_to_the_last_digits() {
    let root = bracketed(0.0, 2.0, |x| x * x - 2.0).unwrap();
    assert!((root - 2f64.sqrt()).abs() < 1e-15);
}

#[test]
fn a_steep_function_still_ends_at_its_root() {
    let root = bracketed(0.0, 1.0, |x| (x - 0.3).powi(9)).unwrap();
    assert!((root - 0.3).abs() < 1e-9);
    let root = bracketed(1e-9, 1.0, |x| 1.0 / x - 1e6).unwrap();
    assert!((root - 1e-6).abs() < 1e-20);
}

#[test]
fn an_infinite_end_is_as_good_as_any() {
    let root = bracketed(0.0, 1.0, |x| 1.0 / x - 4.0).unwrap();
    assert!((root - 0.25).abs() < 1e-15);
}

#[test]
fn ends_of_one_sign_and_values_that_are_no_numbers_give_nothing() {
    assert_eq!(bracketed(0.0, 1.0, |x| x + 1.0), None);
    assert_eq!(bracketed(-1.0, 1.0, |x| if x.abs() < 0.5 { f64::NAN } else { x }), None);
}
