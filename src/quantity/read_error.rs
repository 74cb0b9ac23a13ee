//! Why a typed value can't be taken, each with a way out.

use std::fmt;

use super::symbols::offered_units;
use super::{Dimension, Kind, Unit, UnitError, print_value};
use crate::text::Explained;

/// Why a typed value can't be taken. Every `given` is a short start of the text, safe to print.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadError {
    /// Nothing but white space.
    Empty,
    /// Longer than any value is.
    TooLong { limit: usize },
    /// No number where one should stand.
    NoNumber { given: String },
    /// More than one number.
    TwoNumbers { given: String },
    /// `1,234.5`: which mark is the decimal one can't be told for sure.
    TwoDecimalMarks { given: String },
    /// `nan`, `inf`.
    NotFinite { given: String },
    /// Too large, or too near zero, to be calculated with.
    OutOfReach { given: String },
    /// `5/0`.
    OverZero { given: String },
    /// More than one unit for one number, or repeated readings in several units.
    TwoUnits { first: String, second: String },
    /// What stands behind the number is no unit.
    NoUnit { fault: UnitError },
    /// A pressure unit that tells the kind too, which the question does: `psia`.
    KindInUnit { given: String, unit: String, told: Kind, wanted: Kind },
    /// No unit, and none that could be supposed.
    MissingUnit { wanted: Kind },
    /// A unit of another dimension than the kind wanted.
    WrongDimension { unit: String, given: Dimension, wanted: Kind },
    /// A temperature on a scale where a difference is wanted; `kelvin` is what the number would
    /// be as a difference.
    PointForDifference { unit: String, kelvin: f64 },
    /// ± with a number below zero.
    NegativeUncertainty { given: String },
    /// ± in per cent of a temperature on a scale, whose zero is arbitrary.
    ShareOfPoint { unit: String },
    /// ± beside several readings of one quantity.
    UncertaintyAmongRepeats,
    /// An absolute pressure below vacuum.
    BelowVacuum { given: String },
    /// A temperature below absolute zero.
    BelowAbsoluteZero { given: String },
}

impl ReadError {
    /// What is wrong, and the way out.
    ///
    /// ```
    /// # use boostwright::quantity::{Kind, read};
    /// let error = read("1 mm", Kind::GAUGE_PRESSURE, None).unwrap_err();
    /// assert!(error.explained().help.starts_with("give it in bar"));
    /// ```
    #[must_use]
    pub fn explained(&self) -> Explained {
        let (message, help): (String, &str) = match self {
            Self::Empty => ("nothing was typed".to_owned(), "write a number with its unit"),
            Self::TooLong { limit } => {
                (format!("this is longer than {limit} letters"), "write a number with its unit")
            }
            Self::NoNumber { given } => {
                (format!("there is no number in {given}"), "write it as 0.85 bar or 5/8 in")
            }
            Self::TwoNumbers { given } => (
                format!("{given} holds more than one number"),
                "write one, with its uncertainty after ± if known, or repeated readings with ; \
                 between them",
            ),
            Self::TwoDecimalMarks { given } => (
                format!("{given} has two marks that could be the decimal one"),
                "leave out the thousands separator",
            ),
            Self::NotFinite { given } => {
                (format!("{given} is not a number that could be measured"), "write one in digits")
            }
            Self::OutOfReach { given } => (
                format!(
                    "the number in {given} is too large or too near zero to be calculated with"
                ),
                "check its exponent",
            ),
            Self::OverZero { given } => {
                (format!("{given} divides by zero"), "check the lower number of the fraction")
            }
            Self::TwoUnits { first, second } => (
                format!("there are two units, {first} and {second}"),
                "write the value in one of them",
            ),
            Self::NoUnit { fault } => return fault.explained(),
            Self::KindInUnit { given, unit, told, wanted } if told == wanted => {
                let help = format!("{wanted} is expected here anyway, so write {unit} alone");
                return Explained::new(given, help);
            }
            Self::KindInUnit { given, unit, told, wanted } => {
                let help = format!("convert it, and write it in {unit} alone");
                return Explained::new(format!("{given} is {told}, but {wanted} is wanted"), help);
            }
            Self::MissingUnit { wanted } => {
                let help = format!("{wanted} is given in {}", unit_examples(*wanted));
                return Explained::new("the unit is missing", help);
            }
            Self::WrongDimension { unit, given, wanted } => {
                let help = format!("give it in {}", unit_examples(*wanted));
                return Explained::new(
                    format!("{unit} is a unit of {given}, but {wanted} is wanted"),
                    help,
                );
            }
            Self::PointForDifference { unit, kelvin } => {
                let help = format!("write it in K (this would be {})", as_difference(*kelvin));
                let message =
                    format!("{unit} gives a temperature, but a temperature difference is wanted");
                return Explained::new(message, help);
            }
            Self::NegativeUncertainty { given } => {
                (format!("the uncertainty in {given} is below zero"), "write it without the minus")
            }
            Self::ShareOfPoint { unit } => (
                format!(
                    "a percentage of a temperature in {unit} is meaningless, as its zero is \
                     arbitrary"
                ),
                "write the uncertainty in K",
            ),
            Self::UncertaintyAmongRepeats => (
                "the scatter of repeated readings already gives their uncertainty".to_owned(),
                "leave out the ±, or write one reading with it",
            ),
            Self::BelowVacuum { given } => (
                format!("{given} is below vacuum, which is impossible for an absolute pressure"),
                "a reading relative to the outside air is gauge pressure: add the air pressure to \
                 it",
            ),
            Self::BelowAbsoluteZero { given } => (
                format!("{given} is below absolute zero (−273.15 °C)"),
                "check the sign and the \
                    unit",
            ),
        };
        Explained::new(message, help)
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.explained().fmt(f)
    }
}

impl std::error::Error for ReadError {}

fn as_difference(kelvin: f64) -> String {
    let unit = Unit::coherent(Dimension::TEMPERATURE);
    print_value(kelvin, 0.0, &unit, Kind::TEMPERATURE_DIFFERENCE)
}

/// The commonest units of a kind, as "bar, kPa or psi".
///
/// ```
/// # use boostwright::quantity::{Kind, unit_examples};
/// assert_eq!(unit_examples(Kind::TEMPERATURE_DIFFERENCE), "K");
/// ```
#[must_use]
pub fn unit_examples(wanted: Kind) -> String {
    if wanted == Kind::TEMPERATURE_DIFFERENCE {
        return "K".to_owned();
    }
    let offered = offered_units().find(|(dimension, _)| *dimension == wanted.dimension);
    match offered.map_or(&[][..], |(_, units)| units) {
        [] => wanted.dimension.coherent_unit(),
        [one] => (*one).to_owned(),
        [one, two] => format!("{one} or {two}"),
        [one, two, three, ..] => format!("{one}, {two} or {three}"),
    }
}
