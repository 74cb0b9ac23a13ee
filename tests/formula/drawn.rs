//! Every kind of step of a formula at random draws, where the distribution of the result is known in
//! closed form. Of one root each of 10,000 slices of equal chance is drawn once, so that an end of a
//! band lies within a slice of where the distribution has it.

use boostwright::formula::{Band, BandFrom};

use super::workbench::{Bench, choice, close, missing, number, truth};
use boostwright::quantity::GaugePressure;

/// Quantiles of |x| for a standard normal x, 2.5 % and 97.5 %: z at 0.5125 and at 0.9875 (tables of
/// the normal distribution).
const FOLDED: [f64; 2] = [0.031_338, 2.241_403];

fn bench() -> Bench {
    Bench(vec![
        number("x", "0 ± 1"),
        truth("yes", true, 1.0),
        choice("colour", &["black", "white"], 0, 1.0),
        missing::<GaugePressure>("boost"),
    ])
}

fn drawn(formula: &str) -> (Band, f64) {
    let band = bench().worked(formula).unwrap_or_else(|why| panic!("{formula}: {why}")).band;
    let BandFrom::MonteCarlo { refused, draws } = band.from else {
        panic!("{formula}: first order");
    };
    let share = refused as f64 / draws as f64;
    (band, share)
}

fn ends(formula: &str, [low, high]: [f64; 2]) {
    let (band, refused) = drawn(formula);
    assert!((band.low - low).abs() < 1e-3, "{formula}: {} instead of {low}", band.low);
    assert!((band.high - high).abs() < 5e-3, "{formula}: {} instead of {high}", band.high);
    close(refused, 0.0, 0.0);
}

#[test]
fn the_size_of_a_normal_variable_is_found_on_every_way_to_it() {
    for formula in [
        "abs(x)",
        "max(x, -x)",
        "-min(x, -x)",
        "-least_known(x, -x)",
        "sqrt(x * x)",
        "(x ^ 2) ^ 0.5",
        "if x < 0 then -x else x",
        "if not (x < 0) then x else -x",
        "if x > 0 or x == 0 then x else -x",
        "if x < 0 and x < 1 then -x else x",
        "if (if yes then x < 0 else x > 7) then -x else x",
        "if (x < 0) == yes then -x else x",
        "if x < 0 and colour == black then -x else x",
        "if x < 0 and not known(boost) then -x else x",
    ] {
        ends(formula, FOLDED);
    }
}

#[test]
fn a_draw_takes_its_own_branch_and_no_other() {
    // Each branch would be refused for half of the draws.
    ends("if x < 0 then sqrt(-x) else sqrt(x)", FOLDED.map(f64::sqrt));
    ends("if x < 0 then ln(1 - x) else ln(1 + x)", FOLDED.map(f64::ln_1p));
}

#[test]
fn a_draw_without_a_value_is_counted_and_left_out() {
    // P(x < −1) = Φ(−1) = 0.158655 (tables of the normal distribution).
    for formula in ["sqrt(1 + x)", "ln(1 + x)", "max(0, sqrt(1 + x))", "(1 + x) ^ 0.5"] {
        let (_, refused) = drawn(formula);
        assert!((refused - 0.158_655).abs() < 1e-3, "{formula}: {refused}");
    }
}

#[test]
fn what_is_not_known_stays_so_at_every_draw() {
    let told = bench().worked("if x < 0 then 1 bar else boost");
    assert_eq!(told, Err("not known".to_owned()));
    // A branch that only draws reach: known where x lies below 1, Φ(1) = 0.841345.
    let (_, refused) = drawn("if x < 1 then abs(x) * 1 bar else boost - 0 bar");
    assert!((refused - 0.158_655).abs() < 1e-3, "{refused}");
}
