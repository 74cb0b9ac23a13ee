//! A curve with its band as a picture: scalable, in black and grey for any printer.

use plotters::chart::{ChartBuilder, ChartContext};
use plotters::coord::Shift;
use plotters::coord::cartesian::Cartesian2d;
use plotters::coord::types::RangedCoordf64;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind, IntoDrawingArea};
use plotters::element::{Circle, PathElement, Polygon, Text};
use plotters::style::{BLACK, Color, IntoFont, RGBColor};

use super::axis::Axis;
use super::drawing::{Drawing, PlotMark, SpotValues, letter};

/// Columns and rows of the picture; small, so that its letters stay readable on a phone.
const SIZE: (u32, u32) = (520, 340);
const LETTERS: (&str, i32) = ("sans-serif", 15);
const BAND: RGBColor = RGBColor(200, 208, 220);
/// 3:1 and more against white (WCAG 2.2, 1.4.11), since the band carries a meaning of its own.
const EDGE: RGBColor = RGBColor(110, 122, 140);
const GRID: RGBColor = RGBColor(225, 225, 225);
const MARK: RGBColor = RGBColor(170, 40, 20);

type Backend<'a> = plotters::prelude::SVGBackend<'a>;
type Failed = DrawingAreaErrorKind<std::io::Error>;
type Chart<'a, 'b> = ChartContext<'a, Backend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

/// The plot as an `svg` element; none where there is nothing to see.
pub(super) fn svg(drawing: &Drawing) -> Option<String> {
    let (along, across) = (drawing.along_axis()?, drawing.across_axis()?);
    let mut text = String::new();
    {
        let area = Backend::with_string(&mut text, SIZE).into_drawing_area();
        draw(&area, drawing, along, across).ok()?;
    }
    Some(text)
}

fn draw(
    area: &DrawingArea<Backend<'_>, Shift>,
    drawing: &Drawing,
    along: Axis,
    across: Axis,
) -> Result<(), Failed> {
    let mut chart = ChartBuilder::on(area)
        .margin(12)
        .margin_right(26)
        .x_label_area_size(44)
        .y_label_area_size(64)
        .build_cartesian_2d(along.low..along.high, across.low..across.high)?;
    chart
        .configure_mesh()
        .bold_line_style(GRID)
        .light_line_style(GRID.mix(0.0))
        .axis_style(BLACK)
        .x_labels(along.ticks().len())
        .y_labels(across.ticks().len())
        .x_label_formatter(&|number| along.label(*number))
        .y_label_formatter(&|number| across.label(*number))
        .x_desc(drawing.along.as_str())
        .y_desc(drawing.across.as_str())
        .label_style(LETTERS)
        .axis_desc_style(LETTERS)
        .draw()?;
    for stretch in drawing.stretches() {
        curve(&mut chart, &stretch)?;
    }
    for (place, mark) in drawing.marks.iter().enumerate() {
        self::mark(&mut chart, letter(place), mark, &across)?;
    }
    area.present()
}

/// The band, and the curve on it.
fn curve(chart: &mut Chart<'_, '_>, stretch: &[(f64, SpotValues)]) -> Result<(), Failed> {
    let up = stretch.iter().map(|(at, values)| (*at, values.high));
    let down = stretch.iter().rev().map(|(at, values)| (*at, values.low));
    let band: Vec<(f64, f64)> = up.chain(down).collect();
    chart.draw_series([Polygon::new(band, BAND)])?;
    let edge = |end: fn(&SpotValues) -> f64| {
        let points = stretch.iter().map(|(at, values)| (*at, end(values)));
        PathElement::new(points.collect::<Vec<(f64, f64)>>(), EDGE)
    };
    chart.draw_series([edge(|values| values.low), edge(|values| values.high)])?;
    let line: Vec<(f64, f64)> = stretch.iter().map(|(at, values)| (*at, values.value)).collect();
    chart.draw_series([PathElement::new(line, BLACK.stroke_width(2))])?;
    Ok(())
}

/// A point for what was measured, an upright for a plan; its letter beside it.
fn mark(
    chart: &mut Chart<'_, '_>,
    name: char,
    mark: &PlotMark,
    across: &Axis,
) -> Result<(), Failed> {
    let height = mark.value.unwrap_or(across.high);
    match mark.value {
        Some(value) => {
            chart.draw_series([Circle::new((mark.at, value), 4, MARK.filled())])?;
        }
        None => {
            let upright = vec![(mark.at, across.low), (mark.at, across.high)];
            chart.draw_series([PathElement::new(upright, MARK)])?;
        }
    }
    let style = LETTERS.into_font().color(&MARK);
    let beside = plotters::element::EmptyElement::at((mark.at, height))
        + Text::new(name.to_string(), (6, 2), style);
    chart.draw_series([beside])?;
    Ok(())
}
