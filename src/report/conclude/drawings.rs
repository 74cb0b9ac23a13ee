//! Drawings to scale: every shape whose places and sizes can be worked out.

use std::f64::consts::FRAC_PI_2;

use crate::formula::Formula;
use crate::interview::Answer;
use crate::report::scale_drawing::{Point, ScaleDrawing, ScaleForm, ScaleShape};
use crate::rules::{Drawing, DrawingId, QuestionId, Shape, ShapeForm};
use crate::text::Clean;

use super::ConclusionBuilder;

const MM_PER_M: f64 = 1e3;
/// Farther out than this is no part of a gate, mm.
const MAX_OUT: f64 = 1000.0;

impl ConclusionBuilder<'_, '_> {
    /// Every drawing that rests on an answer and of which something can be drawn.
    pub(super) fn drawings(&self) -> Vec<ScaleDrawing> {
        let drawings = self.pack.drawings.iter();
        drawings.filter_map(|(place, drawing)| self.drawing(place, drawing)).collect()
    }

    fn drawing(&self, place: DrawingId, drawing: &Drawing) -> Option<ScaleDrawing> {
        let shapes: Vec<ScaleShape> =
            drawing.shapes.iter().flat_map(|shape| self.shapes(shape)).collect();
        // One circle alone is what the person measured.
        let is_circle = |shape: &ScaleShape| matches!(shape.form, ScaleForm::Circle { .. });
        (shapes.len() > 1 && shapes.iter().any(is_circle)).then(|| ScaleDrawing {
            id: self.pack.drawings.id(place).to_owned(),
            title: Clean::line(&drawing.title),
            about: drawing.about.as_ref().map(Clean::line),
            shapes,
        })
    }

    fn shapes(&self, shape: &Shape) -> Vec<ScaleShape> {
        let forms = match &shape.form {
            ShapeForm::Holes { table, angle_first, across } => {
                self.holes(shape, *table, *angle_first, across)
            }
            _ => self.form(shape).into_iter().collect(),
        };
        let drawn = |form| ScaleShape { form, stroke: shape.stroke, label: label(shape, &form) };
        forms.into_iter().map(drawn).collect()
    }

    /// A circle for each row that was answered.
    fn holes(
        &self,
        shape: &Shape,
        table: QuestionId,
        angle_first: bool,
        across: &Formula,
    ) -> Vec<ScaleForm> {
        let held = self.state.facts.held.get(&table).map(|held| &held.answer);
        let (Some(Answer::Table(rows)), Some(middle), Some(diameter)) =
            (held, self.point(&shape.x, &shape.y), self.millimetres(across))
        else {
            return Vec::new();
        };
        let place = |[first, second]: &[f64; 2]| {
            let (angle, out) = if angle_first { (first, second) } else { (second, first) };
            // Clockwise from the top.
            middle.turned(out * MM_PER_M, FRAC_PI_2 - angle)
        };
        let near = |at: &Point| at.x.abs() <= MAX_OUT && at.y.abs() <= MAX_OUT && diameter > 0.0;
        rows.iter().map(place).filter(near).map(|at| ScaleForm::Circle { at, diameter }).collect()
    }

    fn form(&self, shape: &Shape) -> Option<ScaleForm> {
        let at = self.point(&shape.x, &shape.y)?;
        Some(match &shape.form {
            ShapeForm::Circle(across) => {
                if !self.rests_on_answers(&across.node) {
                    return None;
                }
                let diameter = self.millimetres(across).filter(|across| *across > 0.0)?;
                ScaleForm::Circle { at, diameter }
            }
            ShapeForm::Line(x, y) => ScaleForm::Line { from: at, to: self.point(x, y)? },
            ShapeForm::Dimension(x, y) => ScaleForm::Dimension { from: at, to: self.point(x, y)? },
            ShapeForm::Angle { across, from, to } => ScaleForm::Angle {
                at,
                diameter: self.millimetres(across).filter(|across| *across > 0.0)?,
                from: self.state.facts.evaluator.value(from).ok()?,
                to: self.state.facts.evaluator.value(to).ok()?,
            },
            ShapeForm::Holes { .. } => return None,
        })
    }

    fn point(&self, x: &Formula, y: &Formula) -> Option<Point> {
        Some(Point { x: self.millimetres(x)?, y: self.millimetres(y)? })
    }

    fn millimetres(&self, formula: &Formula) -> Option<f64> {
        let length = self.state.facts.evaluator.value(formula).ok()? * MM_PER_M;
        (length.abs() <= MAX_OUT).then_some(length)
    }
}

/// What it is, with its size and tolerance: that of a line is its title alone.
fn label(shape: &Shape, form: &ScaleForm) -> Option<Clean> {
    let title = shape.title.as_ref()?;
    let tolerance = shape.tolerance.as_deref().map(|text| text.trim_end_matches("mm").trim_end());
    let tolerance = tolerance.map_or_else(String::new, |tolerance| format!(" ± {tolerance}"));
    Some(Clean::line(match form {
        ScaleForm::Circle { diameter, .. } => format!("{title} ⌀ {diameter:.1}{tolerance}"),
        ScaleForm::Line { .. } => title.clone(),
        ScaleForm::Dimension { from, to } => {
            format!("{title} {:.1}{tolerance}", from.distance(*to))
        }
        ScaleForm::Angle { from, to, .. } => {
            format!("{title} {:.1}°{tolerance}", (to - from).abs().to_degrees())
        }
    }))
}
