//! Drawings to scale as SVG, one below the other on one page: a millimetre of the part is a millimetre on
//! paper, with a line of 50 mm to check the printer by. Black and grey, for any printer.

use maud::{Markup, html};

use super::model::Conclusion;
use super::scale_drawing::{Point, ScaleDrawing, ScaleForm, ScaleShape};
use crate::rules::Stroke;
use crate::text::Clean;

/// Paper left free round everything, mm.
const MARGIN: f64 = 10.0;
/// Height of a line of letters, mm.
const LINE: f64 = 5.0;
const LETTERS: f64 = 3.2;
/// Width of a letter, of its height: an upper bound, so that no label is cut off.
const LETTER_WIDTH: f64 = 0.58;
/// How long the line is that the printer is checked by, mm.
const CHECK: f64 = 50.0;
/// Length of an arrow, mm.
const ARROW: f64 = 2.0;
/// From a drawing to the labels beside it, mm.
const BESIDE: f64 = 8.0;
const CHECK_SAYS: &str = "Print at 100 %. This line must measure 50 mm.";

/// Everything that is planned, drawn 1:1; none where there is nothing to draw.
#[must_use]
pub fn svg(conclusion: &Conclusion) -> Option<Clean> {
    if conclusion.drawings.is_empty() {
        return None;
    }
    let text = page(&conclusion.drawings).into_string();
    Some(Clean::new(format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{text}\n")))
}

/// The same within a page of HTML.
pub(super) fn page(drawings: &[ScaleDrawing]) -> Markup {
    let placed: Vec<Placed<'_>> = drawings.iter().map(Placed::new).collect();
    let check_width = 2.0 * MARGIN + letters_wide(CHECK_SAYS).max(CHECK);
    let width = placed.iter().map(Placed::width).fold(check_width, f64::max);
    let height = MARGIN + 4.0 * LINE + placed.iter().map(Placed::height).sum::<f64>();
    let mut top = MARGIN + 4.0 * LINE;
    html! {
        svg xmlns="http://www.w3.org/2000/svg" width={ (mm(width)) "mm" } height={ (mm(height)) "mm" }
            viewBox={ "0 0 " (mm(width)) " " (mm(height)) } font-family="sans-serif"
            font-size=(LETTERS) fill="none" stroke="black" stroke-width="0.25" {
            title { "What is planned, drawn to scale" }
            g id="check" {
                (line(Point { x: MARGIN, y: MARGIN }, Point { x: MARGIN + CHECK, y: MARGIN }, ""))
                @for x in [MARGIN, MARGIN + CHECK] {
                    (line(Point { x, y: MARGIN - 2.0 }, Point { x, y: MARGIN + 2.0 }, ""))
                }
                (words(Point { x: MARGIN, y: MARGIN + LINE + 1.0 }, CHECK_SAYS))
            }
            @for placed in &placed {
                (placed.drawn(top))
                @let () = top += placed.height();
            }
        }
    }
}

/// A drawing with the room that it takes.
struct Placed<'a> {
    drawing: &'a ScaleDrawing,
    /// Its lowest and its highest corner.
    low: Point,
    high: Point,
}

impl<'a> Placed<'a> {
    fn new(drawing: &'a ScaleDrawing) -> Self {
        let corners = drawing.shapes.iter().flat_map(|shape| shape.form.corners());
        let start = Point { x: f64::INFINITY, y: f64::INFINITY };
        let end = Point { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY };
        let (low, high) = corners
            .fold((start, end), |(low, high), corner| (low.lower(corner), high.higher(corner)));
        Self { drawing, low, high }
    }

    /// The shapes with words to them, the highest first, so that the lines to them don't cross.
    fn labels(&self) -> Vec<(&'a ScaleShape, &'a Clean)> {
        let shapes = self.drawing.shapes.iter();
        let mut labels: Vec<(&ScaleShape, &Clean)> =
            shapes.filter_map(|shape| Some((shape, shape.label.as_ref()?))).collect();
        labels.sort_by(|(one, _), (other, _)| {
            other.form.touched().y.total_cmp(&one.form.touched().y)
        });
        labels
    }

    fn width(&self) -> f64 {
        let labels = self.labels().iter().map(|(_, label)| letters_wide(label)).fold(0.0, f64::max);
        let beside = 2.0 * MARGIN + (self.high.x - self.low.x) + BESIDE + labels;
        let titles = [Some(&self.drawing.title), self.drawing.about.as_ref()];
        let titles = titles.into_iter().flatten().map(|title| letters_wide(title));
        titles.map(|wide| wide + 2.0 * MARGIN).fold(beside, f64::max)
    }

    fn height(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a few dozen labels")]
        let labels = self.labels().len() as f64 * LINE;
        3.0 * LINE + (self.high.y - self.low.y).max(labels) + 2.0 * MARGIN
    }

    /// A place of the drawing on the page: there y runs down.
    fn on_page(&self, top: f64, at: Point) -> Point {
        Point { x: MARGIN + at.x - self.low.x, y: top + 3.0 * LINE + self.high.y - at.y }
    }

    fn drawn(&self, top: f64) -> Markup {
        let beside = MARGIN + (self.high.x - self.low.x) + BESIDE;
        html! {
            g id=(self.drawing.id) {
                (words(Point { x: MARGIN, y: top }, &self.drawing.title))
                @if let Some(about) = &self.drawing.about {
                    (words(Point { x: MARGIN, y: top + LINE }, about))
                }
                @for shape in &self.drawing.shapes { (self.shape(top, shape)) }
                @for (place, (shape, label)) in self.labels().into_iter().enumerate() {
                    (self.label(top, beside, place, shape, label))
                }
            }
        }
    }

    fn shape(&self, top: f64, shape: &ScaleShape) -> Markup {
        let dashes = dashes(shape.stroke);
        match shape.form {
            ScaleForm::Circle { at, diameter } => {
                let at = self.on_page(top, at);
                html! {
                    circle cx=(mm(at.x)) cy=(mm(at.y)) r=(mm(diameter / 2.0))
                        stroke-width=(width(shape.stroke)) stroke-dasharray=[dashes] {}
                    (cross(at))
                }
            }
            ScaleForm::Line { from, to } => {
                let (from, to) = (self.on_page(top, from), self.on_page(top, to));
                html! {
                    line x1=(mm(from.x)) y1=(mm(from.y)) x2=(mm(to.x)) y2=(mm(to.y))
                        stroke-width=(width(shape.stroke)) stroke-dasharray=[dashes] {}
                }
            }
            ScaleForm::Dimension { from, to } => {
                let (from, to) = (self.on_page(top, from), self.on_page(top, to));
                html! { (line(from, to, "dimension")) (arrow(from, to)) (arrow(to, from)) }
            }
            ScaleForm::Angle { at, diameter, from, to } => {
                let end = |angle| self.on_page(top, at.turned(diameter / 2.0, angle));
                // An arrow lies along the chord of its own length.
                let tip = 2.0 * ARROW / diameter * (to - from).signum();
                html! {
                    path class="angle" d=(arc(end(from), end(to), diameter / 2.0, to - from)) {}
                    (arrow(end(from), end(from + tip))) (arrow(end(to), end(to - tip)))
                }
            }
        }
    }

    /// The words beside the drawing, and a grey line from what they are about.
    fn label(
        &self,
        top: f64,
        beside: f64,
        place: usize,
        shape: &ScaleShape,
        label: &str,
    ) -> Markup {
        #[expect(clippy::cast_precision_loss, reason = "a few dozen labels")]
        let down = place as f64 * LINE;
        let at = Point { x: beside, y: top + 3.0 * LINE + down };
        let start = Point { x: at.x - 1.0, y: at.y - 1.0 };
        html! {
            g stroke="grey" stroke-width="0.1" { (line(self.on_page(top, shape.form.touched()), start, "")) }
            (words(at, label))
        }
    }
}

/// To a hundredth of a millimetre.
fn mm(length: f64) -> String {
    format!("{length:.2}")
}

/// How wide a text may be, mm.
fn letters_wide(text: &str) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a line of text")]
    let letters = text.chars().count() as f64;
    letters * LETTERS * LETTER_WIDTH
}

fn words(at: Point, text: &str) -> Markup {
    html! { text x=(mm(at.x)) y=(mm(at.y)) fill="black" stroke="none" { (text) } }
}

fn line(from: Point, to: Point, class: &str) -> Markup {
    let class = Some(class).filter(|class| !class.is_empty());
    html! {
        line class=[class] x1=(mm(from.x)) y1=(mm(from.y)) x2=(mm(to.x)) y2=(mm(to.y)) {}
    }
}

/// The path of an arc; on the page, where y runs down, a turn from x towards y runs the other way.
fn arc(from: Point, to: Point, radius: f64, turn: f64) -> String {
    let (large, sweep) = (u8::from(turn.abs() > std::f64::consts::PI), u8::from(turn < 0.0));
    let [x1, y1, x2, y2, r] = [from.x, from.y, to.x, to.y, radius].map(mm);
    format!("M {x1} {y1} A {r} {r} 0 {large} {sweep} {x2} {y2}")
}

/// The two strokes of an arrow that ends here and comes from there.
fn arrow(here: Point, there: Point) -> Markup {
    let away = (there.y - here.y).atan2(there.x - here.x);
    let end = |turn: f64| {
        let angle = away + turn.to_radians();
        Point { x: here.x + ARROW * angle.cos(), y: here.y + ARROW * angle.sin() }
    };
    html! { (line(here, end(15.0), "")) (line(here, end(-15.0), "")) }
}

/// The middle of a circle.
fn cross(at: Point) -> Markup {
    let arm = 1.0;
    html! {
        g stroke-width="0.15" {
            (line(Point { x: at.x - arm, y: at.y }, Point { x: at.x + arm, y: at.y }, ""))
            (line(Point { x: at.x, y: at.y - arm }, Point { x: at.x, y: at.y + arm }, ""))
        }
    }
}

fn width(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Thick => "0.5",
        Stroke::Thin | Stroke::Dashed => "0.25",
    }
}

/// The pattern of its dashes, mm.
fn dashes(stroke: Stroke) -> Option<&'static str> {
    match stroke {
        Stroke::Dashed => Some("2 1"),
        Stroke::Thick | Stroke::Thin => None,
    }
}
