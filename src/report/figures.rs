//! Numbers for the model: in coherent SI for scripts, in the trade's units for people.

use crate::formula::{Band, BandFrom};
use crate::interview::Figure;
use crate::quantity::{Dimension, Kind, Unit, print_band, print_value};

use super::model::FigureLine;

/// A number in the unit that scripts get: coherent SI, rotation in rpm.
pub(super) struct Coherent {
    unit: Unit,
}

impl Coherent {
    pub(super) fn of(dimension: Dimension) -> Self {
        Self { unit: Unit::coherent(dimension) }
    }

    pub(super) fn symbol(&self) -> String {
        self.unit.symbol().to_owned()
    }

    pub(super) fn value(&self, si: f64) -> f64 {
        self.unit.from_si(si)
    }

    /// An uncertainty scales, whatever the zero of the unit.
    pub(super) fn size(&self, si: f64) -> f64 {
        si / self.unit.scale()
    }
}

pub(super) fn band_from(band: &Band) -> &'static str {
    match band.from {
        BandFrom::FirstOrder => "first_order",
        BandFrom::MonteCarlo { .. } => "monte_carlo",
    }
}

/// A figure of a verdict.
pub(super) fn figure_line(figure: &Figure) -> FigureLine {
    let kind = kind_of(&figure.unit);
    let coherent = Coherent::of(figure.unit.dimension());
    FigureLine {
        value: coherent.value(figure.value),
        unit: coherent.symbol(),
        standard_uncertainty: coherent.size(figure.uncertainty),
        low: coherent.value(figure.low),
        high: coherent.value(figure.high),
        shown: print_value(figure.value, figure.uncertainty, &figure.unit, kind),
    }
}

/// The kind by which a unit prints: a temperature scale has a zero of its own.
pub(super) fn kind_of(unit: &Unit) -> Kind {
    if unit.is_point() { Kind::TEMPERATURE } else { Kind::plain(unit.dimension()) }
}

/// The 95 % band in a unit, where there is one.
pub(super) fn shown_band(band: &Band, unit: &Unit) -> Option<String> {
    (band.uncertainty > 0.0).then(|| print_band(band.low, band.high, unit))
}
