//! Kinds: what a quantity means beyond its dimension.

use std::fmt;

use super::Dimension;
use crate::text::spaced;

/// What a pressure or a temperature is counted from. Other dimensions know only [`Reference::Plain`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reference {
    /// No kind of its own: every dimension but pressure and temperature, and a pressure or
    /// temperature written in a formula before its place settles what it is.
    Plain,
    /// A pressure from zero upward, as the gas laws want it.
    Absolute,
    /// A pressure against the air outside, as a boost gauge shows it.
    Gauge,
    /// A temperature on a scale.
    Point,
    /// What lies between two pressures or two temperatures.
    Difference,
}

/// A dimension and what it is counted from: the type of a value in rule files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Kind {
    pub dimension: Dimension,
    pub reference: Reference,
}

impl Kind {
    /// A dimension without a reference of its own.
    ///
    /// ```
    /// # use boostwright::quantity::{Dimension, Kind};
    /// // A pressure of which nobody has said against what it is read.
    /// assert_ne!(Kind::plain(Dimension::PRESSURE), Kind::GAUGE_PRESSURE);
    /// ```
    #[must_use]
    pub const fn plain(dimension: Dimension) -> Self {
        Self { dimension, reference: Reference::Plain }
    }

    const fn read(dimension: Dimension, reference: Reference) -> Self {
        Self { dimension, reference }
    }

    pub const NUMBER: Self = Self::plain(Dimension::NONE);
    pub const ABSOLUTE_PRESSURE: Self = Self::read(Dimension::PRESSURE, Reference::Absolute);
    pub const GAUGE_PRESSURE: Self = Self::read(Dimension::PRESSURE, Reference::Gauge);
    pub const PRESSURE_DIFFERENCE: Self = Self::read(Dimension::PRESSURE, Reference::Difference);
    pub const TEMPERATURE: Self = Self::read(Dimension::TEMPERATURE, Reference::Point);
    pub const TEMPERATURE_DIFFERENCE: Self =
        Self::read(Dimension::TEMPERATURE, Reference::Difference);

    /// The word for this kind in a rule file's `measure:`, and in messages.
    ///
    /// ```
    /// # use boostwright::quantity::Kind;
    /// assert_eq!(Kind::GAUGE_PRESSURE.word(), Some("gauge_pressure"));
    /// ```
    #[must_use]
    pub fn word(self) -> Option<&'static str> {
        WORDS.iter().find(|(_, kind)| *kind == self).map(|(word, _)| *word)
    }

    /// The kind that a rule file's `measure:` names.
    ///
    /// ```
    /// # use boostwright::quantity::Kind;
    /// assert_eq!(Kind::from_word("gauge_pressure"), Some(Kind::GAUGE_PRESSURE));
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        WORDS.iter().find(|(known, _)| *known == word).map(|(_, kind)| *kind)
    }

    /// All words that `measure:` knows.
    ///
    /// ```
    /// # use boostwright::quantity::Kind;
    /// assert!(Kind::words().all(|word| Kind::from_word(word).is_some()));
    /// ```
    pub fn words() -> impl Iterator<Item = &'static str> {
        WORDS.iter().map(|(word, _)| *word)
    }
}

const WORDS: [(&str, Kind); 28] = [
    ("absolute_pressure", Kind::ABSOLUTE_PRESSURE),
    ("gauge_pressure", Kind::GAUGE_PRESSURE),
    ("pressure_difference", Kind::PRESSURE_DIFFERENCE),
    ("temperature", Kind::TEMPERATURE),
    ("temperature_difference", Kind::TEMPERATURE_DIFFERENCE),
    ("length", Kind::plain(Dimension::LENGTH)),
    ("area", Kind::plain(Dimension::AREA)),
    ("volume", Kind::plain(Dimension::VOLUME)),
    ("angle", Kind::plain(Dimension::ANGLE)),
    ("mass", Kind::plain(Dimension::MASS)),
    ("time", Kind::plain(Dimension::TIME)),
    ("rotation", Kind::plain(Dimension::ROTATION)),
    ("speed", Kind::plain(Dimension::SPEED)),
    ("mass_flow", Kind::plain(Dimension::MASS_FLOW)),
    ("volume_flow", Kind::plain(Dimension::VOLUME_FLOW)),
    ("density", Kind::plain(Dimension::DENSITY)),
    ("force", Kind::plain(Dimension::FORCE)),
    ("stiffness", Kind::plain(Dimension::STIFFNESS)),
    ("torque", Kind::plain(Dimension::ENERGY)),
    ("power", Kind::plain(Dimension::POWER)),
    ("voltage", Kind::plain(Dimension::VOLTAGE)),
    ("current", Kind::plain(Dimension::CURRENT)),
    ("resistance", Kind::plain(Dimension::RESISTANCE)),
    ("specific_energy", Kind::plain(Dimension::SPECIFIC_ENERGY)),
    ("heat_capacity", Kind::plain(Dimension::SPECIFIC_HEAT)),
    ("flow_conductance", Kind::plain(Dimension::CONDUCTANCE)),
    ("expansion", Kind::plain(Dimension::EXPANSION)),
    ("number", Kind::NUMBER),
];

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.word() {
            Some(word) => f.write_str(&spaced(word)),
            None => self.dimension.fmt(f),
        }
    }
}
