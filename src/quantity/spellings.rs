//! Units as people write them beside the car: `PSI`, `Bar`, `22 C`, `2.0 litres`, `1998 ccm`. Rule files
//! keep to the symbols of [`super::symbols`]; an answer may be spelt as it comes.

use super::pressure_word::pressure_word;
use super::symbols::offered_units;
use super::{Dimension, Kind, Unit};

/// Words and the units that they stand for, without spaces and capitals.
const WORDS: [(&str, &str); 60] = [
    ("bars", "bar"),
    ("millibar", "mbar"),
    ("kg/cm2", "kgf/cm2"),
    ("kg/cm²", "kgf/cm2"),
    ("kgcm2", "kgf/cm2"),
    ("l", "L"),
    ("ltr", "L"),
    ("liter", "L"),
    ("liters", "L"),
    ("litre", "L"),
    ("litres", "L"),
    ("ccm", "cm3"),
    ("cuin", "in3"),
    ("cu.in.", "in3"),
    ("cid", "in3"),
    ("cubicinches", "in3"),
    ("c", "°C"),
    ("celsius", "°C"),
    ("centigrade", "°C"),
    ("°celsius", "°C"),
    ("degreesc", "°C"),
    ("f", "°F"),
    ("fahrenheit", "°F"),
    ("°fahrenheit", "°F"),
    ("degreesf", "°F"),
    ("inch", "in"),
    ("inches", "in"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("millimeter", "mm"),
    ("millimeters", "mm"),
    ("sec", "s"),
    ("secs", "s"),
    ("second", "s"),
    ("seconds", "s"),
    ("mins", "min"),
    ("minute", "min"),
    ("minutes", "min"),
    ("hr", "h"),
    ("hrs", "h"),
    ("hour", "h"),
    ("hours", "h"),
    ("r/min", "rpm"),
    ("rev/min", "rpm"),
    ("revs", "rpm"),
    ("u/min", "rpm"),
    ("kph", "km/h"),
    ("kmh", "km/h"),
    ("ftlb", "lbf ft"),
    ("ftlbs", "lbf ft"),
    ("lbft", "lbf ft"),
    ("bhp", "hp"),
    ("volt", "V"),
    ("volts", "V"),
    ("amp", "A"),
    ("amps", "A"),
    ("ohms", "ohm"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("turns", "turn"),
];

/// The unit of this kind that a person means by a text that is no unit. Capitals tell nothing there,
/// but for an M that may stand for a thousandth or a million. A pressure may say of itself that it is
/// of the kind wanted: `psig`.
pub(super) fn meant(text: &str, wanted: Kind) -> Option<Unit> {
    let of_the_kind = |unit: &Unit| unit.dimension() == wanted.dimension;
    if let Some((unit, _)) = pressure_word(&folded(text)).filter(|(_, told)| *told == wanted) {
        return Some(unit);
    }
    let word = folded(text);
    let spelt = WORDS.iter().filter(|(own, _)| *own == word);
    let mut spelt = spelt.filter_map(|(_, unit)| Unit::parse(unit).ok());
    if let Some(unit) = spelt.find(of_the_kind) {
        return Some(unit);
    }
    let offered = offered_units().filter(|(dimension, _)| *dimension == wanted.dimension);
    let mut alike = offered.flat_map(|(_, units)| units).filter(|own| folded(own) == word);
    let unit = alike.next()?;
    let is_clear = alike.next().is_none() && !is_thousandth_or_million(text, wanted.dimension);
    is_clear.then(|| Unit::parse(unit).ok()).flatten()
}

/// Whether a first letter m may have been meant as either: of `Mbar` and `mpa` nobody knows.
fn is_thousandth_or_million(text: &str, dimension: Dimension) -> bool {
    let prefixed = matches!(
        dimension,
        Dimension::PRESSURE | Dimension::VOLUME | Dimension::VOLTAGE | Dimension::TIME
    );
    prefixed && text.starts_with(['m', 'M']) && !text.eq_ignore_ascii_case("min")
}

fn folded(text: &str) -> String {
    text.chars().filter(|letter| *letter != ' ').flat_map(char::to_lowercase).collect()
}
