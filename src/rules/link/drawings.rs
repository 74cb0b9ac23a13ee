//! Drawings: circles, lines, dimensions, angles and holes whose places and sizes are formulas.

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker, Spot};
use crate::formula::Formula;
use crate::quantity::{Angle, Kind, Length, Quantity};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Drawing, Pack, Shape, ShapeForm, Stroke};
use crate::rules::question::AnswerForm;
use crate::rules::table::QuestionId;
use crate::rules::written as w;
use crate::text::spaced;

/// Where a shape lies that doesn't say.
const ORIGIN: &str = "0 mm";
/// Where an arc starts that doesn't say.
const LEVEL: &str = "0 deg";

const FORMS: [&str; 5] = ["circle", "line", "dimension", "angle", "holes"];
const STROKES: [(&str, Stroke); 3] =
    [("thick", Stroke::Thick), ("thin", Stroke::Thin), ("dashed", Stroke::Dashed)];

pub(super) fn link(linker: &mut Linker<'_>, pack: &mut Pack, formulas: &Formulas) {
    let stack = linker.stack;
    for (at, written) in entries("drawings", &stack.drawings) {
        if written.shapes.as_ref().is_none_or(Vec::is_empty) {
            linker.lacking(at, "shapes", "it shows nothing");
        }
        let shapes = written.shapes.iter().flatten().enumerate();
        let shapes = shapes
            .filter_map(|(place, written)| shape(linker, pack, formulas, at, place, written))
            .collect();
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let drawing = Drawing {
            title: title.unwrap_or_else(|| spaced(at.id())),
            about: linker.text(&at.field("about"), written.about.as_ref()),
            shapes,
        };
        pack.drawings.push(at.id().to_owned(), drawing);
    }
}

fn shape(
    linker: &mut Linker<'_>,
    pack: &Pack,
    formulas: &Formulas,
    at: At<'_>,
    place: usize,
    written: &w::Shape,
) -> Option<Shape> {
    let spot = at.field("shapes").item(place);
    let title = linker.text(&spot.under("title"), written.title.as_ref());
    let x = length(linker, formulas, &spot.under("x"), written.x.as_ref())?;
    let y = length(linker, formulas, &spot.under("y"), written.y.as_ref())?;
    let form = form(linker, pack, formulas, &spot, written)?;
    known_kind(linker, &spot, written.kind.as_deref());
    if let Some(tolerance) = &written.tolerance {
        linker.value(&spot.under("tolerance"), tolerance, Length::KIND);
    }
    Some(Shape {
        title,
        form,
        x,
        y,
        stroke: stroke(linker, &spot, written.stroke.as_deref()),
        tolerance: written.tolerance.clone(),
    })
}

fn form(
    linker: &mut Linker<'_>,
    pack: &Pack,
    formulas: &Formulas,
    spot: &Spot<'_>,
    written: &w::Shape,
) -> Option<ShapeForm> {
    let across = |linker: &mut Linker<'_>| {
        length(linker, formulas, &spot.under("across"), written.across.as_ref())
    };
    match written.kind.as_deref() {
        Some("circle") => Some(ShapeForm::Circle(across(linker)?)),
        Some("angle") => {
            let mut angle = |field, text: Option<&String>| {
                let text = text.map_or(LEVEL, String::as_str);
                formulas.value(linker, &spot.under(field), text, Angle::KIND)
            };
            let from = angle("from_angle", written.from_angle.as_ref())?;
            let to = angle("to_angle", written.to_angle.as_ref())?;
            Some(ShapeForm::Angle { across: across(linker)?, from, to })
        }
        Some("holes") => {
            let (table, angle_first) = holes(linker, pack, spot, written.table.as_ref())?;
            Some(ShapeForm::Holes { table, angle_first, across: across(linker)? })
        }
        kind => {
            let mut to = |field, to: Option<&String>, start: Option<&String>| {
                length(linker, formulas, &spot.under(field), to.or(start))
            };
            let to_x = to("to_x", written.to_x.as_ref(), written.x.as_ref())?;
            let to_y = to("to_y", written.to_y.as_ref(), written.y.as_ref())?;
            Some(match kind {
                Some("dimension") => ShapeForm::Dimension(to_x, to_y),
                _ => ShapeForm::Line(to_x, to_y),
            })
        }
    }
}

fn length(
    linker: &mut Linker<'_>,
    formulas: &Formulas,
    spot: &Spot<'_>,
    text: Option<&String>,
) -> Option<Formula> {
    formulas.value(linker, spot, text.map_or(ORIGIN, String::as_str), Length::KIND)
}

/// The table of the holes, and whether its angle stands first.
fn holes(
    linker: &mut Linker<'_>,
    pack: &Pack,
    spot: &Spot<'_>,
    named: Option<&String>,
) -> Option<(QuestionId, bool)> {
    let named = named.map_or("", String::as_str);
    let stack = linker.stack;
    let spot = spot.under("table");
    let table: QuestionId = linker.place(&spot, named, &stack.questions, "a table question")?;
    let columns: Vec<Kind> = match &pack.questions[table].answer {
        AnswerForm::Table(columns) => columns.iter().map(|(_, kind)| *kind).collect(),
        _ => Vec::new(),
    };
    if columns == [Angle::KIND, Length::KIND] || columns == [Length::KIND, Angle::KIND] {
        return Some((table, columns[0] == Angle::KIND));
    }
    if !linker.formless.contains(named) {
        linker.note(&spot, LinkFault::NotHoles { question: named.to_owned() });
    }
    None
}

fn known_kind(linker: &mut Linker<'_>, spot: &Spot<'_>, kind: Option<&str>) {
    if kind == Some("line") {
        linker.note(&spot.under("kind"), LinkFault::RepeatedDefault);
    }
    if let Some(kind) = kind.filter(|kind| !FORMS.contains(kind)) {
        linker.wrong_word(&spot.under("kind"), kind, FORMS, "kind of shape");
    }
}

fn stroke(linker: &mut Linker<'_>, spot: &Spot<'_>, word: Option<&str>) -> Stroke {
    let Some(word) = word else { return Stroke::Thin };
    if word == "thin" {
        linker.note(&spot.under("stroke"), LinkFault::RepeatedDefault);
    }
    let found = STROKES.iter().find(|(known, _)| *known == word).map(|(_, stroke)| *stroke);
    found.unwrap_or_else(|| {
        let known = STROKES.iter().map(|(known, _)| *known);
        linker.wrong_word(&spot.under("stroke"), word, known, "stroke");
        Stroke::Thin
    })
}
