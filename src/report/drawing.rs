//! What a plot shows: numbers in the units that people read. How it is drawn is left to the forms.

use super::axis::Axis;
use crate::text::Clean;

/// Steps along an axis, about.
const STEPS: f64 = 5.0;

/// A curve with its band, and what was measured or planned. Numbers are finite.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// What runs to the right, with its unit: `port in mm`.
    pub along: Clean,
    /// The unit that runs upwards.
    pub across: Clean,
    /// By rising `at`.
    pub spots: Vec<Spot>,
    pub marks: Vec<PlotMark>,
}

/// A point of a drawing; no values where the calculation was refused.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    pub at: f64,
    pub values: Option<SpotValues>,
}

/// A value with the ends of its 95 % band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpotValues {
    pub value: f64,
    pub low: f64,
    pub high: f64,
}

/// Something measured or planned, to be seen against the curve.
#[derive(Debug, Clone, PartialEq)]
pub struct PlotMark {
    pub title: Clean,
    pub at: f64,
    /// What was measured there; a plan has none.
    pub value: Option<f64>,
}

/// The letter by which a mark is known in the plot and its legend.
pub(super) fn letter(place: usize) -> char {
    let letters = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
    letters.get(place).copied().unwrap_or('*')
}

impl Drawing {
    /// From the first spot or mark to the last.
    pub(super) fn along_axis(&self) -> Option<Axis> {
        let marks = self.marks.iter().map(|mark| mark.at);
        Axis::over(self.spots.iter().map(|spot| spot.at).chain(marks), STEPS)
    }

    /// Over the whole band and everything measured, out to round numbers.
    pub(super) fn across_axis(&self) -> Option<Axis> {
        let band = self.spots.iter().filter_map(|spot| spot.values);
        let band = band.flat_map(|values| [values.low, values.value, values.high]);
        let marks = self.marks.iter().filter_map(|mark| mark.value);
        Some(Axis::over(band.chain(marks), STEPS)?.rounded_out())
    }

    /// The stretches of the curve between refusals.
    pub(super) fn stretches(&self) -> Vec<Vec<(f64, SpotValues)>> {
        self.spots
            .split(|spot| spot.values.is_none())
            .map(|stretch| {
                stretch.iter().filter_map(|spot| Some((spot.at, spot.values?))).collect()
            })
            .filter(|stretch: &Vec<_>| !stretch.is_empty())
            .collect()
    }

    /// The curve between its spots, by straight lines; none beyond them or beside a refusal.
    pub(super) fn at(&self, at: f64) -> Option<SpotValues> {
        let after = self.spots.partition_point(|spot| spot.at < at);
        let right = self.spots.get(after)?;
        let left = self.spots.get(after.saturating_sub(1))?;
        let (from, to) = (left.values?, right.values?);
        if at < left.at {
            return None;
        }
        let share = if right.at > left.at { (at - left.at) / (right.at - left.at) } else { 0.0 };
        let between = |from: f64, to: f64| from + share * (to - from);
        Some(SpotValues {
            value: between(from.value, to.value),
            low: between(from.low, to.low),
            high: between(from.high, to.high),
        })
    }
}
