//! The table of unit symbols, every factor derived from exact definitions.
//!
//! A factor is kept as a quotient `times / over`, so that a decimal submultiple stays exact where
//! a float can hold the result: 27 mm is 27/1000 m, not 27 times a rounded 0.001. How symbols are
//! put together to `J/(kg K)` is left to [`super::unit_text`].

use super::Dimension;

/// One symbol: what it stands for and how it converts, `si = (number + shift) * times / over`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Symbol {
    pub(super) text: &'static str,
    pub(super) dimension: Dimension,
    pub(super) times: f64,
    pub(super) over: f64,
    /// What is added to a number on a temperature scale to count from absolute zero; only
    /// temperature points have one.
    pub(super) shift: Option<f64>,
}

/// International inch, exactly 25.4 mm (NIST SP 811, app. B).
const INCH: f64 = 0.0254;
/// International foot, 12 in.
const FOOT: f64 = 12.0 * INCH;
/// Mile of 5280 ft (NIST SP 811, app. B).
const MILE: f64 = 5280.0 * FOOT;
/// Avoirdupois pound, exactly (NIST SP 811, B.8).
const POUND: f64 = 0.453_592_37;
/// Standard acceleration of free fall, exactly (3rd CGPM 1901; BIPM SI brochure; ISO 2533).
const STANDARD_GRAVITY: f64 = 9.806_65;
/// Pound-force: a pound under standard gravity.
const POUND_FORCE: f64 = POUND * STANDARD_GRAVITY;
/// Kilogram-force: a kilogram under standard gravity.
const KILOGRAM_FORCE: f64 = STANDARD_GRAVITY;
/// Standard atmosphere, exactly (10th CGPM 1954).
const ATMOSPHERE: f64 = 101_325.0;
/// Conventional density of mercury for liquid columns, kg/m³: the factors of the conventional
/// inch and millimetre of mercury in NIST SP 811, B.8 follow from it.
const MERCURY: f64 = 13_595.1;
/// Conventional density of water for liquid columns, kg/m³: the factor of the conventional inch
/// of water in NIST SP 811, B.8 follows from it.
const WATER: f64 = 1000.0;
/// Seconds in a minute and in an hour (BIPM SI brochure, table 8).
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
/// 0 °C in kelvin (BIPM SI brochure, 2.3.1).
const CELSIUS_ZERO: f64 = 273.15;
/// 0 °F in degrees Rankine: 1.8 × 273.15 − 32 (NIST SP 811, B.8: t/°F + 459.67).
const FAHRENHEIT_ZERO: f64 = 459.67;

const fn ratio(text: &'static str, dimension: Dimension, times: f64, over: f64) -> Symbol {
    Symbol { text, dimension, times, over, shift: None }
}

const fn unit(text: &'static str, dimension: Dimension, times: f64) -> Symbol {
    ratio(text, dimension, times, 1.0)
}

const fn point(text: &'static str, shift: f64, times: f64, over: f64) -> Symbol {
    Symbol { text, dimension: Dimension::TEMPERATURE, times, over, shift: Some(shift) }
}

/// A turn counts apart from every other plain number, see [`Dimension`].
const TURN: Dimension = Dimension::of([0, 0, 0, 0, 0, 1, 0]);

/// Every symbol that stands by itself, with the other spellings that people type: micro sign
/// and mu, ohm sign and omega, degree sign and ordinal sign look alike and are all typed.
const SYMBOLS: [Symbol; 74] = [
    ratio("%", Dimension::NONE, 1.0, 100.0),
    unit("Pa", Dimension::PRESSURE, 1.0),
    unit("hPa", Dimension::PRESSURE, 100.0),
    unit("kPa", Dimension::PRESSURE, 1e3),
    unit("MPa", Dimension::PRESSURE, 1e6),
    unit("GPa", Dimension::PRESSURE, 1e9),
    unit("bar", Dimension::PRESSURE, 1e5),
    unit("mbar", Dimension::PRESSURE, 100.0),
    ratio("psi", Dimension::PRESSURE, POUND_FORCE, INCH * INCH),
    unit("inHg", Dimension::PRESSURE, MERCURY * STANDARD_GRAVITY * INCH),
    ratio("mmHg", Dimension::PRESSURE, MERCURY * STANDARD_GRAVITY, 1e3),
    unit("inH2O", Dimension::PRESSURE, WATER * STANDARD_GRAVITY * INCH),
    ratio("torr", Dimension::PRESSURE, ATMOSPHERE, 760.0),
    unit("atm", Dimension::PRESSURE, ATMOSPHERE),
    unit("m", Dimension::LENGTH, 1.0),
    ratio("\u{b5}m", Dimension::LENGTH, 1.0, 1e6),
    ratio("\u{3bc}m", Dimension::LENGTH, 1.0, 1e6),
    ratio("mm", Dimension::LENGTH, 1.0, 1e3),
    ratio("cm", Dimension::LENGTH, 1.0, 100.0),
    ratio("dm", Dimension::LENGTH, 1.0, 10.0),
    unit("km", Dimension::LENGTH, 1e3),
    ratio("in", Dimension::LENGTH, 254.0, 1e4),
    ratio("″", Dimension::LENGTH, 254.0, 1e4),
    ratio("\"", Dimension::LENGTH, 254.0, 1e4),
    unit("ft", Dimension::LENGTH, FOOT),
    ratio("thou", Dimension::LENGTH, 254.0, 1e7),
    ratio("L", Dimension::VOLUME, 1.0, 1e3),
    ratio("mL", Dimension::VOLUME, 1.0, 1e6),
    ratio("cc", Dimension::VOLUME, 1.0, 1e6),
    unit("kg", Dimension::MASS, 1.0),
    ratio("g", Dimension::MASS, 1.0, 1e3),
    unit("lb", Dimension::MASS, POUND),
    unit("s", Dimension::TIME, 1.0),
    ratio("ms", Dimension::TIME, 1.0, 1e3),
    unit("min", Dimension::TIME, MINUTE),
    unit("h", Dimension::TIME, HOUR),
    unit("turn", TURN, 1.0),
    ratio("rpm", Dimension::ROTATION, 1.0, MINUTE),
    unit("K", Dimension::TEMPERATURE, 1.0),
    point("°C", CELSIUS_ZERO, 1.0, 1.0),
    point("\u{ba}C", CELSIUS_ZERO, 1.0, 1.0),
    point("℃", CELSIUS_ZERO, 1.0, 1.0),
    point("degC", CELSIUS_ZERO, 1.0, 1.0),
    point("°F", FAHRENHEIT_ZERO, 5.0, 9.0),
    point("\u{ba}F", FAHRENHEIT_ZERO, 5.0, 9.0),
    point("℉", FAHRENHEIT_ZERO, 5.0, 9.0),
    point("degF", FAHRENHEIT_ZERO, 5.0, 9.0),
    point("°R", 0.0, 5.0, 9.0),
    point("degR", 0.0, 5.0, 9.0),
    ratio("cfm", Dimension::VOLUME_FLOW, FOOT * FOOT * FOOT, MINUTE),
    ratio("mph", Dimension::SPEED, MILE, HOUR),
    unit("N", Dimension::FORCE, 1.0),
    unit("kN", Dimension::FORCE, 1e3),
    unit("lbf", Dimension::FORCE, POUND_FORCE),
    unit("kgf", Dimension::FORCE, KILOGRAM_FORCE),
    unit("J", Dimension::ENERGY, 1.0),
    unit("kJ", Dimension::ENERGY, 1e3),
    unit("W", Dimension::POWER, 1.0),
    unit("kW", Dimension::POWER, 1e3),
    // 550 ft lbf a second (NIST SP 811, B.8).
    unit("hp", Dimension::POWER, 550.0 * FOOT * POUND_FORCE),
    // 75 kgf m a second (NIST SP 811, B.8: "horsepower (metric)").
    unit("PS", Dimension::POWER, 75.0 * KILOGRAM_FORCE),
    unit("V", Dimension::VOLTAGE, 1.0),
    ratio("mV", Dimension::VOLTAGE, 1.0, 1e3),
    unit("A", Dimension::CURRENT, 1.0),
    unit("ohm", Dimension::RESISTANCE, 1.0),
    unit("\u{3a9}", Dimension::RESISTANCE, 1.0),
    unit("\u{2126}", Dimension::RESISTANCE, 1.0),
    unit("kohm", Dimension::RESISTANCE, 1e3),
    unit("k\u{3a9}", Dimension::RESISTANCE, 1e3),
    unit("k\u{2126}", Dimension::RESISTANCE, 1e3),
    unit("rad", Dimension::ANGLE, 1.0),
    ratio("deg", Dimension::ANGLE, std::f64::consts::PI, 180.0),
    ratio("°", Dimension::ANGLE, std::f64::consts::PI, 180.0),
    ratio("\u{ba}", Dimension::ANGLE, std::f64::consts::PI, 180.0),
];

/// The symbol with exactly this spelling; case counts (mbar is no Mbar).
pub(super) fn find(text: &str) -> Option<&'static Symbol> {
    SYMBOLS.iter().find(|symbol| symbol.text == text)
}

/// What help texts offer, by dimension: the units of the trade, the commonest first.
const OFFERED: [(Dimension, &[&str]); 25] = [
    (
        Dimension::PRESSURE,
        &[
            "bar", "kPa", "psi", "mbar", "Pa", "hPa", "MPa", "GPa", "inHg", "mmHg", "torr",
            "inH2O", "atm", "kgf/cm2",
        ],
    ),
    (Dimension::LENGTH, &["mm", "in", "m", "cm", "km", "ft", "thou"]),
    (Dimension::AREA, &["mm2", "cm2", "m2", "in2"]),
    (Dimension::VOLUME, &["L", "cm3", "mL", "cc", "dm3", "m3", "in3", "ft3"]),
    (Dimension::MASS, &["kg", "g", "lb"]),
    (Dimension::TIME, &["s", "ms", "min", "h"]),
    (Dimension::TEMPERATURE, &["°C", "°F", "K", "degC", "degF", "degR"]),
    (Dimension::ROTATION, &["rpm"]),
    (Dimension::SPEED, &["km/h", "mph", "m/s"]),
    (Dimension::MASS_FLOW, &["g/s", "kg/s", "kg/h", "lb/min", "lb/h"]),
    (Dimension::VOLUME_FLOW, &["L/min", "cm3/min", "cfm", "m3/h", "m3/s"]),
    (Dimension::DENSITY, &["kg/m3"]),
    (Dimension::ENERGY, &["N m", "lbf ft", "J", "kJ"]),
    (Dimension::FORCE, &["N", "kN", "lbf", "kgf"]),
    (Dimension::STIFFNESS, &["N/mm", "lbf/in", "N/m"]),
    (Dimension::POWER, &["kW", "hp", "PS", "W"]),
    (Dimension::VOLTAGE, &["V", "mV"]),
    (Dimension::CURRENT, &["A"]),
    (Dimension::RESISTANCE, &["ohm", "kohm"]),
    (Dimension::ANGLE, &["deg", "rad"]),
    (Dimension::SPECIFIC_ENERGY, &["J/kg", "kJ/kg"]),
    (Dimension::SPECIFIC_HEAT, &["J/(kg K)"]),
    (Dimension::CONDUCTANCE, &["dm3/(s bar)", "m3/(s Pa)"]),
    (Dimension::EXPANSION, &["1/K"]),
    (Dimension::NONE, &["%", "1"]),
];

/// The units that help texts list, by dimension, the commonest first.
///
/// ```
/// # use boostwright::quantity::{Dimension, offered_units};
/// let rotation = offered_units().find(|(dimension, _)| *dimension == Dimension::ROTATION);
/// assert!(rotation.unwrap().1.contains(&"rpm"));
/// ```
pub fn offered_units() -> impl Iterator<Item = (Dimension, &'static [&'static str])> {
    OFFERED.iter().copied()
}

/// The unit that was perhaps meant by a word that is none: `Psi` psi, `baar` bar, `Nm` N m.
///
/// ```
/// # use boostwright::quantity::nearest_symbol;
/// assert_eq!(nearest_symbol("baar"), Some("bar"));
/// assert_eq!(nearest_symbol("parsnip"), None);
/// ```
#[must_use]
pub fn nearest_symbol(word: &str) -> Option<&'static str> {
    let length = word.chars().count();
    // No unit is longer; what is measured against it stays short too.
    if length > 16 {
        return None;
    }
    // The degree sign is not on every keyboard.
    match word {
        "C" => return Some("°C"),
        "F" => return Some("°F"),
        _ => {}
    }
    let meant = folded(word);
    // A third of the letters may be off, but a one-letter word is never wholly replaced.
    let allowed = (length / 3).max(1).min(length.saturating_sub(1));
    OFFERED
        .iter()
        .flat_map(|(_, units)| units.iter().copied())
        .map(|unit| (strsim::osa_distance(&meant, &folded(unit)), unit))
        .filter(|(far, _)| *far <= allowed)
        // Of equals the first, since the list has the commonest first.
        .min_by_key(|(far, unit)| (*far, !unit.starts_with(|letter| word.starts_with(letter))))
        .map(|(_, unit)| unit)
}

/// Case and spaces are what people get wrong first: `RPM`, `Nm`.
fn folded(word: &str) -> String {
    word.to_lowercase().replace(' ', "")
}
