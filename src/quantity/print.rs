//! Prints values in the person's own unit, with the digits that their uncertainty leaves.
//!
//! For people: [`print_value`], [`print_result`], [`print_band`]; for files: [`print_exact`]. What is printed reads
//! back through [`super::read`]. How a number turns into digits is left to [`super::digits`].

use super::digits::{Digits, shortest};
use super::{Dimension, Kind, Reference, Unit};

/// A value with its uncertainty: `0.853 ± 0.012 bar`. The uncertainty gets two significant
/// digits, one if it leads with 3 or more (JCGM 100, 7.2.6 asks for at most two), and the value
/// ends at the same place. Without uncertainty at most four significant digits.
///
/// `si` and `uncertainty` are in coherent SI and finite; an uncertainty of 0 is left out, and so
/// is one too small for a float to show beside its value.
///
/// ```
/// # use boostwright::quantity::{Kind, Unit, print_value};
/// let bar = Unit::parse("bar").unwrap();
/// let shown = print_value(85_310.0, 1_200.0, &bar, Kind::GAUGE_PRESSURE);
/// assert_eq!(shown, "0.853 ± 0.012 bar");
/// ```
#[must_use]
pub fn print_value(si: f64, uncertainty: f64, unit: &Unit, kind: Kind) -> String {
    let shown = Shown::of(si, uncertainty, unit, kind);
    let Shown { number, spread, .. } = shown;
    match Digits::for_spread(spread, number.abs()) {
        Some(digits) => shown.join(&digits.all(number), Some(&digits.all(spread))),
        None => shown.join(&Digits::without_spread(number.abs()).trimmed(number), None),
    }
}

/// A result as people read it. All its numbers end at the same digit, the last that its uncertainty
/// leaves (JCGM 100:2008, 7.2.6).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Printed {
    /// The value alone: `0.85 bar`.
    pub best: String,
    /// With one standard uncertainty: `0.85 ± 0.04 bar`.
    pub value: String,
    /// The band: `0.77 to 0.93 bar`; none where nothing is uncertain.
    pub band: Option<String>,
    /// Whether the value lies below zero, as far as its digits tell.
    pub is_negative: bool,
}

impl Printed {
    /// The value with its band behind it: `0.85 bar (0.77 to 0.93 bar)`.
    #[must_use]
    pub fn with_band(&self) -> String {
        let band = self.band.as_ref().map_or_else(String::new, |band| format!(" ({band})"));
        format!("{}{band}", self.best)
    }
}

/// A result with its band.
///
/// `si`, `uncertainty` and the ends of `band` are in coherent SI and finite.
///
/// ```
/// # use boostwright::quantity::{Kind, Unit, print_result};
/// let bar = Unit::parse("bar").unwrap();
/// let shown = print_result((85_310.0, 4_000.0), (77e3, 93e3), &bar, Kind::GAUGE_PRESSURE);
/// assert_eq!(shown.with_band(), "0.85 bar (0.77 to 0.93 bar)");
/// ```
#[must_use]
pub fn print_result(
    (si, uncertainty): (f64, f64),
    band: (f64, f64),
    unit: &Unit,
    kind: Kind,
) -> Printed {
    let shown = Shown::of(si, uncertainty, unit, kind);
    let Shown { number, spread, unit } = &shown;
    let value = print_value(si, uncertainty, unit, kind);
    let Some(digits) = Digits::for_spread(*spread, number.abs()) else {
        let band = (uncertainty > 0.0).then(|| print_band(band.0, band.1, unit));
        return Printed { is_negative: value.starts_with('-'), best: value.clone(), value, band };
    };
    let best = digits.all(*number);
    let (low, high) = (digits.all(unit.from_si(band.0)), digits.all(unit.from_si(band.1)));
    Printed {
        is_negative: best.starts_with('-'),
        best: with_unit(&best, unit),
        value,
        band: Some(with_unit(&format!("{low} to {high}"), unit)),
    }
}

/// A band: `0.48 to 0.64 bar`, with two significant digits of its width.
///
/// `low` and `high` are in coherent SI and finite. In a unit like °C the ends are points.
///
/// ```
/// # use boostwright::quantity::{Unit, print_band};
/// assert_eq!(print_band(48e3, 64e3, &Unit::parse("bar").unwrap()), "0.48 to 0.64 bar");
/// ```
#[must_use]
pub fn print_band(low: f64, high: f64, unit: &Unit) -> String {
    let (low, high) = (unit.from_si(low), unit.from_si(high));
    let largest = low.abs().max(high.abs());
    let digits = Digits::for_spread((high - low).abs(), largest)
        .unwrap_or_else(|| Digits::without_spread(largest));
    with_unit(&format!("{} to {}", digits.all(low), digits.all(high)), unit)
}

/// A value to the last bit of its uncertainty, for files: reads back to within rounding.
///
/// ```
/// # use boostwright::quantity::{Kind, Unit, print_exact};
/// let psi = Unit::parse("psi").unwrap();
/// let exact = print_exact(psi.to_si(12.3456), 0.0, &psi, Kind::GAUGE_PRESSURE);
/// assert_eq!(exact, "12.3456 psi");
/// ```
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
///
/// ```
/// # use boostwright::quantity::{Kind, readable_unit};
/// assert_eq!(readable_unit(Kind::GAUGE_PRESSURE).symbol(), "bar");
/// ```
#[must_use]
pub fn readable_unit(kind: Kind) -> Unit {
    let symbol = match kind.dimension {
        Dimension::PRESSURE => "bar",
        Dimension::TEMPERATURE if kind.reference == Reference::Difference => "K",
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
        let unit = if kind.reference == Reference::Difference && unit.is_point() {
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
