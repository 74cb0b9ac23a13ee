//! Curves: a working over a range of one variable, each point with its band. Worked out only when
//! they are shown.

use rayon::prelude::*;

use crate::formula::{BandFrom, CURVE_DRAWS, Estimate, EvalError, Evaluator, Formula, VarId};
use crate::interview::Answer;
use crate::quantity::{Unit, print_value};
use crate::report::drawing::{Drawing, PlotMark, Spot, SpotValues};
use crate::report::model::{CurveLine, PointLine, RowLine};
use crate::report::words::set;
use crate::rules::{Curve, CurveId, CurveMark, VarOwner};
use crate::text::spaced;

use super::ConclusionBuilder;
use super::figures::{Coherent, kind_of, shown_band};
use super::refused::{gap_code, in_words};

impl ConclusionBuilder<'_, '_> {
    /// Every curve that rests on an answer and can be worked out in at least one point.
    pub(super) fn curves(&self) -> Vec<CurveLine> {
        let all = self.pack.curves.iter();
        let shown: Vec<(CurveId, &Curve)> =
            all.filter(|(_, curve)| self.rests_on_answers(&curve.formula.node)).collect();
        let evaluator = &self.state.facts.evaluator;
        let swept: Vec<Vec<Result<Estimate, EvalError>>> =
            shown.par_iter().map(|(_, curve)| sweep(evaluator, curve, &stops(curve))).collect();
        let curves = shown.into_iter().zip(swept);
        curves.filter_map(|((place, curve), worked)| self.curve(place, curve, &worked)).collect()
    }

    fn curve(
        &self,
        place: CurveId,
        curve: &Curve,
        worked: &[Result<Estimate, EvalError>],
    ) -> Option<CurveLine> {
        if worked.iter().all(Result::is_err) {
            return None;
        }
        let at = stops(curve);
        let kind = curve.formula.kind()?;
        let along = Coherent::of(curve.over_unit.dimension());
        let across = Coherent::of(kind.dimension);
        let sources: Vec<String> =
            curve.sources.iter().map(|source| self.source(*source)).collect();
        let points = || at.iter().copied().zip(worked);
        Some(CurveLine {
            id: self.pack.curves.id(place).to_owned(),
            title: curve.title.clone(),
            over: curve.over_name.clone(),
            over_unit: along.symbol(),
            unit: across.symbol(),
            shown_over_unit: curve.over_unit.symbol().to_owned(),
            shown_unit: curve.unit.symbol().to_owned(),
            points: points().map(|(at, worked)| point(along.value(at), worked, &across)).collect(),
            shown_rows: points().map(|(at, worked)| row(curve, at, worked)).collect(),
            drawing: Drawing {
                along: set(with_unit(&spaced(&curve.over_name), &curve.over_unit)),
                across: set(with_unit("", &curve.unit)),
                spots: points().map(|(at, worked)| spot(curve, at, worked)).collect(),
                marks: curve.marks.iter().filter_map(|mark| self.mark(curve, mark)).collect(),
            },
            source: sources.join("; "),
            sources,
        })
    }

    /// A mark, once what tells its place is known; its title says the numbers.
    fn mark(&self, curve: &Curve, mark: &CurveMark) -> Option<PlotMark> {
        let at = self.number(mark.at)?;
        let value = mark.value.and_then(|value| Some((value, self.number(value)?)));
        let shown = |slot: VarId| self.state.facts.shown(slot).unwrap_or_default();
        let numbers = match value {
            Some((value, _)) => format!("{} at {}", shown(value), shown(mark.at)),
            None => shown(mark.at),
        };
        Some(PlotMark {
            title: set(format!("{}: {numbers}", mark.title)),
            at: curve.over_unit.from_si(at),
            value: value.map(|(_, value)| curve.unit.from_si(value)),
        })
    }

    /// What was measured, or worked out from something measured, SI.
    fn number(&self, slot: VarId) -> Option<f64> {
        match self.pack.owner_of(slot) {
            VarOwner::Question(question) => match &self.state.facts.held.get(&question)?.answer {
                Answer::Number(reading) => Some(reading.value),
                _ => None,
            },
            VarOwner::Working(working) => {
                let node = &self.pack.workings[working].formula.node;
                let worked = self.state.facts.worked(working)?;
                self.rests_on_answers(node).then_some(worked.band.value)
            }
            VarOwner::CurveVariable => None,
        }
    }
}

/// The points of a curve, all worked out in one way, or the band would jump from one to the next. Where
/// readings have taught what it rests on, or the first order fails at the middle, every point is drawn.
fn sweep(evaluator: &Evaluator<'_>, curve: &Curve, at: &[f64]) -> Vec<Result<Estimate, EvalError>> {
    let formula = |at: &f64| {
        let node = curve.formula.node.with(curve.over, *at);
        Formula { node, ..curve.formula.clone() }
    };
    let by_first_order = |at: &f64| evaluator.estimate_by(&formula(at), CURVE_DRAWS);
    let fails = |at: &f64| match by_first_order(at) {
        Ok(worked) => worked.band.from != BandFrom::FirstOrder,
        Err(_) => false,
    };
    let middle = at.get(at.len() / 2);
    let drawn = middle.is_some_and(|at| evaluator.is_taught(&formula(at)) || fails(at));
    let point =
        |at: &f64| if drawn { evaluator.on_a_curve(&formula(at)) } else { by_first_order(at) };
    at.par_iter().map(point).collect()
}

fn stops(curve: &Curve) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred steps at most")]
    let share = |step: usize| step as f64 / (curve.steps - 1).max(1) as f64;
    (0..curve.steps).map(|step| curve.from + (curve.to - curve.from) * share(step)).collect()
}

/// What an axis shows: `port in mm`.
fn with_unit(what: &str, unit: &Unit) -> String {
    match (what, unit.is_one()) {
        ("", _) => unit.symbol().to_owned(),
        (what, true) => what.to_owned(),
        (what, false) => format!("{what} in {unit}"),
    }
}

fn row(curve: &Curve, at: f64, worked: &Result<Estimate, EvalError>) -> RowLine {
    let at = print_value(at, 0.0, &curve.over_unit, kind_of(&curve.over_unit));
    match worked {
        Ok(Estimate { band, .. }) => {
            let shown = shown_band(band, &curve.unit, kind_of(&curve.unit));
            RowLine { at, value: shown.best, band: shown.band.unwrap_or_default() }
        }
        Err(gap) => {
            let value = match gap {
                EvalError::Refused(refusal) => in_words(refusal),
                EvalError::Unknown => gap.to_string(),
            };
            RowLine { at, value, band: String::new() }
        }
    }
}

fn spot(curve: &Curve, at: f64, worked: &Result<Estimate, EvalError>) -> Spot {
    let values = worked.as_ref().ok().map(|Estimate { band, .. }| SpotValues {
        value: curve.unit.from_si(band.value),
        low: curve.unit.from_si(band.low),
        high: curve.unit.from_si(band.high),
    });
    Spot { at: curve.over_unit.from_si(at), values }
}

fn point(at: f64, worked: &Result<Estimate, EvalError>, across: &Coherent) -> PointLine {
    match worked {
        Ok(Estimate { band, .. }) => PointLine {
            at,
            value: Some(across.value(band.value)),
            low: Some(across.value(band.low)),
            high: Some(across.value(band.high)),
            because: None,
            because_text: None,
        },
        Err(gap) => PointLine {
            at,
            value: None,
            low: None,
            high: None,
            because: Some(gap_code(gap)),
            because_text: Some(gap.to_string()),
        },
    }
}
