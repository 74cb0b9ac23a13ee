//! Curves: a formula drawn over a range, with marks on it.

use super::entries::entries;
use super::formulas::{Formulas, read_formula};
use super::linker::{At, Linker, Spot};
use crate::formula::{Form, VarId, parse};
use crate::quantity::{Kind, Unit, readable_unit};
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
        let (Some(over), Some(from), Some(to), Some(_)) =
            (&written.over, &written.from, &written.to, &written.formula)
        else {
            for (field, text) in [
                ("over", &written.over),
                ("from", &written.from),
                ("to", &written.to),
                ("formula", &written.formula),
            ] {
                if text.is_none() {
                    linker.lacking(at, field, "it is not drawn");
                }
            }
            return None;
        };
        let own = VarId(self.questions + self.workings);
        let known = match (pack.questions.find(over), pack.workings.find(over)) {
            (Some(_), _) | (_, Some(_)) => Some(self.number(linker, &at.field("over"), over)?),
            _ => None,
        };
        let (from, dimension) = linker.any_value(&at.field("from"), from)?;
        let (to, to_dimension) = linker.any_value(&at.field("to"), to)?;
        let (slot, kind) = known.unwrap_or((own, Kind::plain(dimension)));
        if to_dimension != kind.dimension || dimension != kind.dimension {
            linker.note(&at.field("to"), LinkFault::CurveEnds { wanted: kind });
            return None;
        }
        if from >= to {
            linker.note(&at.field("to"), LinkFault::EmptyCurve);
            return None;
        }
        if known.is_none() {
            self.words.variable(over, own, kind);
        }
        let formula = read_formula(linker, at, written.formula.as_ref());
        let formula = self.checked(linker, &formula, None);
        if known.is_none() {
            self.words.forget(over);
        }
        let formula = formula?;
        let gives = formula.kind().unwrap_or(Kind::NUMBER);
        let unit =
            written.unit.as_ref().and_then(|unit| linker.unit(&at.field("unit"), unit, gives));
        let title = linker.text(&at.field("title"), written.title.as_ref());
        let marks = self.curve_marks(linker, at, written, (kind, gives));
        Some(Curve {
            title: title.unwrap_or_else(|| spaced(at.id())),
            over: slot,
            over_unit: literal_unit(written.from.as_deref()).unwrap_or_else(|| readable_unit(kind)),
            over_name: over.clone(),
            from,
            to,
            steps: linker.count_or(
                &at.field("steps"),
                written.steps.as_ref(),
                USUAL_STEPS,
                2..=MAX_CURVE_STEPS,
            ),
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

/// The unit a literal was written in.
fn literal_unit(text: Option<&str>) -> Option<Unit> {
    match parse(text?).ok()?.form {
        Form::Literal { unit, .. } => unit,
        _ => None,
    }
}
