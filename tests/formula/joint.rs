//! Comparisons that share inputs: their joint probability under the normal distribution.
//!
//! The rectangle probabilities of two variables are from scipy 1.17.1,
//! `stats.multivariate_normal.cdf`, and agree there to fourteen digits with `integrate.quad` of the
//! conditional probability.

use super::workbench::{Bench, close, number};

/// Two differences of size 5 that share `base`: correlation 9/25, or −9/25 where one is turned.
fn pair() -> Bench {
    Bench(vec![number("base", "0 ± 3"), number("p", "0 ± 4"), number("q", "0 ± 4")])
}

fn chance(names: &Bench, formula: &str) -> f64 {
    names.evaluator().chance(&names.sound(formula)).expect(formula)
}

#[test]
fn two_comparisons_with_a_common_input_agree_with_the_bivariate_normal() {
    for (formula, expected) in [
        ("base + p > 0 and base + q > 0", 0.308_611_655_622),
        ("base + p > 5 and base + q > -2.5", 0.137_423_650_700),
        ("base + p > 10 and base + q > 5", 0.009_970_771_276),
        ("base + p > 5 and q - base > -2.5", 0.076_116_092_972),
    ] {
        close(chance(&pair(), formula), expected, 1e-8);
    }
}

#[test]
fn nearly_the_same_quantity_twice_agrees_with_the_bivariate_normal() {
    // Variance 24 in common, 1 each apart: correlation 0.96, size 5.
    let names = Bench(vec![
        number("base", "0 ± 4.898979485566356"),
        number("p", "0 ± 1"),
        number("q", "0 ± 1"),
    ]);
    let formula = "base + p > 2.5 and base + q > 1";
    close(chance(&names, formula), 0.300_624_978_032, 1e-8);
    let formula = "base + p > -5 and base + p < 1.5 and base + q > -1 and base + q < 4.5";
    close(chance(&names, formula), 0.198_285_385_704, 1e-8);
}

#[test]
fn three_comparisons_agree_with_the_orthant_probability() {
    // 1/8 + (3/(4π))·asin 0.36 for three equal correlations (Kendall); 50,000 draws hold it to
    // 0.002 each standard deviation.
    let names = Bench(vec![
        number("base", "0 ± 3"),
        number("p", "0 ± 4"),
        number("q", "0 ± 4"),
        number("r", "0 ± 4"),
    ]);
    let formula = "base + p > 0 and base + q > 0 and base + r > 0";
    let expected = 0.125 + 3.0 * 0.36_f64.asin() / (4.0 * std::f64::consts::PI);
    assert!((chance(&names, formula) - expected).abs() < 0.006);
}

#[test]
fn comparisons_that_share_nothing_are_independent() {
    let names = Bench(vec![number("p", "0 ± 4"), number("q", "0 ± 4")]);
    close(chance(&names, "p > 0 and q > 0"), 0.25, 1e-12);
}

#[test]
fn one_quantity_between_two_limits_is_one_variable() {
    // Φ(1) − Φ(−1) = 0.682689492137 (tables of the normal distribution).
    let names = Bench(vec![number("p", "0 ± 4")]);
    close(chance(&names, "p > -4 and p < 4"), 0.682_689_492_137, 1e-9);
    close(chance(&names, "p > 4 and p < -4"), 0.0, 0.0);
    close(chance(&names, "p > 4 or p < 9"), 1.0, 1e-12);
}
