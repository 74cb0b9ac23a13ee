//! `chance_below`, `chance_between` and comparisons, by the normal distribution of the whole
//! difference, against tables made with another library.

use super::workbench::{Bench, close, number};
use crate::reference::table::{Row, number as column, rows};

fn quantity(name: &'static str, row: &Row) -> super::workbench::Given {
    number(name, &format!("{} ± {}", row[name], row[&format!("{name}_u")]))
}

/// The tables have twelve digits; a central difference costs some of them in the uncertainty.
const DIGITS: f64 = 1e-8;

#[test]
fn chance_below_agrees_with_the_table() {
    for row in rows("chance_below.csv") {
        let names = Bench(vec![quantity("value", &row), quantity("limit", &row)]);
        let expected = column(&row["chance_below"]);
        // Far out in a tail a last digit of the uncertainty counts a hundredfold.
        let within = if expected > 1e-6 { DIGITS } else { 1e-4 };
        close(names.value("chance_below(value, limit)"), expected, within);
        let formula = names.sound("value < limit");
        close(names.evaluator().chance(&formula).expect("a chance"), expected, within);
    }
}

#[test]
fn chance_between_agrees_with_the_table() {
    for row in rows("chance_between.csv") {
        let names =
            Bench(vec![quantity("value", &row), quantity("lower", &row), quantity("upper", &row)]);
        let expected = column(&row["chance_between"]);
        close(names.value("chance_between(value, lower, upper)"), expected, 1e-7);
        let formula = names.sound("value >= lower and value < upper");
        close(names.evaluator().chance(&formula).expect("a chance"), expected, 1e-7);
    }
}

#[test]
fn what_value_and_limit_share_is_counted_once() {
    // value − limit = step alone: −1 with 1, so Φ(1) = 0.841344746 (tables of the normal
    // distribution); taken apart, both halves of base would have drowned it.
    let names = Bench(vec![number("base", "10 ± 5"), number("step", "1 ± 1")]);
    close(names.value("chance_below(base, base + step)"), 0.841_344_746_068_5, 1e-8);
    close(
        names.evaluator().chance(&names.sound("base < base + step")).expect("a chance"),
        0.841_344_746_068_5,
        1e-8,
    );
}

#[test]
fn a_chance_carries_no_uncertainty() {
    let names = Bench(vec![number("x", "1 ± 1")]);
    let worked = names.worked("100 * chance_below(x, 2)").expect("a chance");
    close(worked.band.uncertainty, 0.0, 0.0);
    close(worked.band.value, 84.134_474_606_85, 1e-8);
}

#[test]
fn a_chance_may_hold_a_chance() {
    // Φ(1) = 0.8413 lies surely below 0.9.
    let names = Bench(vec![number("x", "1 ± 1")]);
    close(names.value("chance_below(chance_below(x, 2), 0.9)"), 1.0, 0.0);
    close(names.value("chance_below(x, 1 + chance_below(x, 1))"), 0.691_462_461_274, 1e-8);
}

#[test]
fn a_refusal_inside_a_chance_keeps_its_reason() {
    let told = Bench(Vec::new()).worked("chance_below(sqrt(-1), 2)").expect_err("no root");
    assert!(told.contains("sqrt: its argument is negative"), "{told}");
}

#[test]
fn exactly_on_the_limit_is_not_below_it() {
    for (formula, chance) in
        [("1 < 1", 0.0), ("1 <= 1", 1.0), ("1 == 1", 1.0), ("1 != 1", 0.0), ("1 >= 1", 1.0)]
    {
        let names = Bench(Vec::new());
        close(names.evaluator().chance(&names.sound(formula)).expect(formula), chance, 0.0);
    }
    close(Bench(Vec::new()).value("chance_below(1, 1)"), 0.0, 0.0);
    close(Bench(Vec::new()).value("chance_between(1, 1, 2)"), 1.0, 0.0);
}

#[test]
fn a_truth_with_a_part_that_is_refused_has_no_chance_unless_it_is_settled() {
    let names = Bench(vec![number("x", "1 ± 1")]);
    let chance = |formula: &str| {
        names.evaluator().chance(&names.sound(formula)).map_err(|gap| gap.to_string())
    };
    close(chance("1 > 0 or sqrt(-1) > 0").expect("settled"), 1.0, 0.0);
    close(chance("1 < 0 and sqrt(-1) > 0").expect("settled"), 0.0, 0.0);
    assert!(chance("x > 0 or sqrt(-1) > 0").expect_err("open").contains("sqrt"));
}
