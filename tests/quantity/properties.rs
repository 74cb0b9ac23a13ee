//! What holds for any text and any value.

use boostwright::quantity::{
    Kind, Unit, offered_units, print_band, print_exact, print_value, read,
};
use proptest::prelude::{Strategy, any, prop_assert, prop_assert_eq, proptest};
use proptest::sample::select;

/// Every offered unit with the kind that a value in it most often has.
fn units() -> impl Strategy<Value = (Unit, Kind)> {
    let kind = |unit: &Unit| {
        if unit.is_point() {
            Kind::TEMPERATURE
        } else if unit.dimension() == Kind::GAUGE_PRESSURE.dimension {
            Kind::GAUGE_PRESSURE
        } else if unit.dimension() == Kind::TEMPERATURE.dimension {
            Kind::TEMPERATURE_DIFFERENCE
        } else {
            Kind::plain(unit.dimension())
        }
    };
    let all: Vec<(Unit, Kind)> = offered_units()
        .flat_map(|(_, symbols)| symbols.iter())
        .map(|symbol| Unit::parse(symbol).unwrap())
        .map(|unit| (unit.clone(), kind(&unit)))
        .collect();
    select(all)
}

fn kinds() -> impl Strategy<Value = Kind> {
    select(Kind::words().filter_map(Kind::from_word).collect::<Vec<_>>())
}

/// Text made of the pieces that values are made of, more searching than any text at all.
fn pieces() -> impl Strategy<Value = String> {
    let pieces = [
        "0", "1", "5", "12", "999", ".", ",", "e", "-", "+", "/", " ", "±", "+/-", ";", "(", ")",
        "^", "²", "⁻", "%", "°", "°C", "bar", "mm", "in", "min", "min(", "N m", "lbf", "ft", "K",
        "J/(kg K)", "nan", "inf", "\u{a0}", "−", "″", "\"", "µ", "é", "\u{202e}",
    ];
    proptest::collection::vec(select(pieces.to_vec()), 0..16).prop_map(|words| words.concat())
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in any::<String>(), kind in kinds()) {
        let _ = Unit::prefix(&text);
        if let Ok(entry) = read(&text, kind, None) {
            prop_assert!(entry.si.is_finite());
        }
    }

    #[test]
    fn text_of_likely_pieces_is_read_or_refused(text in pieces(), kind in kinds()) {
        if let Some((unit, used)) = Unit::prefix(&text) {
            prop_assert!(text.is_char_boundary(used) && used > 0);
            prop_assert!(unit.scale() > 0.0 && unit.scale().is_finite());
            let again = Unit::parse(unit.symbol());
            prop_assert_eq!(again, Ok(unit));
        }
        if let Ok(entry) = read(&text, kind, None) {
            prop_assert!(entry.si.is_finite());
            prop_assert!(entry.uncertainty.is_none_or(|u| u.is_finite() && u >= 0.0));
            prop_assert_eq!(entry.unit.dimension(), kind.dimension);
        }
    }

    #[test]
    fn what_is_written_to_a_file_comes_back(
        (unit, kind) in units(), number in 1e-9..1e9_f64, share in 0.0..0.5_f64,
    ) {
        let si = unit.to_si(number);
        let uncertainty = number * share * unit.scale();
        let text = print_exact(si, uncertainty, &unit, kind);
        let entry = read(&text, kind, None).unwrap();
        // To one rounding: not every float is the product of another and the factor.
        prop_assert!((entry.si - si).abs() <= si.abs() * f64::EPSILON, "{}", text);
        let back = entry.uncertainty.unwrap_or(0.0);
        prop_assert!((back - uncertainty).abs() <= uncertainty * f64::EPSILON, "{}", text);
        prop_assert_eq!(entry.unit, unit);
    }

    #[test]
    fn what_is_printed_comes_back_within_its_last_digit(
        (unit, kind) in units(), number in -1e9..1e9_f64, share in 1e-6..0.5_f64,
    ) {
        let number = if unit.is_point() { number.abs() } else { number };
        let (si, uncertainty) = (unit.to_si(number), number.abs() * share * unit.scale());
        let text = print_value(si, uncertainty, &unit, kind);
        let entry = read(&text, kind, None).unwrap();
        // One digit of a 3 may move by a sixth, the value by as much of its uncertainty.
        let half_a_digit = uncertainty * 0.17;
        prop_assert!((entry.si - si).abs() <= half_a_digit + si.abs() * 1e-12, "{}", text);
        prop_assert!((entry.uncertainty.unwrap() - uncertainty).abs() <= half_a_digit, "{}", text);
    }

    #[test]
    fn an_exact_value_is_printed_to_four_digits(
        (unit, kind) in units(), number in 1e-12..1e12_f64,
    ) {
        let text = print_value(unit.to_si(number), 0.0, &unit, kind);
        let entry = read(&text, kind, None).unwrap();
        let back = unit.from_si(entry.si);
        // Half a unit of the fourth digit is at most 5e-4 of the number; on a scale the float
        // holds no more than some 1e-13 degrees.
        prop_assert!((back - number).abs() <= number * 5.001e-4 + 1e-12, "{}", text);
    }

    #[test]
    fn printing_ends_for_any_float(
        (unit, kind) in units(), si in any::<f64>(), uncertainty in any::<f64>(),
    ) {
        for text in [
            print_value(si, uncertainty, &unit, kind),
            print_exact(si, uncertainty, &unit, kind),
            print_band(si, uncertainty, &unit),
        ] {
            prop_assert!(!text.is_empty() && text.len() < 1000, "{}", text);
            prop_assert!(!text.starts_with("-0 "), "{}", text);
        }
    }
}
