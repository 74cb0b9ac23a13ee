//! Reads a value whose place doesn't tell what it is: the unit tells its dimension, and what kind
//! of pressure it is stays open.

use super::pressure_word::pressure_word;
use super::read::{Entry, MAX_LETTERS, plain, read};
use super::typed_number::leading_number;
use super::{Dimension, Kind, ReadError, Unit};

/// Reads a value by its unit alone; without one it is a plain number. A temperature on a scale
/// (°C) is a point, one in K may be a difference as well.
///
/// ```
/// # use boostwright::quantity::{Kind, read_unsettled};
/// assert_eq!(read_unsettled("20 °C").unwrap().1, Kind::TEMPERATURE);
/// assert_eq!(read_unsettled("0.87").unwrap().1, Kind::NUMBER);
/// ```
///
/// # Errors
/// [`ReadError`]; also below absolute zero.
pub fn read_unsettled(text: &str) -> Result<(Entry, Kind), ReadError> {
    let kind = kind_by_unit(text);
    read(text, kind, None).map(|entry| (entry, kind))
}

/// The kind that the first unit in a typed value tells; a plain number where there is none, and
/// where it can't be read, which is then refused as what it is.
fn kind_by_unit(text: &str) -> Kind {
    // What is longer is refused unread.
    let start: String = text.chars().take(MAX_LETTERS).collect();
    let text = plain(&start);
    // In `5 ± 2 %` the unit is that of a share, which is a plain number's too.
    text.split(['±', ';'])
        .filter_map(|part| leading_number(part.trim()).ok())
        .find_map(|(_, rest)| kind_of_unit(rest.trim()))
        .unwrap_or(Kind::NUMBER)
}

fn kind_of_unit(text: &str) -> Option<Kind> {
    if let Some((unit, _)) = Unit::prefix(text) {
        let kind = if unit.is_point() { Kind::TEMPERATURE } else { Kind::plain(unit.dimension()) };
        return Some(kind);
    }
    pressure_word(text).map(|_| Kind::plain(Dimension::PRESSURE))
}
