//! Uncertainty of results against two independent libraries: automatic differentiation for the
//! first order, a million draws where it doesn't hold. The table says which and how it was made.

use boostwright::formula::{BandFrom, COVERAGE};

use super::workbench::{Bench, close, number};
use crate::reference::table::{Row, number as column, rows};

/// The table's own inputs live as long as the tests.
fn bench(row: &Row) -> Bench {
    let inputs = row["inputs"].split(';').map(|input| {
        let (name, text) = input.split_once('=').expect("name=value");
        number(Box::leak(name.trim().to_owned().into_boxed_str()), text.trim())
    });
    Bench(inputs.collect())
}

#[test]
fn first_order_agrees_with_automatic_differentiation() {
    let mut held = 0;
    for row in rows("uncertainty.csv").iter().filter(|row| row["band_from"] == "first_order") {
        let band = bench(row).worked(&row["formula"]).expect(&row["case"]).band;
        assert_eq!(band.from, BandFrom::FirstOrder, "{}", row["case"]);
        close(band.value, column(&row["value"]), 1e-9);
        // A central difference over a thousandth of the uncertainty: 1e-7 of its size at worst
        // for what is curved within a tenth, and rounding over 1e-3 steps.
        let expected = column(&row["first_order"]);
        let rounding = 1e-11 * band.value.abs();
        assert!(
            (band.uncertainty - expected).abs() <= 1e-6 * expected + rounding,
            "{}: {} instead of {expected}",
            row["case"],
            band.uncertainty
        );
        let half = COVERAGE * band.uncertainty;
        close(band.low, band.value - half, 1e-12);
        close(band.high, band.value + half, 1e-12);
        held += 1;
    }
    assert!(held >= 15, "only {held} rows");
}

#[test]
fn where_first_order_fails_the_band_agrees_with_a_million_draws() {
    let mut held = 0;
    for row in rows("uncertainty.csv").iter().filter(|row| row["band_from"] == "monte_carlo") {
        let band = bench(row).worked(&row["formula"]).expect(&row["case"]).band;
        let BandFrom::MonteCarlo { refused, draws } = band.from else {
            panic!("{}: first order", row["case"]);
        };
        close(band.value, column(&row["value"]), 1e-9);
        let (low, high) = (column(&row["drawn_low"]), column(&row["drawn_high"]));
        // 10,000 draws place a 2.5 % point to about 0.03 of the standard uncertainty where the
        // density is normal, and worse in a long tail: four times that, a tenth of the band's width.
        let allowed = 0.1 * (high - low) / 2.0;
        assert!((band.low - low).abs() <= allowed, "{}: {} {low}", row["case"], band.low);
        assert!((band.high - high).abs() <= allowed, "{}: {} {high}", row["case"], band.high);
        close(band.uncertainty, (band.high - band.low) / 2.0 / COVERAGE, 1e-12);
        let share = refused as f64 / draws as f64;
        // Four standard deviations of a share of 10,000 draws are at most 0.02.
        assert!((share - column(&row["refused"])).abs() <= 0.02, "{}: {share}", row["case"]);
        held += 1;
    }
    assert!(held >= 5, "only {held} rows");
}

#[test]
fn a_value_less_itself_and_over_itself_is_certain() {
    let names = Bench(vec![number("peak", "0.92 bar ± 0.03")]);
    for formula in ["peak - peak", "peak / peak"] {
        close(names.worked(formula).expect(formula).band.uncertainty, 0.0, 1e-9);
    }
}

#[test]
fn the_same_literal_twice_is_two_readings() {
    // Independent: 0.1 * sqrt(2).
    let band = Bench(Vec::new()).worked("(5 ± 0.1) - (5 ± 0.1)").expect("a band").band;
    close(band.uncertainty, 0.1 * 2_f64.sqrt(), 1e-9);
}

#[test]
fn more_than_half_of_the_draws_refused_is_a_refusal() {
    let names = Bench(vec![number("x", "0.1 ± 2")]);
    // Below 0 lie 48 % of the draws: still a band. With the edge at 0.05 more, 52 %: none.
    let band = names.worked("sqrt(x)").expect("a band").band;
    let BandFrom::MonteCarlo { refused, draws } = band.from else { panic!("first order") };
    // P(x < 0) = Φ(−0.05) = 0.4801 (tables of the normal distribution).
    close(refused as f64 / draws as f64, 0.4801, 0.05);
    let names = Bench(vec![number("x", "0.1 ± 2"), number("y", "0 ± 2")]);
    let told = names.worked("sqrt(x) + sqrt(y)").expect_err("three quarters are refused");
    assert!(told.contains("more than half"), "{told}");
}

#[test]
fn a_limit_of_what_is_accepted_close_by_makes_random_draws() {
    // An efficiency of at most 1: the draw a whole uncertainty up is refused.
    let names = Bench(vec![number("efficiency", "0.98 ± 0.03")]);
    let band =
        names.worked("compressor_outlet_temperature(293 K, 1.8, efficiency)").expect("a band").band;
    assert!(matches!(band.from, BandFrom::MonteCarlo { refused: 1.., .. }), "{band:?}");
}

#[test]
fn the_same_inputs_give_the_same_band() {
    let names = Bench(vec![number("x", "0.1 ± 0.5")]);
    assert_eq!(names.worked("x ^ 2"), names.worked("x ^ 2"));
}

#[test]
fn shares_tell_what_made_the_band_wide() {
    let names = Bench(vec![number("a", "5 ± 0.3"), number("b", "5 ± 0.4")]);
    let worked = names.worked("a - b").expect("a band");
    close(worked.band.uncertainty, 0.5, 1e-9);
    close(worked.band.shares[0].abs(), 0.3, 1e-9);
    close(worked.band.shares[1].abs(), 0.4, 1e-9);
}
