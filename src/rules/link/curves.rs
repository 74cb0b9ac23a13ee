//! Curves: a formula drawn over a range, with marks on it.

use super::entries::entries;
use super::formulas::{Formulas, read_formula};
use super::linker::{At, Linker, Spot};
use crate::formula::{Form, VarId, parse};
use crate::quantity::{Dimension, Kind, Unit, readable_unit};
use crate::rules::fault::LinkFault;
use crate::rules::pack::{Curve, CurveMark, Pack};
use crate::rules::written as w;
use crate::text::spaced;

/// Points of a curve where the file doesn't say.
const USUAL_STEPS: usize = 11;
const MAX_CURVE_STEPS: usize = 200;

impl Formulas {
    pub(super) fn curves(&mut self, linker: &mut Linker<'_>, pack: &mut Pack) {
        let stack = linker.stack;
        for (at, written) in entries("curves", &stack.curves) {
            if let Some(curve) = self.curve(linker, pack, at, written) {
                pack.curves.push(at.id().to_owned(), curve);
            }
        }
    }

    fn curve(
        &mut self,
        linker: &mut Linker<'_>,
        pack: &Pack,
        at: At<'_>,
        written: &w::Curve,
    ) -> Option<Curve> {
        let (name, ends) = whole(linker, at, written)?;
        let known = match (pack.questions.find(name), pack.workings.find(name)) {
            (None, None) => None,
            _ => Some(self.number(linker, &at.field("over"), name)?),
        };
        let (from, to, dimension) = range(linker, at, ends, known.map(|(_, kind)| kind))?;
        let own = (VarId(self.questions + self.workings), Kind::plain(dimension));
        let (over, kind) = known.unwrap_or(own);
        if known.is_none() {
            self.words.variable(name, over, kind);
        }
        let formula = read_formula(linker, at, written.formula.as_ref());
        let formula = self.checked(linker, &formula, None);
        if known.is_none() {
            self.words.forget(name);
        }
        let formula = formula?;
        let gives = formula.kind().unwrap_or(Kind::NUMBER);
        let unit =
            written.unit.as_ref().and_then(|unit| linker.unit(&at.field("unit"), unit, gives));
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let marks = self.curve_marks(linker, at, written, (kind, gives));
        let (steps, bounds) = (written.steps.as_ref(), 2..=MAX_CURVE_STEPS);
        Some(Curve {
            title: title.unwrap_or_else(|| spaced(at.id())),
            over,
            over_unit: literal_unit(ends.0).unwrap_or_else(|| readable_unit(kind)),
            over_name: name.to_owned(),
            from,
            to,
            steps: linker.count_or(&at.field("steps"), steps, USUAL_STEPS, bounds),
            unit: unit.unwrap_or_else(|| readable_unit(gives)),
            formula,
            marks,
            sources: linker.sources(&at.field("source"), written.source.as_ref()),
        })
    }

    fn curve_marks(
        &self,
        linker: &mut Linker<'_>,
        at: At<'_>,
        written: &w::Curve,
        (along, across): (Kind, Kind),
    ) -> Vec<CurveMark> {
        let mut found = Vec::new();
        for (index, mark) in written.marks.iter().flatten().enumerate() {
            let spot = at.field("marks").item(index);
            let Some(place) = &mark.at else {
                linker.note(&spot, LinkFault::MarkNowhere);
                continue;
            };
            let Some(at) = self.on_axis(linker, &spot.under("at"), place, along) else { continue };
            let value = mark.value.as_ref();
            let value =
                value.and_then(|name| self.on_axis(linker, &spot.under("value"), name, across));
            let title = linker.text(&spot.under("title"), mark.title.as_ref());
            found.push(CurveMark { title: title.unwrap_or_else(|| spaced(place)), at, value });
        }
        found
    }

    /// A number that can stand on an axis of a curve.
    fn on_axis(
        &self,
        linker: &mut Linker<'_>,
        spot: &Spot<'_>,
        name: &str,
        axis: Kind,
    ) -> Option<VarId> {
        let (slot, given) = self.number(linker, spot, name)?;
        if given.dimension == axis.dimension {
            return Some(slot);
        }
        linker.note(spot, LinkFault::OffAxis { name: name.to_owned(), given, axis });
        None
    }
}

/// What a curve is drawn over and from where to where, if nothing that it needs is missing.
fn whole<'w>(
    linker: &mut Linker<'_>,
    at: At<'_>,
    written: &'w w::Curve,
) -> Option<(&'w str, (&'w str, &'w str))> {
    let w::Curve { over, from, to, formula, .. } = written;
    if let (Some(over), Some(from), Some(to), Some(_)) = (over, from, to, formula) {
        return Some((over, (from, to)));
    }
    for (field, text) in [("over", over), ("from", from), ("to", to), ("formula", formula)] {
        if text.is_none() {
            linker.lacking(at, field, "it is not drawn");
        }
    }
    None
}

/// The ends of a curve in SI, of the kind that it is drawn over, if that is known.
fn range(
    linker: &mut Linker<'_>,
    at: At<'_>,
    (from, to): (&str, &str),
    over: Option<Kind>,
) -> Option<(f64, f64, Dimension)> {
    let (from, dimension) = linker.any_value(&at.field("from"), from)?;
    let (to, to_dimension) = linker.any_value(&at.field("to"), to)?;
    let wanted = over.unwrap_or(Kind::plain(dimension));
    if to_dimension != wanted.dimension || dimension != wanted.dimension {
        linker.note(&at.field("to"), LinkFault::CurveEnds { wanted });
        return None;
    }
    if from >= to {
        linker.note(&at.field("to"), LinkFault::EmptyCurve);
        return None;
    }
    Some((from, to, dimension))
}

/// The unit a literal was written in.
fn literal_unit(text: &str) -> Option<Unit> {
    match parse(text).ok()?.form {
        Form::Literal { unit, .. } => unit,
        _ => None,
    }
}
