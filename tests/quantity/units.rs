//! Factors against published ones, by relation, and against another library.

use boostwright::quantity::{
    Dimension, Kind, Unit, UnitError, is_symbol, nearest_symbol, offered_units,
};

fn unit(text: &str) -> Unit {
    Unit::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn close(found: f64, expected: f64, relative: f64, what: &str) {
    assert!(
        (found - expected).abs() <= expected.abs() * relative,
        "{what}: {found} not {expected}"
    );
}

#[test]
fn factors_agree_with_the_published_ones() {
    // NIST SP 811 (2008), B.8, printed to seven digits.
    for (symbol, printed) in [
        ("bar", 1.0e5),
        ("mbar", 1.0e2),
        ("psi", 6.894_757e3),
        ("inHg", 3.386_389e3),
        ("mmHg", 1.333_224e2),
        ("torr", 1.333_224e2),
        ("inH2O", 2.490_889e2),
        ("atm", 1.013_25e5),
        ("kgf/cm2", 9.806_65e4),
        ("in", 2.54e-2),
        ("ft", 3.048e-1),
        ("thou", 2.54e-5),
        ("in2", 6.451_6e-4),
        ("in3", 1.638_706e-5),
        ("ft3", 2.831_685e-2),
        ("L", 1.0e-3),
        ("lb", 4.535_924e-1),
        ("lb/min", 7.559_873e-3),
        ("lb/h", 1.259_979e-4),
        ("cfm", 4.719_474e-4),
        ("mph", 4.470_4e-1),
        ("km/h", 2.777_778e-1),
        ("lbf", 4.448_222),
        ("kgf", 9.806_65),
        ("lbf/in", 1.751_268e2),
        ("lbf ft", 1.355_818),
        ("hp", 7.456_999e2),
        ("PS", 7.354_988e2),
        ("deg", 1.745_329e-2),
    ] {
        // Half a unit of the seventh digit, at worst 5e-7 of the value.
        close(unit(symbol).to_si(1.0), printed, 5e-7, symbol);
    }
}

#[test]
fn a_turn_a_minute_is_the_published_angular_velocity_over_two_pi() {
    // NIST SP 811, B.8: 1 r/min = 1.047198e-1 rad/s.
    let turns = unit("rpm").to_si(1.0);
    close(turns * std::f64::consts::TAU, 1.047_198e-1, 5e-7, "rpm");
}

#[test]
fn factors_hold_together_by_relation() {
    let one = |symbol: &str| unit(symbol).to_si(1.0);
    // Each to a few roundings of a float.
    let same = |found: f64, expected: f64, what: &str| close(found, expected, 4e-16, what);
    same(one("lbf") / one("in2"), one("psi"), "lbf/in2");
    same(one("kgf") / one("cm2"), one("kgf/cm2"), "kgf/cm2");
    same(one("N") / one("mm2"), one("MPa"), "N/mm2");
    same(one("lbf") / one("in"), one("lbf/in"), "lbf/in");
    same(one("kN") / one("m"), one("N/mm"), "kN/m");
    same(one("lbf") * one("ft"), one("lbf ft"), "lbf ft");
    same(one("lbf") / one("lb"), one("kgf") / one("kg"), "standard gravity");
    same(one("inHg") / one("in"), one("mmHg") / one("mm"), "mercury column");
    same(one("inHg") / one("inH2O"), 13.595_1, "mercury over water");
    same(one("atm") / one("torr"), 760.0, "atm");
    same(one("hp") / one("lbf ft"), 550.0, "hp");
    same(one("PS") / one("kgf"), 75.0, "PS");
    same(one("ft3") / one("in3"), 1728.0, "ft3");
    same(one("cfm") * one("min"), one("ft3"), "cfm");
    same(one("mph") * one("h"), 5280.0 * one("ft"), "mph");
    same(one("lb/min"), 60.0 * one("lb/h"), "lb/min");
    same(one("dm3/(s bar)"), 1e-8, "dm3/(s bar)");
    same(one("kJ"), one("kW") * one("s"), "kJ");
    same(one("L"), one("dm3"), "L");
    same(one("mL"), one("cc"), "mL");
    same(unit("rpm").to_si(60.0), 1.0, "rpm");
    same(unit("deg").to_si(180.0), std::f64::consts::PI, "deg");
    same(unit("%").to_si(100.0), 1.0, "%");
}

#[test]
fn factors_agree_with_another_library() {
    let table = include_str!("../reference/units.csv");
    let rows: Vec<&str> = table.lines().filter(|line| !line.starts_with('#')).skip(1).collect();
    for row in &rows {
        let mut fields = row.split(',');
        let mut next = || fields.next().unwrap();
        let (symbol, number, si) = (next(), next(), next());
        let found = unit(symbol).to_si(number.parse().unwrap());
        // The other library rounds each step of a product.
        close(found, si.parse().unwrap(), 1e-14, row);
    }
    assert!(rows.len() > 60, "the table is short: {}", rows.len());
}

#[test]
fn fixed_points_of_the_temperature_scales_meet() {
    // NIST SP 811, B.8: T/K = (t/°F + 459.67)/1.8 and T/K = T/°R / 1.8.
    for (celsius, fahrenheit) in [(-40.0, -40.0), (0.0, 32.0), (100.0, 212.0), (-273.15, -459.67)] {
        let kelvin = unit("°C").to_si(celsius);
        close(unit("°F").to_si(fahrenheit), kelvin, 1e-15, "°F");
        close(unit("degR").to_si(fahrenheit + 459.67), kelvin, 1e-15, "degR");
        assert!((unit("degC").from_si(kelvin) - celsius).abs() < 1e-12);
        assert!((unit("degF").from_si(kelvin) - fahrenheit).abs() < 1e-12);
    }
    assert_eq!(unit("°F").scale(), 5.0 / 9.0);
    assert!(unit("°F").is_point() && unit("degR").is_point() && !unit("K").is_point());
}

#[test]
fn decimal_units_lose_nothing_there_and_back() {
    for number in [27.0, 0.3, 0.1, 19.0, 1.7, 123.456] {
        for symbol in ["mm", "cm3", "kPa", "bar", "g/s", "%", "mV"] {
            let unit = unit(symbol);
            let back = unit.from_si(unit.to_si(number));
            close(back, number, f64::EPSILON, symbol);
        }
    }
    assert_eq!(unit("mm").to_si(27.0), 0.027);
    assert_eq!(unit("mm").to_si(0.3), 0.000_3);
}

#[test]
fn every_offered_unit_reads_as_what_it_is_offered_for() {
    for (dimension, symbols) in offered_units() {
        for symbol in symbols {
            assert_eq!(unit(symbol).dimension(), dimension, "{symbol}");
            assert_eq!(unit(symbol).symbol(), *symbol);
        }
    }
}

#[test]
fn every_kind_has_units_to_offer_and_a_coherent_one_that_reads_back() {
    for word in Kind::words() {
        let dimension = Kind::from_word(word).unwrap().dimension;
        assert!(offered_units().any(|(offered, _)| offered == dimension), "{word}");
        assert_eq!(unit(&dimension.coherent_unit()), Unit::coherent(dimension), "{word}");
    }
}

#[test]
fn coherent_units_of_odd_dimensions_read_back() {
    for exponents in [[3, 0, -2, 0, 0, 0, 0], [2, 1, -3, 0, 0, 1, 0], [0, 0, -1, -1, 0, 0, 0]] {
        let dimension = Dimension::of(exponents);
        assert_eq!(unit(&dimension.coherent_unit()), Unit::coherent(dimension));
    }
    let root = Dimension::LENGTH.power(0.5).unwrap();
    assert_eq!(unit(&root.coherent_unit()), Unit::coherent(root));
}

#[test]
fn spellings_of_one_unit_are_alike() {
    for (one, other) in [
        ("°C", "degC"),
        ("℃", "degC"),
        ("ºC", "degC"),
        ("°F", "degF"),
        ("Ω", "ohm"),
        ("k\u{2126}", "kohm"),
        ("mm²", "mm2"),
        ("mm^2", "mm2"),
        ("m³", "m3"),
        ("s⁻¹", "s^-1"),
        ("kgf/cm²", "kgf/cm2"),
        ("\u{3bc}m", "\u{b5}m"),
        ("″", "in"),
        ("°", "deg"),
        ("1/K", "K^-1"),
        ("N/(mm)", "N/mm"),
    ] {
        let (one, other) = (unit(one), unit(other));
        assert_eq!(one.dimension(), other.dimension(), "{one}");
        close(one.to_si(1.0), other.to_si(1.0), 1e-15, one.symbol());
    }
}

#[test]
fn a_text_that_is_no_unit_is_refused_with_the_nearest_one() {
    let nearest = |text: &str| match Unit::parse(text) {
        Err(UnitError::Unknown { nearest, .. }) => nearest,
        other => panic!("{text}: {other:?}"),
    };
    assert_eq!(nearest("baar"), Some("bar"));
    assert_eq!(nearest("PSI"), Some("psi"));
    assert_eq!(nearest("Nm"), Some("N m"));
    assert_eq!(nearest("lbft"), Some("lbf ft"));
    assert_eq!(nearest("lb ft"), Some("lbf ft"));
    assert_eq!(nearest("RPM"), Some("rpm"));
    assert_eq!(nearest("elephants"), None);
    assert_eq!(nearest_symbol("inhg"), Some("inHg"));
    assert_eq!(nearest_symbol("x"), None);
    assert_eq!(Unit::parse("  "), Err(UnitError::Empty));
}

#[test]
fn a_second_stroke_and_a_scale_temperature_in_a_product_are_named() {
    assert!(matches!(Unit::parse("kg/m/s"), Err(UnitError::SecondSlash { .. })));
    assert!(matches!(Unit::parse("J/(kg °C)"), Err(UnitError::PointInProduct { .. })));
    assert!(matches!(Unit::parse("°C/min"), Err(UnitError::PointInProduct { .. })));
    assert!(Unit::parse("mm2 ").is_ok());
    assert!(matches!(Unit::parse("mm mm"), Err(UnitError::Unknown { .. })));
}

#[test]
fn a_word_that_reads_as_a_unit_is_known_as_a_symbol() {
    for word in ["bar", "mm2", "min", "in", "h", "cc", "inH2O"] {
        assert!(is_symbol(word), "{word}");
    }
    for word in ["bar_reading", "port", "m1", "m0", "into", "", "2", "m99"] {
        assert!(!is_symbol(word), "{word}");
    }
}

#[test]
fn powers_and_products_beyond_all_use_are_no_units() {
    for text in ["m^25", "m^1e9", "m^0.333", "m^-", "km24/(mm24 mm24)", "(m m", "()", "(m", "m^2^2"]
    {
        assert!(Unit::parse(text).is_err(), "{text}");
    }
}
