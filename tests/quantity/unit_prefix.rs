//! Where a unit ends in running text.

use boostwright::quantity::Unit;

/// What is taken as a unit at the start of each text.
fn taken(text: &str) -> Option<&str> {
    Unit::prefix(text).map(|(_, used)| &text[..used])
}

#[test]
fn the_longest_unit_expression_is_taken() {
    for (text, unit) in [
        ("bar + 2", "bar"),
        ("mm2)", "mm2"),
        ("mm^2 * 3", "mm^2"),
        ("K^-1", "K^-1"),
        ("J/(kg K), 3", "J/(kg K)"),
        ("dm3/(s bar)", "dm3/(s bar)"),
        ("lb/min", "lb/min"),
        ("lbf/in", "lbf/in"),
        ("lbf ft", "lbf ft"),
        ("lbf  ft", "lbf  ft"),
        ("N m", "N m"),
        ("N m/rad", "N m/rad"),
        ("(kg m)/s", "(kg m)/s"),
        ("/K", "/K"),
        ("/(kg K)", "/(kg K)"),
        ("%", "%"),
        ("% ± 2", "%"),
        ("°C", "°C"),
        ("inH2O", "inH2O"),
    ] {
        assert_eq!(taken(text), Some(unit), "{text}");
    }
}

#[test]
fn a_stroke_that_no_unit_follows_is_left_alone() {
    for (text, unit) in [
        ("mm / 2", "mm"),
        ("mm /s", "mm"),
        ("mm/ s", "mm"),
        ("mm/2", "mm"),
        ("bar/bar_reading", "bar"),
        ("bar/(port + 1)", "bar"),
        ("bar/(s", "bar"),
        ("bar/min(2, 3)", "bar"),
        ("kg/m/s", "kg/m"),
        ("mm^width", "mm"),
        ("mm^2x", "mm"),
        ("°C/min", "°C"),
        ("N m2", "N"),
        ("N m^2", "N"),
        ("N mm", "N"),
        ("bar psi", "bar"),
    ] {
        assert_eq!(taken(text), Some(unit), "{text}");
    }
}

#[test]
fn a_symbol_is_a_whole_word_and_min_before_a_bracket_the_function() {
    for text in [
        "bar_reading",
        "into",
        "barn",
        "min(1, 2)",
        "min (1, 2)",
        "/2",
        "/ K",
        "/min(2)",
        "/port",
        "and",
        "x",
        "%x",
        "1",
        "",
        " bar",
        "°Cx",
    ] {
        assert_eq!(taken(text), None, "{text}");
    }
}

#[test]
fn a_leading_stroke_is_one_over_what_follows() {
    let (unit, used) = Unit::prefix("/K").unwrap();
    assert_eq!((unit.symbol(), used), ("1/K", 2));
    assert_eq!(unit.dimension(), Unit::parse("1/K").unwrap().dimension());
}
