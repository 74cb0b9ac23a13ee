//! Values on screen and in files.

use boostwright::quantity::{
    Kind, Unit, Value, print_band, print_exact, print_result, print_value, readable_unit,
};

fn unit(text: &str) -> Unit {
    Unit::parse(text).unwrap()
}

/// Prints a number and its uncertainty, both given in `symbol`.
fn printed(number: f64, uncertainty: f64, symbol: &str, kind: Kind) -> String {
    let unit = unit(symbol);
    print_value(unit.to_si(number), uncertainty * unit.scale(), &unit, kind)
}

#[test]
fn the_uncertainty_decides_the_digits() {
    // Two digits when it leads with 1 or 2, else one (JCGM 100, 7.2.6: at most two).
    for (number, uncertainty, text) in [
        (0.853_21, 0.012_3, "0.853 ± 0.012 bar"),
        (0.853_21, 0.034, "0.85 ± 0.03 bar"),
        (0.853_21, 0.095_1, "0.85 ± 0.10 bar"),
        (0.853_21, 0.029_6, "0.85 ± 0.03 bar"),
        (0.853_21, 2.0, "0.9 ± 2.0 bar"),
        (1.0, 0.01, "1.000 ± 0.010 bar"),
        (0.0, 0.02, "0.000 ± 0.020 bar"),
        (-0.001, 0.2, "0.00 ± 0.20 bar"),
        (-0.6, 0.04, "-0.60 ± 0.04 bar"),
    ] {
        assert_eq!(printed(number, uncertainty, "bar", Kind::GAUGE_PRESSURE), text);
    }
}

#[test]
fn large_and_tiny_values_keep_to_their_digits() {
    let pressure = Kind::GAUGE_PRESSURE;
    assert_eq!(printed(101_325.0, 230.0, "Pa", pressure), "101330 ± 230 Pa");
    assert_eq!(printed(101_325.0, 420.0, "Pa", pressure), "101300 ± 400 Pa");
    assert_eq!(printed(206_000_000.0, 3e6, "Pa", pressure), "2.06e8 ± 0.03e8 Pa");
    let expansion = Kind::from_word("expansion").unwrap();
    assert_eq!(printed(17.2e-6, 0.5e-6, "1/K", expansion), "1.72e-5 ± 0.05e-5 1/K");
    assert_eq!(printed(17.2e-6, 0.0, "1/K", expansion), "1.72e-5 1/K");
    assert_eq!(printed(0.0, 2e-9, "1/K", expansion), "0.0 ± 2.0e-9 1/K");
}

#[test]
fn an_exact_value_gets_at_most_four_digits_and_no_trailing_zeros() {
    for (number, text) in [
        (0.85, "0.85 bar"),
        (1.0, "1 bar"),
        (0.123_456, "0.1235 bar"),
        (9.999_96, "10 bar"),
        (100.0, "100 bar"),
        (12_345.0, "12350 bar"),
        (-0.0, "0 bar"),
        (2e-5, "2e-5 bar"),
    ] {
        assert_eq!(printed(number, 0.0, "bar", Kind::GAUGE_PRESSURE), text);
    }
}

#[test]
fn an_uncertainty_below_the_noise_of_floats_is_left_out() {
    assert_eq!(printed(1.0, 1e-17, "bar", Kind::GAUGE_PRESSURE), "1 bar");
}

#[test]
fn a_temperature_is_printed_through_its_zero_and_its_uncertainty_without() {
    assert_eq!(printed(650.0, 5.0, "°C", Kind::TEMPERATURE), "650 ± 5 °C");
    assert_eq!(printed(68.0, 9.0, "°F", Kind::TEMPERATURE), "68 ± 9 °F");
}

#[test]
fn a_temperature_difference_is_never_printed_as_a_point() {
    let text = print_value(20.0, 1.0, &unit("°C"), Kind::TEMPERATURE_DIFFERENCE);
    assert_eq!(text, "20.0 ± 1.0 K");
}

#[test]
fn plain_numbers_stand_alone_and_per_cent_keep_their_points() {
    assert_eq!(printed(0.75, 0.08, "1", Kind::NUMBER), "0.75 ± 0.08");
    // "85 ± 2 %" would be read as two per cent of the 85.
    assert_eq!(printed(85.0, 2.0, "%", Kind::NUMBER), "85.0 % ± 2.0");
    assert_eq!(printed(50.0, 0.0, "%", Kind::NUMBER), "50 %");
}

#[test]
fn a_band_ends_where_its_width_does() {
    for (low, high, text) in [
        (0.4812, 0.6391, "0.48 to 0.64 bar"),
        (0.48, 0.95, "0.5 to 0.9 bar"),
        (-0.02, 0.2, "-0.02 to 0.20 bar"),
        (-0.000_1, 0.2, "0.00 to 0.20 bar"),
        (0.5, 0.5, "0.5000 to 0.5000 bar"),
    ] {
        assert_eq!(print_band(low * 1e5, high * 1e5, &unit("bar")), text);
    }
    let (low, high) = (unit("°C").to_si(20.0), unit("°C").to_si(60.0));
    assert_eq!(print_band(low, high, &unit("°C")), "20 to 60 °C");
}

#[test]
fn a_value_shows_itself_in_its_own_unit() {
    let unit = unit("psi");
    let (si, uncertainty) = (unit.to_si(12.0), unit.scale() * 0.25);
    let value = Value { si, uncertainty, kind: Kind::GAUGE_PRESSURE, unit };
    assert_eq!(value.to_string(), "12.00 ± 0.25 psi");
}

#[test]
fn files_get_the_shortest_text_that_comes_back_the_same() {
    let exact = |number: f64, symbol: &str, kind: Kind| {
        let unit = unit(symbol);
        print_exact(unit.to_si(number), 0.0, &unit, kind)
    };
    assert_eq!(exact(20.1, "°C", Kind::TEMPERATURE), "20.1 °C");
    assert_eq!(exact(12.3, "psi", Kind::GAUGE_PRESSURE), "12.3 psi");
    assert_eq!(exact(0.3, "mm", Kind::from_word("length").unwrap()), "0.3 mm");
    assert_eq!(exact(1.0 / 3.0, "bar", Kind::GAUGE_PRESSURE), "0.3333333333333333 bar");
    assert_eq!(exact(17e-6, "1/K", Kind::from_word("expansion").unwrap()), "1.7e-5 1/K");
    assert_eq!(exact(-0.0, "bar", Kind::GAUGE_PRESSURE), "0 bar");
}

#[test]
fn results_nobody_typed_a_unit_for_get_a_readable_one() {
    for (word, symbol) in [
        ("gauge_pressure", "bar"),
        ("length", "mm"),
        ("area", "mm2"),
        ("temperature", "°C"),
        ("temperature_difference", "K"),
        ("mass_flow", "g/s"),
        ("volume", "L"),
        ("rotation", "rpm"),
        ("force", "N"),
        ("stiffness", "N/mm"),
        ("power", "kW"),
        ("time", "s"),
        ("angle", "deg"),
        ("density", "kg/m3"),
        ("number", "1"),
    ] {
        assert_eq!(readable_unit(Kind::from_word(word).unwrap()).symbol(), symbol);
    }
    for word in Kind::words() {
        let kind = Kind::from_word(word).unwrap();
        assert_eq!(readable_unit(kind).dimension(), kind.dimension, "{word}");
    }
}

/// JCGM 100:2008, 7.2.6: a value and its uncertainty end at the same digit; so do the ends of its band.
#[test]
fn a_value_and_its_band_end_at_the_same_digit() {
    for (value, uncertainty, low, high, shown) in [
        (0.853, 0.04, 0.773, 0.933, "0.85 bar (0.77 to 0.93 bar)"),
        (2.3, 0.8, 0.7, 3.9, "2.3 bar (0.7 to 3.9 bar)"),
        (0.000_04, 0.0015, -0.003, 0.003, "0.0000 bar (-0.0030 to 0.0030 bar)"),
        (-0.001, 0.02, -0.041, -0.000_4, "-0.001 bar (-0.041 to 0.000 bar)"),
        (-0.101, 0.03, -0.161, -0.041, "-0.10 bar (-0.16 to -0.04 bar)"),
    ] {
        let [si, low, high] = [value, low, high].map(|bar| bar * 1e5);
        let spread = uncertainty * 1e5;
        let printed =
            print_result((si, spread), (low, high), &unit("bar"), Kind::PRESSURE_DIFFERENCE);
        assert_eq!(printed.with_band(), shown);
        assert_eq!(printed.is_negative, shown.starts_with('-'));
    }
}

#[test]
fn what_is_certain_has_no_band_and_a_zero_no_sign() {
    let printed = print_result((-0.0, 0.0), (0.0, 0.0), &unit("bar"), Kind::PRESSURE_DIFFERENCE);
    assert_eq!((printed.with_band().as_str(), printed.is_negative), ("0 bar", false));
}

#[test]
fn numbers_near_the_end_of_a_float_are_printed_as_any_other() {
    let bar = Unit::parse("bar").unwrap();
    // A bar is 1e5 Pa.
    for (si, printed) in
        [(1e-295, "1e-300 bar"), (-2.5e-300, "-2.5e-305 bar"), (1e300, "1e295 bar")]
    {
        assert_eq!(print_value(si, 0.0, &bar, Kind::PRESSURE_DIFFERENCE), printed);
    }
}
