//! Drawings: circles, lines and dimensions whose places and sizes are formulas.

use super::entries::entries;
use super::formulas::Formulas;
use super::linker::{At, Linker, Spot};
use crate::formula::Formula;
use crate::quantity::{Length, Quantity};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Drawing, Pack, Shape, ShapeForm, Stroke};
use crate::rules::written as w;
use crate::text::spaced;

/// Where a shape lies that doesn't say.
const ORIGIN: &str = "0 mm";

const FORMS: [&str; 3] = ["circle", "line", "dimension"];
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
            .filter_map(|(place, written)| shape(linker, formulas, at, place, written))
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
    formulas: &Formulas,
    at: At<'_>,
    place: usize,
    written: &w::Shape,
) -> Option<Shape> {
    let spot = at.field("shapes").item(place);
    let title = linker.text(&spot.under("title"), written.title.as_ref());
    let mut length = |field, text: Option<&String>, usual: Option<&String>| {
        let text = text.or(usual).map_or(ORIGIN, String::as_str);
        self::length(linker, formulas, &spot.under(field), text)
    };
    let x = length("x", written.x.as_ref(), None)?;
    let y = length("y", written.y.as_ref(), None)?;
    let form = match written.kind.as_deref() {
        Some("circle") => ShapeForm::Circle(length("across", written.across.as_ref(), None)?),
        kind => {
            let to_x = length("to_x", written.to_x.as_ref(), written.x.as_ref())?;
            let to_y = length("to_y", written.to_y.as_ref(), written.y.as_ref())?;
            match kind {
                Some("dimension") => ShapeForm::Dimension(to_x, to_y),
                _ => ShapeForm::Line(to_x, to_y),
            }
        }
    };
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

fn length(
    linker: &mut Linker<'_>,
    formulas: &Formulas,
    spot: &Spot<'_>,
    text: &str,
) -> Option<Formula> {
    formulas.value(linker, spot, text, Length::KIND)
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
