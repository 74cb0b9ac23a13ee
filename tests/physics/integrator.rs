//! One step of the integrator of pulls, against what is published of its method.

#[path = "../../src/physics/spool/dormand_prince.rs"]
mod dormand_prince;

use dormand_prince::step;

/// On y' = y a step of width z multiplies by a polynomial, in which every weight of every stage has its
/// part: that of the exponential up to z⁵, and z⁶/600 (Hairer and Wanner, *Solving Ordinary Differential
/// Equations II*, IV.2, on DOPRI5).
#[test]
fn on_a_linear_equation_a_step_is_the_published_polynomial() {
    for width in [-3.0, -0.5, 1e-3, 0.25, 1.0, 2.0, 4.0] {
        let wanted: f64 = [1.0, 1.0, 2.0, 6.0, 24.0, 120.0, 600.0]
            .into_iter()
            .zip(0..)
            .map(|(divisor, power)| f64::powi(width, power) / divisor)
            .sum();
        let step = step(&[1.0], &[1.0], width, |state| Some(*state)).unwrap();
        assert!((step.end[0] - wanted).abs() < 1e-13 * wanted.abs().max(1.0), "{width}");
        assert_eq!(step.end_slope, step.end);
    }
}

/// An equation that hangs on time, as a state of its own: the cubic is met exactly, since that needs
/// order 3 only, and neither order knows of an error.
#[test]
fn a_cubic_in_time_is_met_exactly() {
    let rise = |state: &[f64; 2]| Some([1.0, 3.0 * state[0] * state[0] - 2.0 * state[0] + 1.0]);
    for width in [0.1, 1.0, 2.0] {
        let step = step(&[0.0, 0.0], &[1.0, 1.0], width, rise).unwrap();
        let cubic = width * width * width - width * width + width;
        assert!((step.end[0] - width).abs() < 1e-14, "{width}");
        assert!((step.end[1] - cubic).abs() < 1e-14 * (1.0 + cubic), "{width}");
        assert!(step.error.iter().all(|error| error.abs() < 1e-14), "{width}: {:?}", step.error);
    }
}

/// The pendulum of unit frequency is a circle; halving the width makes a step's error smaller by 2⁶
/// and what the companion tells by 2⁵.
#[test]
fn a_step_is_of_order_five_and_knows_its_error() {
    let circle = |state: &[f64; 2]| Some([state[1], -state[0]]);
    let [wide, narrow] = [0.4, 0.2].map(|width: f64| {
        let step = step(&[1.0, 0.0], &[0.0, -1.0], width, circle).unwrap();
        let error = (step.end[0] - width.cos()).hypot(step.end[1] + width.sin());
        (error, step.error[0].hypot(step.error[1]))
    });
    assert!((wide.0 / narrow.0).log2() > 5.5, "{} {}", wide.0, narrow.0);
    assert!((wide.1 / narrow.1).log2() > 4.5, "{} {}", wide.1, narrow.1);
    assert!(narrow.0 < narrow.1);
}
