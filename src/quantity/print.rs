//! Prints values in the person's own unit, with the digits that their uncertainty leaves.
//!
//! For people: [`print_value`], [`print_band`]; for files: [`print_exact`]. What is printed reads
//! back through [`super::read`].

use super::{Dimension, Kind, Reading, Unit};

/// Digits of a value that carries no uncertainty.
const PLAIN_DIGITS: i32 = 4;
/// Digits beyond which a float holds only noise.
const MOST_DIGITS: i32 = 15;

/// A value with its uncertainty: `0.853 ± 0.012 bar`. The uncertainty gets two significant
/// digits, one if it leads with 3 or more (JCGM 100, 7.2.6 asks for at most two), and the value
/// ends at the same place. Without uncertainty at most four significant digits.
///
/// `si` and `uncertainty` are in coherent SI and finite; an uncertainty of 0 is left out, and so
/// is one too small for a float to show beside its value.
#[must_use]
pub fn print_value(si: f64, uncertainty: f64, unit: &Unit, kind: Kind) -> String {
    let shown = Shown::of(si, uncertainty, unit, kind);
    let Shown { number, spread, .. } = shown;
    if is_noise(spread, number.abs()) {
        return shown.join(&plain_digits(number.abs()).trimmed(number), None);
    }
    let largest = number.abs().max(spread);
    let digits = Digits::new(last_place(spread).max(noise_place(largest)), largest);
    shown.join(&digits.all(number), Some(&digits.all(spread)))
}

/// A band: `0.48 to 0.64 bar`, with two significant digits of its width.
///
/// `low` and `high` are in coherent SI and finite. In a unit like °C the ends are points.
#[must_use]
pub fn print_band(low: f64, high: f64, unit: &Unit) -> String {
    let (low, high) = (unit.from_si(low), unit.from_si(high));
    let largest = low.abs().max(high.abs());
    let width = (high - low).abs();
    let digits = if is_noise(width, largest) {
        plain_digits(largest)
    } else {
        Digits::new(last_place(width).max(noise_place(largest)), largest)
    };
    with_unit(&format!("{} to {}", digits.all(low), digits.all(high)), unit)
}

/// A value to the last bit of its uncertainty, for files: reads back to within rounding.
#[must_use]
pub fn print_exact(si: f64, uncertainty: f64, unit: &Unit, kind: Kind) -> String {
    let shown = Shown::of(si, uncertainty, unit, kind);
    let number = shortest(shown.number, si, |number| shown.unit.to_si(number));
    let scale = shown.unit.scale();
    let spread =
        (uncertainty > 0.0).then(|| shortest(shown.spread, uncertainty, |spread| spread * scale));
    shown.join(&number, spread.as_deref())
}

/// A unit that reads well for a result nobody typed a unit for.
#[must_use]
pub fn readable_unit(kind: Kind) -> Unit {
    let symbol = match kind.dimension {
        Dimension::PRESSURE => "bar",
        Dimension::TEMPERATURE if kind.reading == Reading::Difference => "K",
        Dimension::TEMPERATURE => "°C",
        Dimension::LENGTH => "mm",
        Dimension::AREA => "mm2",
        Dimension::VOLUME => "L",
        Dimension::ANGLE => "deg",
        Dimension::MASS_FLOW => "g/s",
        Dimension::VOLUME_FLOW => "L/min",
        Dimension::STIFFNESS => "N/mm",
        Dimension::ENERGY => "N m",
        Dimension::POWER => "kW",
        Dimension::SPECIFIC_ENERGY => "kJ/kg",
        Dimension::CONDUCTANCE => "dm3/(s bar)",
        Dimension::SPEED => "km/h",
        dimension => return Unit::coherent(dimension),
    };
    Unit::parse(symbol).unwrap_or_else(|_| Unit::coherent(kind.dimension))
}

/// A value and its uncertainty in the unit to print.
struct Shown {
    number: f64,
    spread: f64,
    unit: Unit,
}

impl Shown {
    fn of(si: f64, uncertainty: f64, unit: &Unit, kind: Kind) -> Self {
        // A difference of 20 K printed as 20 °C would read as a temperature.
        let unit = if kind.reading == Reading::Difference && unit.is_point() {
            Unit::coherent(unit.dimension())
        } else {
            unit.clone()
        };
        Self { number: unit.from_si(si), spread: uncertainty.abs() / unit.scale(), unit }
    }

    fn join(&self, number: &str, spread: Option<&str>) -> String {
        match spread {
            None => with_unit(number, &self.unit),
            // `85 ± 2 %` would read as two per cent of the 85.
            Some(spread) if self.unit.is_percent() => format!("{number} % ± {spread}"),
            Some(spread) => with_unit(&format!("{number} ± {spread}"), &self.unit),
        }
    }
}

fn with_unit(number: &str, unit: &Unit) -> String {
    if unit.is_one() { number.to_owned() } else { format!("{number} {unit}") }
}

fn is_noise(spread: f64, largest: f64) -> bool {
    spread <= largest * 10_f64.powi(1 - MOST_DIGITS)
}

/// The power of ten of the last digit that a float of this size still holds for sure.
fn noise_place(largest: f64) -> i32 {
    place(largest) + 1 - MOST_DIGITS
}

fn plain_digits(largest: f64) -> Digits {
    Digits::new(place(largest) + 1 - PLAIN_DIGITS, largest)
}

/// Where the digits of a printed number end.
struct Digits {
    /// The power of ten of the last digit.
    last: i32,
    /// The power of ten that is taken out and written behind an `e`; 0 where none is.
    taken_out: i32,
}

impl Digits {
    fn new(last: i32, largest: f64) -> Self {
        let leading = place(largest);
        // Below 1e-290 the power of ten itself would leave a float's range.
        let taken_out = if (-4..7).contains(&leading) { 0 } else { leading.max(-290) };
        Self { last, taken_out }
    }

    fn all(&self, number: f64) -> String {
        let Self { last, taken_out } = *self;
        let places = usize::try_from(taken_out - last).unwrap_or(0);
        let coarse = 10_f64.powi((last - taken_out).max(0));
        let mantissa = number / 10_f64.powi(taken_out);
        let rounded = if coarse > 1.0 { (mantissa / coarse).round() * coarse } else { mantissa };
        let text = format!("{rounded:.places$}");
        let shows_nothing = text.chars().all(|letter| matches!(letter, '-' | '0' | '.'));
        let text = if shows_nothing { text.trim_start_matches('-') } else { &text };
        if taken_out == 0 || shows_nothing {
            text.to_owned()
        } else {
            format!("{text}e{taken_out}")
        }
    }

    /// Without zeros behind the last digit that says something.
    fn trimmed(&self, number: f64) -> String {
        let text = self.all(number);
        let (mantissa, exponent) = text.split_at(text.find('e').unwrap_or(text.len()));
        if !mantissa.contains('.') {
            return text;
        }
        let mantissa = mantissa.trim_end_matches('0').trim_end_matches('.');
        format!("{mantissa}{exponent}")
    }
}

/// The power of ten of the first digit; 0 for zero.
fn place(number: f64) -> i32 {
    leading(number).1
}

/// The power of ten at which a value with this uncertainty ends.
fn last_place(uncertainty: f64) -> i32 {
    let (digit, place) = leading(uncertainty);
    if digit < 3 { place - 1 } else { place }
}

/// First digit and its power of ten, of a number rounded to two digits. Taken from the decimal
/// text: a logarithm is off by one now and then at a power of ten.
fn leading(number: f64) -> (u32, i32) {
    let text = format!("{:.1e}", number.abs());
    let digit = text.chars().next().and_then(|letter| letter.to_digit(10)).unwrap_or(0);
    let place = text.split_once('e').and_then(|(_, place)| place.parse().ok()).unwrap_or(0);
    (digit, place)
}

/// The shortest decimal text of about `near` that `back` turns into just `si`, or else all
/// digits of `near`.
fn shortest(near: f64, si: f64, back: impl Fn(f64) -> f64) -> String {
    let rounded = |places: usize| format!("{near:.places$e}").parse::<f64>().ok();
    let found = (0..17).filter_map(rounded).find(|number| back(*number).to_bits() == si.to_bits());
    // Adding zero turns minus zero into zero.
    let number = found.unwrap_or(near) + 0.0;
    if number == 0.0 || (1e-5..1e16).contains(&number.abs()) {
        number.to_string()
    } else {
        format!("{number:e}")
    }
}
