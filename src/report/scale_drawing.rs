//! What a drawing to scale shows: shapes with places and sizes in millimetres. How it is put on paper is
//! left to the forms.

use crate::rules::Stroke;
use crate::text::Clean;

/// Places along an arc at which its room is measured.
const STEPS_OF_AN_ARC: u32 = 72;

/// Shapes of one drawing, mm, x to the right and y up; at least one of them a circle or a line.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleDrawing {
    pub id: String,
    pub title: Clean,
    pub about: Option<Clean>,
    pub shapes: Vec<ScaleShape>,
}

/// A shape with its size in words, where it has one.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleShape {
    pub form: ScaleForm,
    pub stroke: Stroke,
    /// `port, new ⌀ 24.0 ± 0.1`.
    pub label: Option<Clean>,
}

/// A form with its places, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScaleForm {
    Circle {
        at: Point,
        diameter: f64,
    },
    Line {
        from: Point,
        to: Point,
    },
    Dimension {
        from: Point,
        to: Point,
    },
    /// From one angle to another, rad, from x towards y.
    Angle {
        at: Point,
        diameter: f64,
        from: f64,
        to: f64,
    },
}

/// A place on a drawing, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

impl Point {
    /// How far another place is.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// The place so far out in a direction, rad from x towards y.
    #[must_use]
    pub fn turned(self, far: f64, angle: f64) -> Self {
        Self { x: self.x + far * angle.cos(), y: self.y + far * angle.sin() }
    }

    pub(super) fn lower(self, other: Self) -> Self {
        Self { x: self.x.min(other.x), y: self.y.min(other.y) }
    }

    pub(super) fn higher(self, other: Self) -> Self {
        Self { x: self.x.max(other.x), y: self.y.max(other.y) }
    }
}

impl ScaleForm {
    /// The corners of the smallest upright rectangle round it.
    pub(super) fn corners(&self) -> [Point; 2] {
        match *self {
            Self::Circle { at: Point { x, y }, diameter } => {
                let radius = diameter / 2.0;
                [Point { x: x - radius, y: y - radius }, Point { x: x + radius, y: y + radius }]
            }
            Self::Line { from, to } | Self::Dimension { from, to } => [from, to],
            Self::Angle { at, diameter, from, to } => {
                // A place at each degree or so: an arc leaves its chord by less than a tenth of a millimetre.
                let places = (0..=STEPS_OF_AN_ARC).map(|step| {
                    at.turned(
                        diameter / 2.0,
                        from + (to - from) * f64::from(step) / f64::from(STEPS_OF_AN_ARC),
                    )
                });
                let start = at.turned(diameter / 2.0, from);
                places.fold([start, start], |[low, high], place| {
                    [low.lower(place), high.higher(place)]
                })
            }
        }
    }

    /// Where the words to it point: on a circle right and up, in the middle of a line.
    pub(super) fn touched(&self) -> Point {
        match *self {
            Self::Circle { at, diameter } => {
                // The larger, the higher up: circles in one another then don't share a line.
                at.turned(diameter / 2.0, (10.0 + diameter).clamp(10.0, 80.0).to_radians())
            }
            Self::Angle { at, diameter, from, to } => {
                at.turned(diameter / 2.0, f64::midpoint(from, to))
            }
            Self::Line { from, to } | Self::Dimension { from, to } => {
                Point { x: f64::midpoint(from.x, to.x), y: f64::midpoint(from.y, to.y) }
            }
        }
    }
}
