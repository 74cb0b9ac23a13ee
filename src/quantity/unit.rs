//! A unit as a person wrote it: its text, its dimension, and how it converts to coherent SI.
//!
//! The table of symbols is [`super::symbols`]', the grammar [`super::unit_text`]'s.

use std::fmt;

use super::Dimension;
use super::symbols::{find, nearest_symbol};
use super::unit_text::{Parts, expression, glued_power};
use crate::text::{Explained, excerpt};

/// A unit with its text as written; units are equal when they are written alike. Rotation is
/// counted in turns a second, so 1 rpm is 1/60.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    symbol: String,
    parts: Parts,
}

/// Why a text is no unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnitError {
    /// Nothing but white space.
    Empty,
    /// Not known, with the nearest known unit.
    Unknown { given: String, nearest: Option<&'static str> },
    /// `kg/m/s` could be read two ways.
    SecondSlash { given: String },
    /// A temperature on a scale inside a product or power: `J/(kg °C)`.
    PointInProduct { given: String },
}

impl Unit {
    /// Reads a text that is one unit and nothing else; `1` is the unit of a plain number.
    ///
    /// ```
    /// # use boostwright::quantity::{Unit, UnitError};
    /// assert_eq!(Unit::parse("mbar").unwrap().to_si(800.0), 80e3);
    /// let unknown = UnitError::Unknown { given: "baar".to_owned(), nearest: Some("bar") };
    /// assert_eq!(Unit::parse("baar"), Err(unknown));
    /// ```
    ///
    /// # Errors
    /// [`UnitError`], with the nearest known unit where there is one.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(UnitError::Empty);
        }
        if text == "1" {
            return Ok(Self::coherent(Dimension::NONE));
        }
        let body = match text.strip_prefix('1') {
            Some(over) if over.starts_with('/') => over,
            _ => text,
        };
        match Self::prefix(body) {
            Some((unit, used)) if used == body.len() => Ok(unit),
            found => {
                Err(refusal(text, found.map_or("", |(_, used)| body.get(used..).unwrap_or(""))))
            }
        }
    }

    /// The longest unit expression at the start of `text` and the bytes it takes; `None` if no
    /// unit stands there. A leading `/K`, right behind a number, is the unit `1/K`. A `/` that
    /// no unit follows, and the function `min(`, are left alone.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// assert_eq!(Unit::prefix("bar at 3000 rpm").unwrap().1, "bar".len());
    /// ```
    #[must_use]
    pub fn prefix(text: &str) -> Option<(Self, usize)> {
        let (parts, used) = expression(text)?;
        let written = text.get(..used)?;
        let one = if written.starts_with('/') { "1" } else { "" };
        Some((Self { symbol: format!("{one}{written}"), parts }, used))
    }

    /// The coherent SI unit of a dimension; rpm for rotation, `1` for a plain number.
    ///
    /// ```
    /// # use boostwright::quantity::{Dimension, Unit};
    /// assert_eq!(Unit::coherent(Dimension::PRESSURE).symbol(), "Pa");
    /// ```
    #[must_use]
    pub fn coherent(dimension: Dimension) -> Self {
        let over = if dimension == Dimension::ROTATION { 60.0 } else { 1.0 };
        let parts = Parts { dimension, times: 1.0, over, shift: None };
        Self { symbol: dimension.coherent_unit(), parts }
    }

    /// The unit as it was written.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// assert_eq!(Unit::parse("kg/h").unwrap().symbol(), "kg/h");
    /// ```
    #[must_use]
    pub fn symbol(&self) -> &str {
        &self.symbol
    }

    /// ```
    /// # use boostwright::quantity::{Dimension, Unit};
    /// assert_eq!(Unit::parse("kg/h").unwrap().dimension(), Dimension::MASS_FLOW);
    /// ```
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.parts.dimension
    }

    /// A number in this unit, in coherent SI. Infinite where the result outgrows a float.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// // 32 °F is the ice point, 273.15 K.
    /// assert!((Unit::parse("°F").unwrap().to_si(32.0) - 273.15).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        let Parts { times, over, shift, .. } = self.parts;
        (number + shift.unwrap_or(0.0)) * times / over
    }

    /// A number in coherent SI, in this unit. Infinite where the result outgrows a float.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// assert!((Unit::parse("°C").unwrap().from_si(373.15) - 100.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        let Parts { times, over, shift, .. } = self.parts;
        si * over / times - shift.unwrap_or(0.0)
    }

    /// Coherent SI for each unit: for differences and uncertainties, which know no zero point.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// // A difference of 9 °F is one of 5 K.
    /// assert!((9.0 * Unit::parse("°F").unwrap().scale() - 5.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.parts.times / self.parts.over
    }

    /// Whether numbers in this unit are temperatures on a scale (°C, °F and degR; not K).
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// assert!(Unit::parse("°C").unwrap().is_point() && !Unit::parse("K").unwrap().is_point());
    /// ```
    #[must_use]
    pub fn is_point(&self) -> bool {
        self.parts.shift.is_some()
    }

    /// Whether this is `%` by itself, which behind a ± means a share of the value.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// assert!(Unit::parse("%").unwrap().is_percent());
    /// ```
    #[must_use]
    pub fn is_percent(&self) -> bool {
        self.symbol == "%"
    }

    /// Whether this is the unit of a plain number, which nobody writes.
    ///
    /// ```
    /// # use boostwright::quantity::{Dimension, Unit};
    /// assert!(Unit::coherent(Dimension::NONE).is_one());
    /// ```
    #[must_use]
    pub fn is_one(&self) -> bool {
        self.symbol == "1"
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.symbol)
    }
}

/// Letters of what was typed that stand in a message.
const SHOWN: usize = 24;

/// The start of what was typed, fit to stand in a message.
pub(super) fn shown(text: &str) -> String {
    excerpt(text, SHOWN).into()
}

/// Whether a word is read as a unit behind a number, and so can't be a name: `bar`, `mm2`.
///
/// ```
/// # use boostwright::quantity::is_symbol;
/// assert!(is_symbol("mm2") && !is_symbol("port"));
/// ```
#[must_use]
pub fn is_symbol(word: &str) -> bool {
    find(word).is_some() || glued_power(word).is_some()
}

/// `rest` is what stands behind the part of `text` that is a unit.
fn refusal(text: &str, rest: &str) -> UnitError {
    let given = shown(text);
    if rest.starts_with('/') && Unit::prefix(rest).is_some() && text.matches('/').count() > 1 {
        return UnitError::SecondSlash { given };
    }
    if holds_point(text) {
        return UnitError::PointInProduct { given };
    }
    UnitError::Unknown { given, nearest: nearest_symbol(text) }
}

/// Whether one of the words is a temperature on a scale.
fn holds_point(text: &str) -> bool {
    text.split(['/', '(', ')', ' ', '^']).filter_map(find).any(|symbol| symbol.shift.is_some())
}

impl UnitError {
    /// What is wrong, and the way out.
    ///
    /// ```
    /// # use boostwright::quantity::Unit;
    /// let error = Unit::parse("barr").unwrap_err();
    /// assert_eq!(error.explained().help, "did you mean bar?");
    /// ```
    #[must_use]
    pub fn explained(&self) -> Explained {
        match self {
            Self::Empty => Explained::new("the unit is missing", "write one, such as bar or mm"),
            Self::Unknown { given, nearest } => Explained::new(
                format!("{given} is not a known unit"),
                match nearest {
                    Some(near) => format!("did you mean {near}?"),
                    None => "write one such as bar, mm, °C or J/(kg K)".to_owned(),
                },
            ),
            Self::SecondSlash { given } => Explained::new(
                format!("{given} has two slashes"),
                "write one, with brackets after it, as in J/(kg K)",
            ),
            Self::PointInProduct { given } => Explained::new(
                format!("{given} divides or multiplies by a temperature on a scale"),
                "write K instead",
            ),
        }
    }
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.explained().fmt(f)
    }
}

impl std::error::Error for UnitError {}
