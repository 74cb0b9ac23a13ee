//! Cases whose answer can be written down, or integrated on a grid.

use boostwright::calibration::{Draws, Method, Model, Predictive, Reading, condition};

/// Readings of any functions of the inputs.
struct Functions<F>(usize, Vec<F>);

impl<F: Fn(&[f64]) -> Option<f64>> Model for Functions<F> {
    fn inputs(&self) -> usize {
        self.0
    }

    fn predict(&self, draws: &Draws) -> Vec<Vec<Option<f64>>> {
        let at = |f: &F| (0..draws.count()).map(|draw| f(&draws.point(draw))).collect();
        self.1.iter().map(at).collect()
    }
}

fn reading(value: f64, uncertainty: f64) -> Reading {
    Reading { value, uncertainty, holds: 1.0, otherwise_within: 1.0 }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn covariance(a: &[f64], b: &[f64]) -> f64 {
    let (ma, mb) = (mean(a), mean(b));
    a.iter().zip(b).map(|(a, b)| (a - ma) * (b - mb)).sum::<f64>() / a.len() as f64
}

/// Gelman et al., Bayesian Data Analysis, 3rd ed., 3.5 and 14.7: for y = A z + e with z standard
/// normal and e of variance s², the posterior's precision is I + AᵀA/s², its mean that inverse times
/// Aᵀy/s². Here y = z₀ + 2 z₁ = 3 with s = 0.5: AᵀA/s² = 4·[[1, 2], [2, 4]], the precision
/// [[5, 8], [8, 17]] with determinant 21, the mean (12, 24)·inverse = (12/21, 24/21), the covariance
/// [[17, −8], [−8, 5]]/21. A third input stays as it was.
#[test]
fn a_linear_reading_gives_the_closed_form() {
    let model = Functions(3, vec![|z: &[f64]| Some(z[0] + 2.0 * z[1])]);
    let found = condition(&model, &[reading(3.0, 0.5)], 1000).unwrap();
    assert_eq!(found.method, Method::Laplace);
    assert!(found.effective > 999.99, "{}", found.effective);
    let column = |input: usize| found.draws.column(input);
    let wanted_mean = [12.0 / 21.0, 24.0 / 21.0, 0.0];
    let wanted = [[17.0 / 21.0, -8.0 / 21.0, 0.0], [-8.0 / 21.0, 5.0 / 21.0, 0.0], [0.0, 0.0, 1.0]];
    for (a, row) in wanted.iter().enumerate() {
        assert!((mean(column(a)) - wanted_mean[a]).abs() < 1e-6, "{}", mean(column(a)));
        for (b, wanted) in row.iter().enumerate() {
            let found = covariance(column(a), column(b));
            assert!((found - wanted).abs() < 1e-6, "{a} {b}: {found} {wanted}");
        }
    }
}

/// A reading twice is one with an uncertainty smaller by √2, and a hundred times is no trouble.
#[test]
fn a_reading_often_is_narrower_than_once() {
    let line = |z: &[f64]| Some(z[0]);
    let once = condition(&Functions(1, vec![line]), &[reading(1.0, 1.0)], 1000).unwrap();
    let twice = Functions(1, vec![line, line]);
    let twice = condition(&twice, &[reading(1.0, 1.0); 2], 1000).unwrap();
    let often = condition(&Functions(1, vec![line; 100]), &[reading(1.0, 1.0); 100], 1000).unwrap();
    let variance = |draws: &Draws| covariance(draws.column(0), draws.column(0));
    assert!((variance(&once.draws) - 1.0 / 2.0).abs() < 1e-6);
    assert!((variance(&twice.draws) - 1.0 / 3.0).abs() < 1e-6);
    assert!((variance(&often.draws) - 1.0 / 101.0).abs() < 1e-6);
}

/// The moments of a density on one axis, by the trapezoidal rule.
fn moments(density: impl Fn(f64) -> f64) -> (f64, f64) {
    let at = |step: i32| f64::from(step) * 1e-3;
    let points = (-9000..=9000).map(at);
    let (mut all, mut first, mut second) = (0.0, 0.0, 0.0);
    for z in points {
        let weight = density(z);
        all += weight;
        first += weight * z;
        second += weight * z * z;
    }
    let mean = first / all;
    (mean, (second / all - mean * mean).sqrt())
}

/// A bend: exp(z) read as 3 ± 1, against integration on a grid.
#[test]
fn a_bent_reading_agrees_with_integration() {
    let model = Functions(4, vec![|z: &[f64]| Some(z[2].exp())]);
    let found = condition(&model, &[reading(3.0, 1.0)], 2000).unwrap();
    let density = |z: f64| (-z * z / 2.0 - (z.exp() - 3.0).powi(2) / 2.0).exp();
    let (wanted, deviation) = moments(density);
    let column = found.draws.column(2);
    assert!((mean(column) - wanted).abs() < 0.05 * deviation, "{} {wanted}", mean(column));
    let own = covariance(column, column).sqrt();
    assert!((own / deviation - 1.0).abs() < 0.05, "{own} {deviation}");
    assert!(mean(found.draws.column(0)).abs() < 0.05);
}

/// Two modes: z² read as 4 ± 0.4. Both sides must be found, each with half of the draws.
#[test]
fn two_modes_are_both_found() {
    let model = Functions(3, vec![|z: &[f64]| Some(z[0] * z[0])]);
    let found = condition(&model, &[reading(4.0, 0.4)], 2000).unwrap();
    let column = found.draws.column(0);
    let above = column.iter().filter(|z| **z > 0.0).count() as f64 / column.len() as f64;
    assert!((0.42..0.58).contains(&above), "{above} {:?}", found.method);
    let (_, deviation) = moments(|z| (-z * z / 2.0 - ((z * z - 4.0) / 0.4).powi(2) / 2.0).exp());
    let own = covariance(column, column).sqrt();
    assert!((own / deviation - 1.0).abs() < 0.05, "{own} {deviation}");
}

/// Where the model has no answer the inputs can't be: z > −0.2 given, and read as −1 ± 1.
#[test]
fn a_draw_that_the_model_refuses_weighs_nothing() {
    let model = Functions(2, vec![|z: &[f64]| (z[1] > -0.2).then_some(z[1])]);
    let found = condition(&model, &[reading(-1.0, 1.0)], 2000).unwrap();
    let column = found.draws.column(1);
    assert!(column.iter().all(|z| *z > -0.2));
    let density =
        |z: f64| if z > -0.2 { (-z * z / 2.0 - (z + 1.0).powi(2) / 2.0).exp() } else { 0.0 };
    let (wanted, deviation) = moments(density);
    assert!((mean(column) - wanted).abs() < 0.06 * deviation, "{} {wanted}", mean(column));
}

/// A condition that holds with one chance in two: the mixture on a grid.
#[test]
fn a_reading_that_may_be_of_something_else_counts_with_its_chance() {
    let model = Functions(1, vec![|z: &[f64]| Some(z[0])]);
    let doubtful = Reading { value: 2.5, uncertainty: 0.5, holds: 0.5, otherwise_within: 6.0 };
    let found = condition(&model, &[doubtful], 4000).unwrap();
    let normal = |off: f64| (-off * off / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let density = |z: f64| normal(z) * (0.5 * normal((2.5 - z) / 0.5) / 0.5 + 0.5 / 6.0);
    let (wanted, deviation) = moments(density);
    let column = found.draws.column(0);
    assert!((mean(column) - wanted).abs() < 0.1 * deviation, "{} {wanted}", mean(column));
    assert!((covariance(column, column).sqrt() / deviation - 1.0).abs() < 0.1);
}

/// Φ(−3.5)·2 = 4.653e−4 and Φ(−1.959964)·2 = 0.05 (Abramowitz and Stegun, table 26.1).
#[test]
fn a_reading_that_can_hardly_be_is_told_and_widened() {
    let answers: Vec<Option<f64>> = [-1.0, 1.0].repeat(5000).into_iter().map(Some).collect();
    let before = Predictive::over(&answers).unwrap();
    let off = 3.5 * before.deviation.hypot(0.1);
    let surprise = before.surprise(&reading(off, 0.1)).unwrap();
    assert!((surprise.chance - 4.653e-4).abs() < 1e-6, "{}", surprise.chance);
    let widened = off / before.deviation.hypot(surprise.uncertainty);
    assert!((widened - 1.959_964).abs() < 1e-5, "{widened}");
    assert_eq!(before.surprise(&reading(2.0, 0.1)), None);
}
