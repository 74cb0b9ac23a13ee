//! How formulas are read: numbers, units, precedence.

use super::workbench::{Bench, close, number, refusal, value};

/// Rounding of a few operations.
const ROUNDING: f64 = 1e-14;

/// Each formula is worth the same as a plain number in coherent SI.
fn agree(cases: &[(&str, f64)]) {
    for (formula, expected) in cases {
        close(value(formula), *expected, ROUNDING);
    }
}

#[test]
fn powers_bind_before_minus_and_minus_before_products() {
    agree(&[
        ("-2^2", -4.0),
        ("2^-1", 0.5),
        ("2^3^2", 512.0),
        ("-2 * 3", -6.0),
        ("2 - 3 - 4", -5.0),
        ("2 / 4 * 8", 4.0),
        ("2 + 3 * 4", 14.0),
        ("(2 + 3) * 4", 20.0),
        ("2 * -3", -6.0),
        ("1 - -1", 2.0),
        ("2^-2^2", 0.0625),
    ]);
}

#[test]
fn numbers_may_have_exponents_and_leave_out_the_leading_zero() {
    agree(&[("2e-5", 2e-5), ("2E3", 2e3), ("1e+2", 100.0), (".5", 0.5), ("3e2 mm", 0.3)]);
}

#[test]
fn a_unit_stands_behind_a_number_with_a_space_or_without() {
    agree(&[("27 mm", 0.027), ("27mm", 0.027), ("0.85bar", 85e3), ("50 %", 0.5), ("50%", 0.5)]);
}

#[test]
fn a_power_behind_a_unit_belongs_to_the_unit() {
    agree(&[
        ("2 mm^2", 2e-6),
        ("2 mm2", 2e-6),
        ("2 mm²", 2e-6),
        ("(2 mm)^2", 4e-6),
        ("20e-6 K^-1", 20e-6),
        ("3 m^0.5", 3.0),
        ("(9 mm2)^(1/2)", 3e-3),
        ("(8 L)^(1/3)", 0.2),
    ]);
}

#[test]
fn a_stroke_without_spaces_and_before_a_unit_is_part_of_the_unit() {
    agree(&[
        ("300 J/(kg K)", 300.0),
        ("0.2 dm3/(s bar)", 2e-9),
        ("6 L/min", 1e-4),
        ("1/K", 1.0),
        // lb and in exactly, by definition.
        ("1 lb/min", 0.453_592_37 / 60.0),
        ("1 lbf/in", 0.453_592_37 * 9.806_65 / 0.0254),
    ]);
}

#[test]
fn any_other_stroke_is_a_division() {
    agree(&[
        ("6 mm / 2", 3e-3),
        ("6 mm/2", 3e-3),
        ("6 m / 2 s", 3.0),
        ("6 mm/min(2, 3)", 3e-3),
        ("10 L/min(2, 5)", 5e-3),
        ("1/2", 0.5),
    ]);
    let names = Bench(vec![number("share", "4")]);
    close(names.value("6 mm/share"), 1.5e-3, ROUNDING);
    assert!(refusal("6 m / s").contains("s is a unit"));
}

#[test]
fn two_word_units_are_known_and_other_products_stand_in_brackets() {
    agree(&[
        ("300 N m", 300.0),
        ("300 N m / (2 m)", 150.0),
        // 1 lbf ft from the exact pound, gravity and foot.
        ("1 lbf ft", 0.453_592_37 * 9.806_65 * 0.3048),
        ("2 (kg K)", 2.0),
    ]);
    assert!(!refusal("300 kg K").is_empty());
}

#[test]
fn a_leading_minus_belongs_to_a_temperature() {
    agree(&[
        ("-20 °C", 253.15),
        ("-40 °F", 233.15),
        ("20 °C - 5 K", 288.15),
        ("-20 inHg", -67_727.772_806_82),
    ]);
}

#[test]
fn a_conversion_does_not_refuse_what_lies_below_absolute_zero() {
    close(value("-300 °C"), -26.85, 1e-12);
}

#[test]
fn a_decimal_comma_is_read_where_the_whole_text_is_one_value() {
    agree(&[("0,85 bar", 85e3), ("-0,85 bar", -85e3), ("0,5 J/(kg K)", 0.5)]);
    let worked = Bench(Vec::new()).worked("0,85 bar ± 0,02").expect("one value");
    close(worked.band.value, 85e3, ROUNDING);
    close(worked.band.uncertainty, 2e3, 1e-9);
    assert!(refusal("0,85 bar + 1 bar").contains("comma"));
    close(value("min(3,4)"), 3.0, 0.0);
}

#[test]
fn fractions_are_divisions_inside_formulas() {
    // 5/(8 in), an inverse length.
    close(value("5/8 in"), 5.0 / (8.0 * 0.0254), ROUNDING);
}

#[test]
fn the_plus_minus_is_one_standard_uncertainty() {
    for (formula, expected, uncertainty) in [
        ("0.85 bar ± 0.02", 85e3, 2e3),
        ("0.85 bar ± 2 kPa", 85e3, 2e3),
        ("0.85 bar ± 2 %", 85e3, 1.7e3),
        ("24 ± 0.2 mm", 24e-3, 0.2e-3),
        ("50 % ± 2", 0.5, 0.02),
        ("20 °C ± 2", 293.15, 2.0),
        ("20 °C ± 2 K", 293.15, 2.0),
        ("-20 °C ± 9 °F", 253.15, 5.0),
        ("5 ± 0", 5.0, 0.0),
    ] {
        let band = Bench(Vec::new()).worked(formula).expect(formula).band;
        close(band.value, expected, 1e-12);
        close(band.uncertainty, uncertainty, 1e-9);
    }
}

#[test]
fn choices_go_on_in_the_else_and_bind_loosest() {
    let grade = "if x < 1 then 10 else if x < 2 then 20 else 30 + 1";
    for (x, expected) in [("0", 10.0), ("1", 20.0), ("2", 31.0)] {
        close(Bench(vec![number("x", x)]).value(grade), expected, 0.0);
    }
}

#[test]
fn arguments_go_by_place_or_by_name_or_mixed() {
    // The curtain is a cylinder: pi d l.
    let expected = std::f64::consts::PI * 0.024 * 0.005;
    for formula in [
        "curtain_area(24 mm, 5 mm)",
        "curtain_area(diameter = 24 mm, lift = 5 mm)",
        "curtain_area(lift = 5 mm, diameter = 24 mm)",
        "curtain_area(lift = 5 mm, 24 mm)",
        "curtain_area(24 mm, lift = 5 mm)",
    ] {
        close(value(formula), expected, ROUNDING);
    }
}

#[test]
fn the_languages_own_functions_work_on_any_kind_that_makes_sense() {
    agree(&[
        ("min(3 mm, 1 cm, 2 mm)", 2e-3),
        ("max(3 mm, 1 cm, 2 mm)", 1e-2),
        ("abs(-3 mm)", 3e-3),
        ("sqrt(9 mm2)", 3e-3),
        ("ln(exp(2))", 2.0),
        ("exp(0)", 1.0),
    ]);
}

#[test]
fn what_has_no_value_is_refused_with_its_reason() {
    for (formula, reason) in [
        ("1 / 0", "divisor is 0"),
        ("sqrt(-1)", "sqrt: its argument is negative"),
        ("ln(0)", "ln: its argument is not above 0"),
        ("0^-1", "no negative power"),
        ("(-8)^(1/3)", "no fractional power"),
        ("exp(1000)", "too large"),
        ("1e300 * 1e300", "too large"),
        ("1e308 km", "too large"),
        ("1e999", "not a usable number"),
        ("5 ± 1e400", "not a usable number"),
        ("circle_area(-1 mm)", "diameter"),
    ] {
        let told = refusal(formula);
        assert!(told.contains(reason), "{formula}: {told}");
    }
}
