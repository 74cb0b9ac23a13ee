//! Reads what a person types for a quantity: `0,85bar`, `24 mm ± 0.2`, `1 5/8 in`,
//! `0.92; 0.94; 0.91 bar`.
//!
//! Whether the value is plausible, and whether a supposed unit is the one that was meant, is the
//! caller's to find out.

use super::pressure_word::pressure_word;
use super::spellings::meant;
use super::typed_number::{NumberFault, leading_number};
use super::unit::shown;
use super::{Dimension, Kind, ReadError, Reference, Unit, UnitError};

/// No value is longer; a pasted file is refused before anything looks at it.
pub(super) const MAX_LETTERS: usize = 200;

/// What a person typed for a quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// In coherent SI; finite. The mean, where several readings were typed.
    pub si: f64,
    /// One standard uncertainty in coherent SI: what was typed behind ±, or of several readings
    /// that differ, that of their mean (type A, s/√n; JCGM 100, 4.2.3). Readings that are all
    /// alike show no uncertainty, which is not the same as none: the gauge may be too coarse.
    pub uncertainty: Option<f64>,
    /// The unit as typed or supposed; of several, the first.
    pub unit: Unit,
    /// The unit was not typed: [`Self::unit`] is the usual one, to be confirmed by the person
    /// before the value is used.
    pub unit_supposed: bool,
    /// How many readings were typed; at least 1.
    pub readings: usize,
}

/// A number with its unit, neither converted.
struct Typed {
    number: f64,
    unit: Option<Unit>,
}

/// The unit of a value, typed or supposed.
struct Choice {
    unit: Unit,
    supposed: bool,
}

/// Reads a value of the wanted kind. Where the unit is missing, `usual` is supposed and
/// [`Entry::unit_supposed`] set; a plain number needs none, unless its usual unit is `%`.
///
/// ```
/// # use boostwright::quantity::{Kind, Unit, read};
/// let kind = Kind::GAUGE_PRESSURE;
/// let entry = read("0,85bar ± 0.02", kind, None).unwrap();
/// assert!((entry.si - 85e3).abs() < 1e-9 && entry.uncertainty.is_some());
/// let bare = read("0.85", kind, Some(&Unit::parse("bar").unwrap())).unwrap();
/// assert!(bare.unit_supposed);
/// ```
///
/// # Errors
/// [`ReadError`]; also below vacuum and absolute zero. A gauge pressure has no lower end here,
/// that depends on the air outside.
pub fn read(text: &str, kind: Kind, usual: Option<&Unit>) -> Result<Entry, ReadError> {
    read_by(text, kind, usual, false)
}

/// [`read`] for what a person answers: units may be spelt as they come, in capitals, in words or with the
/// kind of pressure behind them where that is the one wanted.
///
/// ```
/// # use boostwright::quantity::{Kind, read, read_as_spelt};
/// let (kind, text) = (Kind::GAUGE_PRESSURE, "12.5 PSI");
/// assert!(read(text, kind, None).is_err());
/// assert!((read_as_spelt(text, kind, None).unwrap().si - 86.2e3).abs() < 50.0);
/// ```
///
/// # Errors
/// As [`read`].
pub fn read_as_spelt(text: &str, kind: Kind, usual: Option<&Unit>) -> Result<Entry, ReadError> {
    read_by(text, kind, usual, true)
}

fn read_by(
    text: &str,
    kind: Kind,
    usual: Option<&Unit>,
    as_spelt: bool,
) -> Result<Entry, ReadError> {
    if text.chars().nth(MAX_LETTERS).is_some() {
        return Err(ReadError::TooLong { limit: MAX_LETTERS });
    }
    let text = plain(text);
    let reader = Reader { text: text.trim(), kind, usual, as_spelt };
    if reader.text.is_empty() {
        Err(ReadError::Empty)
    } else if reader.text.contains(';') {
        reader.repeats()
    } else {
        reader.single()
    }
}

/// The text with one spelling each for space, minus and ±.
pub(super) fn plain(text: &str) -> String {
    let one_by_one = |letter: char| match letter {
        letter if letter.is_whitespace() => ' ',
        '−' | '–' => '-',
        letter => letter,
    };
    let text: String = text.chars().map(one_by_one).collect();
    text.replace("+/-", "±").replace("+-", "±")
}

struct Reader<'t> {
    text: &'t str,
    kind: Kind,
    usual: Option<&'t Unit>,
    /// Whether units may be spelt as people do.
    as_spelt: bool,
}

impl Reader<'_> {
    fn single(&self) -> Result<Entry, ReadError> {
        let Some((before, behind)) = self.text.split_once('±') else {
            let typed = self.typed(self.text)?;
            let Choice { unit, supposed } = self.choose(typed.unit)?;
            let si = self.convert(typed.number, &unit)?;
            return Ok(Entry { si, uncertainty: None, unit, unit_supposed: supposed, readings: 1 });
        };
        if behind.contains('±') {
            return Err(ReadError::TwoNumbers { given: self.given() });
        }
        let (typed, spread) = (self.typed(before)?, self.typed(behind)?);
        // `24 ± 0.2 mm` gives the unit for both; `24 ± 2 %` gives none for the 24.
        let shared = spread.unit.as_ref().filter(|unit| !unit.is_percent());
        let Choice { unit, supposed } = self.choose(typed.unit.or(shared.cloned()))?;
        let si = self.convert(typed.number, &unit)?;
        let uncertainty = Some(self.uncertainty(typed.number, &unit, &spread)?);
        Ok(Entry { si, uncertainty, unit, unit_supposed: supposed, readings: 1 })
    }

    fn repeats(&self) -> Result<Entry, ReadError> {
        if self.text.contains('±') {
            return Err(ReadError::UncertaintyAmongRepeats);
        }
        let typed: Vec<Typed> =
            self.text.split(';').map(|part| self.typed(part.trim())).collect::<Result<_, _>>()?;
        let mut units = typed.iter().filter_map(|one| one.unit.as_ref());
        let first = units.next().cloned();
        if let Some(first) = &first
            && let Some(second) = units.find(|unit| *unit != first)
        {
            let (first, second) = (shown(first.symbol()), shown(second.symbol()));
            return Err(ReadError::TwoUnits { first, second });
        }
        let Choice { unit, supposed } = self.choose(first)?;
        let values: Vec<f64> =
            typed.iter().map(|one| self.convert(one.number, &unit)).collect::<Result<_, _>>()?;
        let (si, uncertainty) = mean(&values);
        let uncertainty = self.sound(uncertainty)?;
        Ok(Entry {
            si: self.sound(si)?,
            uncertainty: (uncertainty > 0.0).then_some(uncertainty),
            unit,
            unit_supposed: supposed,
            readings: values.len(),
        })
    }

    /// A number and the unit behind it, nothing else.
    fn typed(&self, text: &str) -> Result<Typed, ReadError> {
        let (number, rest) = leading_number(text.trim()).map_err(|fault| self.no_number(fault))?;
        let rest = rest.trim();
        if rest.is_empty() {
            return Ok(Typed { number, unit: None });
        }
        match Unit::parse(rest) {
            // Nobody means the unit of plain numbers by a lone 1.
            Ok(unit) if !unit.is_one() => {
                // kg/cm2 is a mass over an area where no pressure is wanted.
                let is_another = self.as_spelt && unit.dimension() != self.kind.dimension;
                let spelt = is_another.then(|| meant(rest, self.kind)).flatten();
                Ok(Typed { number, unit: Some(spelt.unwrap_or(unit)) })
            }
            Ok(_) => Err(ReadError::TwoNumbers { given: self.given() }),
            Err(fault) => match meant(rest, self.kind).filter(|_| self.as_spelt) {
                Some(unit) => Ok(Typed { number, unit: Some(unit) }),
                None => Err(self.no_unit(rest, fault)),
            },
        }
    }

    fn no_number(&self, fault: NumberFault) -> ReadError {
        let given = self.given();
        match fault {
            NumberFault::None => ReadError::NoNumber { given },
            NumberFault::TwoMarks => ReadError::TwoDecimalMarks { given },
            NumberFault::NotFinite => ReadError::NotFinite { given },
            NumberFault::Extreme => ReadError::OutOfReach { given },
            NumberFault::OverZero => ReadError::OverZero { given },
        }
    }

    /// Tells a second number and a second unit from a word that is no unit.
    fn no_unit(&self, rest: &str, fault: UnitError) -> ReadError {
        let (first, used) = match Unit::prefix(rest) {
            Some((unit, used)) => (Some(unit), used),
            None => (None, 0),
        };
        let more = rest.get(used..).unwrap_or("").trim_start();
        if starts_number(more) {
            return ReadError::TwoNumbers { given: self.given() };
        }
        if self.kind.dimension == Dimension::PRESSURE
            && let Some((unit, told)) = pressure_word(rest)
        {
            let (given, unit) = (shown(rest), shown(unit.symbol()));
            return ReadError::KindInUnit { given, unit, told, wanted: self.kind };
        }
        // `lb ft` is a misspelling before it is two units, and `kg/m/s` one wrong one.
        let misspelt = matches!(fault, UnitError::Unknown { nearest: Some(_), .. });
        match (first, Unit::prefix(more)) {
            (Some(first), Some((second, _))) if !misspelt && !more.starts_with('/') => {
                ReadError::TwoUnits { first: shown(first.symbol()), second: shown(second.symbol()) }
            }
            _ => ReadError::NoUnit { fault },
        }
    }

    /// The typed unit, or else the usual one; checked against the kind.
    fn choose(&self, typed: Option<Unit>) -> Result<Choice, ReadError> {
        let wanted = self.kind;
        let is_number = wanted.dimension == Dimension::NONE;
        let usual = self.usual.filter(|unit| unit.dimension() == wanted.dimension);
        let choice = match (typed, usual) {
            (Some(unit), _) => Choice { unit, supposed: false },
            (None, Some(unit)) => Choice { unit: unit.clone(), supposed: !unit.is_one() },
            (None, None) if is_number => {
                Choice { unit: Unit::coherent(Dimension::NONE), supposed: false }
            }
            (None, None) => return Err(ReadError::MissingUnit { wanted }),
        };
        self.check_dimension(&choice.unit)?;
        Ok(choice)
    }

    fn check_dimension(&self, unit: &Unit) -> Result<(), ReadError> {
        let (given, wanted) = (unit.dimension(), self.kind);
        if given == wanted.dimension {
            return Ok(());
        }
        Err(ReadError::WrongDimension { unit: shown(unit.symbol()), given, wanted })
    }

    fn convert(&self, number: f64, unit: &Unit) -> Result<f64, ReadError> {
        if self.kind.reference == Reference::Difference && unit.is_point() {
            let unit_text = shown(unit.symbol());
            let kelvin = self.sound(number * unit.scale())?;
            return Err(ReadError::PointForDifference { unit: unit_text, kelvin });
        }
        let si = self.sound(unit.to_si(number))?;
        match self.kind {
            Kind::ABSOLUTE_PRESSURE if si < 0.0 => {
                Err(ReadError::BelowVacuum { given: self.given() })
            }
            Kind::TEMPERATURE if si < 0.0 => {
                Err(ReadError::BelowAbsoluteZero { given: self.given() })
            }
            _ => Ok(si),
        }
    }

    fn uncertainty(&self, number: f64, unit: &Unit, spread: &Typed) -> Result<f64, ReadError> {
        if spread.number < 0.0 {
            return Err(ReadError::NegativeUncertainty { given: self.given() });
        }
        match &spread.unit {
            Some(percent) if percent.is_percent() && unit.is_point() => {
                Err(ReadError::ShareOfPoint { unit: shown(unit.symbol()) })
            }
            Some(percent) if percent.is_percent() => {
                self.sound_spread((number * spread.number / 100.0).abs() * unit.scale())
            }
            own => {
                let own = own.as_ref().unwrap_or(unit);
                self.check_dimension(own)?;
                self.sound_spread(spread.number * own.scale())
            }
        }
    }

    /// An uncertainty that can be calculated with: variances are its square, summed.
    fn sound_spread(&self, si: f64) -> Result<f64, ReadError> {
        if si <= WIDEST {
            self.sound(si)
        } else {
            Err(ReadError::OutOfReach { given: self.given() })
        }
    }

    /// A number that can be calculated with; never minus zero.
    fn sound(&self, si: f64) -> Result<f64, ReadError> {
        if si == 0.0 {
            Ok(0.0)
        } else if si.is_normal() {
            Ok(si)
        } else {
            Err(ReadError::OutOfReach { given: self.given() })
        }
    }

    fn given(&self) -> String {
        shown(self.text)
    }
}

/// The largest uncertainty that is taken, in coherent SI: its square is a number, and so is the sum of
/// many.
const WIDEST: f64 = 1e150;

fn starts_number(text: &str) -> bool {
    let unsigned = text.trim_start_matches(['-', '+', '.', ',', ' ']);
    unsigned.starts_with(|letter: char| letter.is_ascii_digit())
}

/// The mean, and its standard uncertainty of type A (JCGM 100, 4.2.1 to 4.2.3).
fn mean(values: &[f64]) -> (f64, f64) {
    #[expect(clippy::cast_precision_loss, reason = "a typed line holds few readings")]
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (mean, (squares / (count - 1.0) / count).sqrt())
}
