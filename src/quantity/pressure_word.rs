//! Pressure units with their kind glued on, as gauges and data sheets write them: `psig`,
//! `bar(a)`, `kPa abs`.
//!
//! They are no units here, since the question settles the kind; but `psia` read as a misspelt
//! `psi` would let an absolute pressure pass as a boost.

use super::{Dimension, Kind, Unit};

const ENDINGS: [(&str, Kind); 7] = [
    ("a", Kind::ABSOLUTE_PRESSURE),
    ("abs", Kind::ABSOLUTE_PRESSURE),
    ("absolute", Kind::ABSOLUTE_PRESSURE),
    ("g", Kind::GAUGE_PRESSURE),
    ("gauge", Kind::GAUGE_PRESSURE),
    ("gage", Kind::GAUGE_PRESSURE),
    ("d", Kind::PRESSURE_DIFFERENCE),
];

/// The bare unit and the kind that the ending tells.
pub(super) fn pressure_word(text: &str) -> Option<(Unit, Kind)> {
    let text = text.strip_suffix(')').unwrap_or(text);
    ENDINGS.iter().find_map(|(ending, kind)| {
        let stem = text.strip_suffix(ending)?.trim_end_matches(['(', '.', ' ']);
        let unit = Unit::parse(stem).ok()?;
        (unit.dimension() == Dimension::PRESSURE).then_some((unit, *kind))
    })
}
