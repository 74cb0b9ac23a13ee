//! What people type, and what it comes to.

use boostwright::quantity::{Kind, Unit, read};

/// Reads `text` with no usual unit and compares with the value in coherent SI.
fn reads(text: &str, word: &str, si: f64) {
    let kind = Kind::from_word(word).unwrap();
    let entry = read(text, kind, None).unwrap_or_else(|error| panic!("{text}: {error}"));
    let off = (entry.si - si).abs();
    assert!(off <= si.abs() * 1e-12, "{text}: {} instead of {si}", entry.si);
    assert!(!entry.unit_supposed, "{text}");
}

/// The same, for the uncertainty too.
fn reads_with(text: &str, word: &str, si: f64, uncertainty: f64) {
    reads(text, word, si);
    let entry = read(text, Kind::from_word(word).unwrap(), None).unwrap();
    let found = entry.uncertainty.unwrap_or_else(|| panic!("{text}: no uncertainty"));
    assert!((found - uncertainty).abs() <= uncertainty * 1e-12, "{text}: {found}");
}

#[test]
fn a_number_with_its_unit_is_read_in_the_spellings_of_the_workshop() {
    reads("0.85 bar", "gauge_pressure", 85_000.0);
    reads("0,85bar", "gauge_pressure", 85_000.0);
    reads("  0.85\u{a0}bar\n", "gauge_pressure", 85_000.0);
    reads("0.85\u{2009}bar", "gauge_pressure", 85_000.0);
    reads("-60 kPa", "gauge_pressure", -60_000.0);
    reads("\u{2212}60 kPa", "gauge_pressure", -60_000.0);
    reads("- 60 kPa", "gauge_pressure", -60_000.0);
    reads("+.5 bar", "gauge_pressure", 50_000.0);
    reads("5500 rpm", "rotation", 5500.0 / 60.0);
    reads("2e-5 m", "length", 2e-5);
    reads("1,5E3 mm", "length", 1.5);
    reads("0.75", "number", 0.75);
    reads("85 %", "number", 0.85);
    reads("1013 hPa", "absolute_pressure", 101_300.0);
}

#[test]
fn inch_fractions_are_read() {
    // 1 in = 25.4 mm exactly (NIST SP 811, app. B).
    reads("5/8 in", "length", 0.015_875);
    reads("1 5/8 in", "length", 0.041_275);
    reads("1 5/8\u{2033}", "length", 0.041_275);
    reads("5/8\"", "length", 0.015_875);
}

#[test]
fn units_of_several_symbols_are_read() {
    reads("17e-6 1/K", "expansion", 17e-6);
    reads("17e-6/K", "expansion", 17e-6);
    reads("17e-6 K^-1", "expansion", 17e-6);
    reads("1005 J/(kg K)", "heat_capacity", 1005.0);
    reads("4 dm3/(s bar)", "flow_conductance", 4e-8);
    reads("12 N/mm", "stiffness", 12_000.0);
    reads("200 N m", "torque", 200.0);
    reads("25 mm\u{b2}", "area", 25e-6);
    reads("2 kgf/cm\u{b2}", "gauge_pressure", 196_133.0);
}

#[test]
fn a_temperature_goes_through_the_zero_of_its_scale_and_its_uncertainty_does_not() {
    reads("650 °C", "temperature", 923.15);
    reads("32 °F", "temperature", 273.15);
    reads("-40 degF", "temperature", 233.15);
    reads("-273.15 °C", "temperature", 0.0);
    reads("-459.67 °F", "temperature", 0.0);
    reads_with("20 °C ± 2", "temperature", 293.15, 2.0);
    reads_with("20 °C ± 2 K", "temperature", 293.15, 2.0);
    reads_with("20 °C ± 2 °C", "temperature", 293.15, 2.0);
    reads_with("68 °F ± 9", "temperature", 293.15, 5.0);
}

#[test]
fn the_uncertainty_takes_its_own_unit_or_the_values_or_gives_its_own_to_both() {
    reads_with("24 mm ± 0.2", "length", 0.024, 0.000_2);
    reads_with("24 ± 0.2 mm", "length", 0.024, 0.000_2);
    reads_with("2.4 cm ± 0.2 mm", "length", 0.024, 0.000_2);
    reads_with("24 mm +/- 0.2 mm", "length", 0.024, 0.000_2);
    reads_with("24 mm+-0,2", "length", 0.024, 0.000_2);
    reads_with("24 mm ± 2 %", "length", 0.024, 0.000_48);
    reads_with("-0.5 bar ± 2 %", "gauge_pressure", -50_000.0, 1000.0);
    reads_with("85 % ± 2", "number", 0.85, 0.02);
}

#[test]
fn repeated_readings_give_their_mean_and_its_type_a_uncertainty() {
    // By hand: mean 0.9233, s = 0.0153, s/√3 = 0.00882 (JCGM 100, 4.2).
    let entry = read("0.92; 0.94; 0.91 bar", Kind::GAUGE_PRESSURE, None).unwrap();
    assert_eq!(entry.readings, 3);
    assert!((entry.si - 92_333.333).abs() < 0.001);
    assert!((entry.uncertainty.unwrap() - 881.917).abs() < 0.001);
    assert_eq!(entry.unit.symbol(), "bar");
}

#[test]
fn repeated_readings_that_are_all_alike_claim_no_uncertainty() {
    let entry = read("0.9 bar; 0.9 bar", Kind::GAUGE_PRESSURE, None).unwrap();
    assert_eq!(entry.uncertainty, None);
    assert_eq!(entry.si, 90_000.0);
}

#[test]
fn a_missing_unit_is_supposed_and_said_to_be() {
    let bar = Unit::parse("bar").unwrap();
    let entry = read("0.85", Kind::GAUGE_PRESSURE, Some(&bar)).unwrap();
    assert!(entry.unit_supposed);
    assert_eq!((entry.si, entry.unit), (85_000.0, bar));
    let percent = Unit::parse("%").unwrap();
    let entry = read("85", Kind::NUMBER, Some(&percent)).unwrap();
    assert!(entry.unit_supposed);
    assert_eq!(entry.si, 0.85);
}
