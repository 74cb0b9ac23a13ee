//! The numbers of the result model: figures, readings, workings and curves, in coherent SI and as they
//! are shown.

use serde::Serialize;

use super::drawing::Drawing;
use crate::interview::Origin;

/// A number in coherent SI, and as it is shown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FigureLine {
    pub value: f64,
    pub unit: String,
    pub standard_uncertainty: f64,
    pub low: f64,
    pub high: f64,
    pub shown: Shown,
}

/// A result as people read it, in the unit of its pack.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Shown {
    /// The value alone: `0.85 bar`.
    pub best: String,
    /// With one standard uncertainty: `0.85 ± 0.04 bar`.
    pub value: String,
    /// The 95 % band: `0.77 to 0.93 bar`; none where nothing is uncertain.
    pub band: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkingLine {
    pub id: String,
    pub title: String,
    pub value: f64,
    pub unit: String,
    pub standard_uncertainty: f64,
    pub low: f64,
    pub high: f64,
    /// How it was worked out; left out where only results are told.
    #[serde(flatten)]
    pub basis: Option<Basis>,
    /// How it came about, for people.
    #[serde(skip)]
    pub origin: Option<Origin>,
    /// The parts of the basis' source.
    #[serde(skip)]
    pub sources: Vec<String>,
    /// An answer stands below it; otherwise it rests on typical values alone.
    pub rests_on_answers: bool,
    pub shown: Shown,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub says: Option<String>,
    /// What it says with its band, or else its title with value and band.
    #[serde(skip)]
    pub headline: String,
    /// A step on the way named it.
    pub named: bool,
    /// The title of the first step that did.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub step: Option<String>,
}

/// How a result was worked out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Basis {
    /// `first_order`, `monte_carlo`, or `conditioned` on readings.
    pub band_from: String,
    /// How many independent draws a conditioned band is worth.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub effective_draws: Option<f64>,
    pub formula: String,
    /// The formula, long lists of arguments cut short.
    pub formula_in_short: String,
    /// The formula with its numbers put in, where that is short.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with_numbers: Option<String>,
    pub source: String,
    /// The questions that typical values stand in for.
    pub assumed: Vec<String>,
    /// What makes the band wide, the widest first.
    pub widest: Vec<ShareLine>,
}

/// An input, and how much narrower bands would be without its uncertainty.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NarrowingLine {
    pub id: String,
    pub title: String,
    /// A typical value so far.
    pub assumed: bool,
    /// Over all workings that the steps on the way name, each counted by its relative uncertainty; 0 to 1.
    pub narrower: f64,
    /// The working to which it does most, and by how much that band would be narrower, 0 to 1.
    pub most: String,
    pub most_title: String,
    pub most_narrower: f64,
}

/// A working without a result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RefusedLine {
    pub id: String,
    pub title: String,
    pub code: GapCode,
    /// Why the calculation was refused, or what is missing for it, in words.
    pub reason: String,
}

/// How much one input makes of the variance of a result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShareLine {
    pub id: String,
    pub title: String,
    pub share: f64,
    pub assumed: bool,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CurveLine {
    pub id: String,
    pub title: String,
    pub over: String,
    pub over_unit: String,
    pub unit: String,
    /// The units that people are shown.
    pub shown_over_unit: String,
    pub shown_unit: String,
    pub points: Vec<PointLine>,
    /// The points as people read them.
    pub shown_rows: Vec<RowLine>,
    /// The points in the shown units.
    #[serde(skip)]
    pub drawing: Drawing,
    pub source: String,
    /// The parts of `source`.
    #[serde(skip)]
    pub sources: Vec<String>,
}

/// A point of a curve as people read it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RowLine {
    pub at: String,
    /// The value, or why there is none.
    pub value: String,
    pub band: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PointLine {
    pub at: f64,
    pub value: Option<f64>,
    pub low: Option<f64>,
    pub high: Option<f64>,
    /// Why there is no value, and that in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<GapCode>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because_text: Option<String>,
}

/// Why there is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum GapCode {
    /// Something it rests on is not known.
    Unknown,
    /// The calculation was refused.
    Refused,
}
