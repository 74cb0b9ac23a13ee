//! Formulas printed with values in place of names and long calls cut.

use boostwright::formula::{Printer, parse, shortened};

use super::workbench::{Bench, close, number, value};

fn printed(text: &str, value: &str) -> String {
    let value = |name: &str| (name == "x").then(|| value.to_owned());
    let tree = parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
    Printer { value: &value, max_arguments: 3 }.print(text, &tree)
}

#[test]
fn a_call_keeps_its_first_arguments_and_counts_the_others() {
    for (formula, short) in [
        ("f(a, b = 2, c, d, g(1, 2), e) + 1", "f(a, b = 2, c, … 3 more) + 1"),
        ("circle(area(a, b, c, d), 2)", "circle(area(a, b, c, … 1 more), 2)"),
        ("(f(a, b, (c + 1), (d + 2)))", "(f(a, b, (c + 1), … 1 more))"),
        ("f((a), (b), (c), (d) ) * 2", "f((a), (b), (c), … 1 more ) * 2"),
    ] {
        assert_eq!(shortened(formula, 3), short);
    }
}

#[test]
fn what_is_short_or_no_formula_stays_as_it_is() {
    for formula in ["(a + b) / c", "max(a, b, c)", "if x > 2 bar then 1 else 0", ")(,", ""] {
        assert_eq!(shortened(formula, 3), formula);
    }
}

#[test]
fn only_names_of_values_are_replaced() {
    assert_eq!(printed("x(1) + f(x = x) + x_1", "3"), "x(1) + f(x = 3) + x_1");
    assert_eq!(printed("x  +  1 bar", "2 bar"), "2 bar  +  1 bar");
}

#[test]
fn a_value_stands_in_brackets_where_it_would_be_misread() {
    for (formula, expected) in [
        ("x - 1", "-2 bar - 1"),
        ("1 - x", "1 - (-2 bar)"),
        ("1 - x * 2", "1 - (-2 bar) * 2"),
        ("1 - (x * 2)", "1 - (-2 bar * 2)"),
        ("-x", "-(-2 bar)"),
        ("x ^ 2", "(-2 bar) ^ 2"),
        ("x > 1", "-2 bar > 1"),
        ("abs(x)", "abs(-2 bar)"),
    ] {
        assert_eq!(printed(formula, "-2 bar"), expected);
    }
    assert_eq!(printed("x ^ 2 - x", "0.9 bar"), "(0.9 bar) ^ 2 - 0.9 bar");
    assert_eq!(printed("x ^ 2", "0.9"), "0.9 ^ 2");
}

#[test]
fn a_formula_with_its_numbers_gives_the_same_number() {
    for formula in [
        "1 bar - x",
        "1 bar - x * 3 - x",
        "x ^ 2",
        "-x ^ 2",
        "2 * (x - 1 bar) / (x * 3)",
        "(x / 1 bar) ^ 2 - -x / 1 bar",
        "abs(x) + max(x, -x)",
        "if x > 0 bar then x else 1 bar - x",
    ] {
        for given in ["-2 bar", "0.9 bar", "3 bar"] {
            let expected = Bench(vec![number("x", given)]).value(formula);
            close(value(&printed(formula, given)), expected, 1e-12);
        }
    }
}
