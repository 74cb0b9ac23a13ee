//! What is no value, and the way out that is offered.

use boostwright::quantity::{Dimension, Kind, ReadError, Unit, read};

fn refused(text: &str, kind: Kind) -> ReadError {
    match read(text, kind, None) {
        Err(error) => error,
        Ok(entry) => panic!("{text} was read as {entry:?}"),
    }
}

fn gauge(text: &str) -> ReadError {
    refused(text, Kind::GAUGE_PRESSURE)
}

#[test]
fn nothing_and_no_number_are_told_apart() {
    assert_eq!(gauge(" \u{a0}\n"), ReadError::Empty);
    for text in
        ["bar", "banana", "±", "± 2 bar", "0.9 bar ±", "0.9; ; 0.8 bar", ";", "-", ".", "e5 bar"]
    {
        assert!(matches!(gauge(text), ReadError::NoNumber { .. }), "{text}: {:?}", gauge(text));
    }
}

#[test]
fn two_numbers_and_two_units_are_named() {
    for text in
        ["0.85 bar 3", "0.85 0.9 bar", "1 5/8 7/8 in", "0.5-0.6 bar", "0.9 ± 0.1 ± 0.2 bar", "5 1"]
    {
        assert!(matches!(gauge(text), ReadError::TwoNumbers { .. }), "{text}: {:?}", gauge(text));
    }
    let two = ReadError::TwoUnits { first: "bar".to_owned(), second: "psi".to_owned() };
    assert_eq!(gauge("0.85 bar psi"), two);
    assert_eq!(gauge("0.85 bar; 12 psi"), two);
}

#[test]
fn an_unknown_unit_comes_with_the_nearest_known() {
    assert_eq!(gauge("12 PSI").to_string(), "PSI is not a known unit: did you mean psi?");
    assert_eq!(gauge("60 lb ft").to_string(), "lb ft is not a known unit: did you mean lbf ft?");
    assert!(gauge("12 elephants").to_string().contains("elephants is not a known unit"));
    assert!(gauge("12 kg/m/s2").to_string().contains("two slashes"));
}

#[test]
fn a_pressure_unit_that_tells_another_kind_never_passes_for_a_misspelt_one() {
    for text in ["29 psia", "2 bar(a)", "2 bar abs", "200 kPa absolute", "2 bara"] {
        let error = gauge(text);
        let told_absolute =
            matches!(error, ReadError::KindInUnit { told: Kind::ABSOLUTE_PRESSURE, .. });
        assert!(told_absolute, "{text}: {error:?}");
        assert!(error.to_string().contains("but gauge pressure is wanted"), "{error}");
    }
    for text in ["12 psig", "0.9 bar g", "0.9 bar (gauge)", "0.9 barg"] {
        let message = gauge(text).to_string();
        assert!(message.contains("expected here anyway"), "{text}: {message}");
    }
    assert!(matches!(refused("5 barg", Kind::NUMBER), ReadError::NoUnit { .. }));
}

#[test]
fn a_missing_unit_with_none_to_suppose_is_asked_for() {
    let error = gauge("0.85");
    assert_eq!(error, ReadError::MissingUnit { wanted: Kind::GAUGE_PRESSURE });
    let message = "the unit is missing: gauge pressure is given in bar, kPa or psi";
    assert_eq!(error.to_string(), message);
    assert_eq!(gauge("0.85 ± 2 %"), error);
}

#[test]
fn another_dimension_says_what_was_given_and_what_is_wanted() {
    let error = gauge("24 mm");
    assert!(matches!(&error, ReadError::WrongDimension { given: Dimension::LENGTH, .. }));
    assert_eq!(
        error.to_string(),
        "mm is a unit of length, but gauge pressure is wanted: give it in bar, kPa or psi"
    );
    assert!(matches!(gauge("0.9 bar ± 2 mm"), ReadError::WrongDimension { .. }));
    assert!(matches!(gauge("90 %"), ReadError::WrongDimension { .. }));
    assert!(matches!(refused("3 bar", Kind::NUMBER), ReadError::WrongDimension { .. }));
    let millimetre = Unit::parse("mm").unwrap();
    let usual_of_another = read("0.85", Kind::GAUGE_PRESSURE, Some(&millimetre));
    assert!(matches!(usual_of_another, Err(ReadError::MissingUnit { .. })));
}

#[test]
fn below_vacuum_and_absolute_zero_nothing_is_read() {
    assert!(matches!(refused("-0.2 bar", Kind::ABSOLUTE_PRESSURE), ReadError::BelowVacuum { .. }));
    for text in ["-300 °C", "-1 K", "-460 °F", "-1 degR", "-274 °C ± 2; 3"] {
        let error = read(text, Kind::TEMPERATURE, None).unwrap_err();
        let expected = if text.contains(';') {
            ReadError::UncertaintyAmongRepeats
        } else {
            ReadError::BelowAbsoluteZero { given: text.to_owned() }
        };
        assert_eq!(error, expected);
    }
    assert!(read("0 bar", Kind::ABSOLUTE_PRESSURE, None).is_ok());
    assert!(read("0 K", Kind::TEMPERATURE, None).is_ok());
    assert!(read("-20 K", Kind::TEMPERATURE_DIFFERENCE, None).is_ok());
}

#[test]
fn a_scale_temperature_is_no_difference_and_kelvin_are_offered() {
    let error = refused("18 °F", Kind::TEMPERATURE_DIFFERENCE);
    assert_eq!(error, ReadError::PointForDifference { unit: "°F".to_owned(), kelvin: 10.0 });
    assert!(error.to_string().contains("10 K"), "{error}");
}

#[test]
fn a_share_of_a_scale_temperature_means_nothing() {
    let error = refused("20 °C ± 2 %", Kind::TEMPERATURE);
    assert_eq!(error, ReadError::ShareOfPoint { unit: "°C".to_owned() });
    assert!(read("300 K ± 2 %", Kind::TEMPERATURE, None).is_ok());
}

#[test]
fn numbers_that_are_none_or_out_of_reach_are_refused() {
    for text in ["nan bar", "NaN", "inf bar", "-Infinity bar", "∞ bar"] {
        assert!(matches!(gauge(text), ReadError::NotFinite { .. }), "{text}: {:?}", gauge(text));
    }
    for text in [
        "1e999 bar",
        "1e308 bar",
        "1e-400 bar",
        "1e-310 Pa",
        "1e308; 1e308; 1e308 Pa",
        "1 ± 1e308 bar",
    ] {
        assert!(matches!(gauge(text), ReadError::OutOfReach { .. }), "{text}: {:?}", gauge(text));
    }
    assert!(matches!(gauge("5/0 bar"), ReadError::OverZero { .. }));
}

#[test]
fn two_decimal_marks_are_refused() {
    for text in ["1,234.5 mbar", "1.234,5 mbar", "1,234,567 Pa", "1.2.3 bar"] {
        assert!(matches!(gauge(text), ReadError::TwoDecimalMarks { .. }), "{text}");
    }
}

#[test]
fn an_uncertainty_below_zero_is_refused() {
    assert!(matches!(gauge("0.9 ± -0.1 bar"), ReadError::NegativeUncertainty { .. }));
}

#[test]
fn a_pasted_file_is_refused_without_being_echoed() {
    let pasted = "9".repeat(10_000_000);
    let error = gauge(&pasted);
    assert_eq!(error, ReadError::TooLong { limit: 200 });
    assert!(error.to_string().len() < 100);
}

#[test]
fn a_message_never_carries_what_could_drive_a_terminal() {
    let hostile = "\u{1b}[2J\u{7}\u{202e}\u{200b}abc".repeat(8);
    for text in [
        hostile.clone(),
        format!("5 {hostile}"),
        format!("5 bar {hostile}"),
        format!("nan{hostile}"),
    ] {
        let message = gauge(&text).to_string();
        let tame =
            |letter: char| !letter.is_control() && !matches!(letter, '\u{202e}' | '\u{200b}');
        assert!(message.chars().all(tame), "{message:?}");
        assert!(message.chars().count() < 200, "{message}");
    }
}
