//! Numbers for the model: in coherent SI for scripts, in the trade's units for people.

use crate::formula::{Band, BandFrom};
use crate::interview::Figure;
use crate::quantity::{Dimension, Kind, Printed, Unit, print_result};
use crate::report::model::{FigureLine, Shown};

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
        BandFrom::Conditioned { .. } => "conditioned",
    }
}

/// How many independent draws a band by readings is worth.
pub(super) fn effective_draws(band: &Band) -> Option<f64> {
    match band.from {
        BandFrom::Conditioned { effective, .. } => Some(effective),
        BandFrom::FirstOrder | BandFrom::MonteCarlo { .. } => None,
    }
}

/// A figure of a verdict.
pub(super) fn figure_line(figure: &Figure) -> FigureLine {
    let coherent = Coherent::of(figure.unit.dimension());
    FigureLine {
        value: coherent.value(figure.value),
        unit: coherent.symbol(),
        standard_uncertainty: coherent.size(figure.uncertainty),
        low: coherent.value(figure.low),
        high: coherent.value(figure.high),
        shown: print_result(
            (figure.value, figure.uncertainty),
            (figure.low, figure.high),
            &figure.unit,
            kind_of(&figure.unit),
        )
        .into(),
    }
}

/// A result in a unit for people.
pub(super) fn shown_band(band: &Band, unit: &Unit, kind: Kind) -> Printed {
    print_result((band.value, band.uncertainty), (band.low, band.high), unit, kind)
}

impl From<Printed> for Shown {
    fn from(printed: Printed) -> Self {
        let Printed { best, value, band, .. } = printed;
        Self { best, value, band }
    }
}

/// The kind by which a unit prints: a temperature scale has a zero of its own.
pub(super) fn kind_of(unit: &Unit) -> Kind {
    if unit.is_point() { Kind::TEMPERATURE } else { Kind::plain(unit.dimension()) }
}
