//! Curves: a working over a range of one variable, each point with its band. Worked out only when
//! they are shown, all points in one sweep.

use crate::formula::{FEW_DRAWS, Formula, Gap, Piece, Worked};
use crate::interview::State;
use crate::rules::{Curve, CurveId};

use crate::quantity::print_value;

use super::figures::{Coherent, kind_of, shown_band};
use super::model::{CurveLine, PointLine};

/// Every curve that can be worked out in at least one point.
pub(super) fn curves(state: &State<'_>) -> Vec<CurveLine> {
    state.pack.curves.iter().filter_map(|(place, curve)| line(state, place, curve)).collect()
}

fn line(state: &State<'_>, place: CurveId, curve: &Curve) -> Option<CurveLine> {
    let at = stops(curve);
    let formulas: Vec<Formula> = at
        .iter()
        .map(|at| Formula {
            node: curve.formula.node.with(curve.over, *at),
            ..curve.formula.clone()
        })
        .collect();
    let pieces: Vec<Piece<'_>> =
        formulas.iter().map(|formula| Piece { formula, node: &formula.node }).collect();
    let worked = state.facts.sheet.sweep(&pieces, None, FEW_DRAWS);
    if worked.iter().all(Result::is_err) {
        return None;
    }
    let kind = curve.formula.kind()?;
    let (along, across) = (Coherent::of(curve.over_unit.dimension()), Coherent::of(kind.dimension));
    Some(CurveLine {
        id: state.pack.curves.id(place).to_owned(),
        title: curve.title.clone(),
        over: curve.over_name.clone(),
        over_unit: along.symbol(),
        unit: across.symbol(),
        shown_over_unit: curve.over_unit.symbol().to_owned(),
        shown_unit: curve.unit.symbol().to_owned(),
        shown_rows: at.iter().zip(&worked).map(|(at, worked)| row(curve, *at, worked)).collect(),
        points: at
            .iter()
            .zip(worked)
            .map(|(at, worked)| point(along.value(*at), worked, &across))
            .collect(),
        source: curve
            .sources
            .iter()
            .map(|source| state.pack.sources[*source].title.clone())
            .collect::<Vec<_>>()
            .join("; "),
    })
}

fn stops(curve: &Curve) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred steps at most")]
    let share = |step: usize| step as f64 / (curve.steps - 1).max(1) as f64;
    (0..curve.steps).map(|step| curve.from + (curve.to - curve.from) * share(step)).collect()
}

/// `24 mm   0.55 bar (0.48 to 0.64 bar)`
fn row(curve: &Curve, at: f64, worked: &Result<Worked, Gap>) -> String {
    let along = print_value(at, 0.0, &curve.over_unit, kind_of(&curve.over_unit));
    match worked {
        Ok(Worked { band, .. }) => {
            let value =
                print_value(band.value, band.uncertainty, &curve.unit, kind_of(&curve.unit));
            match shown_band(band, &curve.unit) {
                Some(shown) => format!("{along:>8}  {value} ({shown})"),
                None => format!("{along:>8}  {value}"),
            }
        }
        Err(gap) => format!("{along:>8}  {gap}"),
    }
}

fn point(at: f64, worked: Result<Worked, Gap>, across: &Coherent) -> PointLine {
    match worked {
        Ok(Worked { band, .. }) => PointLine {
            at,
            value: Some(across.value(band.value)),
            low: Some(across.value(band.low)),
            high: Some(across.value(band.high)),
            because: None,
        },
        Err(gap) => {
            PointLine { at, value: None, low: None, high: None, because: Some(gap.to_string()) }
        }
    }
}
