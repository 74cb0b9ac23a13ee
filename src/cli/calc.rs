//! `boostwright calc`: one formula of the rule language, as a pocket calculator at the car.

use std::sync::Arc;

use serde::Serialize;

use super::arguments::{CalcOptions, PlainForm};
use super::exit::{Exit, Failure};
use super::listing::listing;
use super::named_values::NamedValues;
use super::slow_notice::{SlowNotice, WORKING};
use super::{output, pager};
use crate::formula::{
    Band, BandFrom, DRAWS, Estimate, Evaluator, Expression, Form, Formula, Type, UncertainInput,
    check_tree, parse,
};
use crate::physics::Refusal;
use crate::quantity::{
    Kind, Reference, Unit, offered_units, print_band, print_value, readable_unit,
};
use crate::text::Clean;

pub(super) fn run(options: &CalcOptions) -> Result<Exit, Failure> {
    let Some(text) = options.formula.as_deref().filter(|_| !options.list) else {
        return pager::result(&listing(options.form)?, &options.paging);
    };
    let values = NamedValues::read(&options.values)?;
    let (tree, formula) = read(text, &values)?;
    for name in values.unused(&tree) {
        output::message(format!("{name} is not used by the formula"));
    }
    let unit = match &options.unit {
        Some(asked) => Some(asked_unit(asked, formula.kind().unwrap_or(Kind::NUMBER))?),
        None => None,
    };
    let evaluator = Evaluator::new(values.inputs(), Vec::new(), &[], Arc::default());
    let slow_notice = SlowNotice::say(WORKING);
    let outcome = work(&evaluator, &formula);
    drop(slow_notice);
    let outcome = outcome?;
    for remark in evaluator.remarks(&formula) {
        output::message(&remark);
    }
    let result = match options.form {
        PlainForm::Json => outcome.json(unit)?,
        PlainForm::Text => {
            let unit = unit.unwrap_or_else(|| own_unit(&tree, &values, outcome.kind));
            outcome.text(&unit, &formula, &values)?
        }
    };
    output::result(&result)?;
    Ok(Exit::Done)
}

/// The formula as written and as checked.
fn read(text: &str, values: &NamedValues) -> Result<(Expression, Formula), Failure> {
    let refused = |faults| Failure::Formula { text: text.to_owned(), faults };
    let tree = parse(text).map_err(|fault| refused(vec![fault]))?;
    let formula = check_tree(text, &tree, values, None).map_err(refused)?;
    Ok((tree, formula))
}

/// What the formula gives, in coherent SI.
struct Outcome {
    kind: Kind,
    worked: Estimate,
}

fn work(evaluator: &Evaluator<'_>, formula: &Formula) -> Result<Outcome, Failure> {
    match formula.gives {
        Type::Quantity(kind) => {
            let worked = evaluator.estimate_by(formula, DRAWS).map_err(Failure::NoResult)?;
            if kind == Kind::TEMPERATURE && worked.band.value < 0.0 {
                let refusal = Refusal::new("result", "it is below absolute zero (−273.15 °C)");
                return Err(Failure::NoResult(refusal.into()));
            }
            Ok(Outcome { kind, worked })
        }
        Type::Bool => {
            // A probability carries no uncertainty of its own.
            let value = evaluator.chance(formula).map_err(Failure::NoResult)?;
            let from = BandFrom::FirstOrder;
            let band =
                Band { value, uncertainty: 0.0, low: value, high: value, from, shares: Vec::new() };
            Ok(Outcome { kind: Kind::NUMBER, worked: Estimate { band, inputs: Vec::new() } })
        }
        Type::Choice(_) | Type::Table(_) => Err(Failure::NoFigure),
    }
}

/// The unit asked for, checked against what the formula gives.
fn asked_unit(text: &str, kind: Kind) -> Result<Unit, Failure> {
    let unit = Unit::parse(text).map_err(Failure::AskedUnit)?;
    if unit.dimension() == kind.dimension {
        return Ok(unit);
    }
    let (given, offered) = (unit.dimension(), offered(kind));
    Err(Failure::AskedDimension { unit, given, result: kind, offered })
}

/// Units in which a result can be asked for.
fn offered(kind: Kind) -> String {
    let units = offered_units().find(|(dimension, _)| *dimension == kind.dimension);
    match units {
        Some((_, units)) => units.iter().take(3).copied().collect::<Vec<&str>>().join(", "),
        None => kind.dimension.coherent_unit(),
    }
}

/// The unit for a result that nobody asked a unit for: the first of its dimension that the person
/// wrote, or else one that reads well.
fn own_unit(tree: &Expression, values: &NamedValues, kind: Kind) -> Unit {
    let readable = readable_unit(kind);
    if kind == Kind::NUMBER {
        return readable;
    }
    let mut found: Option<Unit> = None;
    tree.walk(&mut |part| {
        let unit = match &part.form {
            Form::Literal { unit, .. } => unit.as_ref(),
            Form::Name(name) => values.unit(name),
            _ => None,
        };
        if let Some(unit) = unit.filter(|unit| unit.dimension() == kind.dimension) {
            found.get_or_insert_with(|| unit.clone());
        }
    });
    found.unwrap_or(readable)
}

/// The keys are fixed: other programs read them.
#[derive(Serialize)]
struct Record {
    value: f64,
    unit: String,
    standard_uncertainty: f64,
}

impl Outcome {
    /// A number of the result in a unit. A difference knows no zero point.
    fn number(&self, si: f64, unit: &Unit) -> Result<f64, Failure> {
        let difference = self.kind.reference == Reference::Difference && unit.is_point();
        let number = if difference { si / unit.scale() } else { unit.from_si(si) };
        if number.is_finite() {
            // Adding zero turns minus zero into zero.
            return Ok(number + 0.0);
        }
        Err(Failure::ResultTooLarge { unit: unit.clone() })
    }

    /// Never rounded.
    fn json(&self, unit: Option<Unit>) -> Result<Clean, Failure> {
        let unit = unit.unwrap_or_else(|| Unit::coherent(self.kind.dimension));
        let band = &self.worked.band;
        output::json(&Record {
            value: self.number(band.value, &unit)?,
            unit: unit.symbol().to_owned(),
            standard_uncertainty: band.uncertainty / unit.scale(),
        })
    }

    fn text(&self, unit: &Unit, formula: &Formula, values: &NamedValues) -> Result<Clean, Failure> {
        let Band { value, uncertainty, low, high, from, .. } = self.worked.band;
        self.number(value, unit)?;
        // A difference of 20 K shown as 20 °C would read as a temperature.
        let coherent = Unit::coherent(self.kind.dimension);
        let on_scale = self.kind.reference == Reference::Difference && unit.is_point();
        let unit = if on_scale { &coherent } else { unit };
        let mut lines = vec![print_value(value, uncertainty, unit, self.kind)];
        if uncertainty > 0.0 {
            lines.push(format!("95 %: {}", print_band(low, high, unit)));
        }
        match from {
            BandFrom::FirstOrder => lines.extend(self.widest(values)),
            BandFrom::MonteCarlo { refused: 0, draws } => {
                lines.push(format!("band from {draws} random draws"));
            }
            BandFrom::MonteCarlo { refused, draws }
            | BandFrom::Conditioned { refused, draws, .. } => lines.push(format!(
                "band from {draws} random draws, {refused} of which could not be calculated"
            )),
        }
        let functions = formula.functions();
        lines.extend(functions.iter().map(|used| format!("{}: {}", used.name, used.source)));
        Ok(lines.join("\n").into())
    }

    /// What the uncertainty comes from, by its share in the variance, where several values bring
    /// it.
    fn widest(&self, values: &NamedValues) -> Option<String> {
        let Estimate { band, inputs } = &self.worked;
        let all = band.uncertainty;
        if inputs.len() < 2 || all <= 0.0 {
            return None;
        }
        let mut parts: Vec<(f64, &str)> = Vec::new();
        for (input, share) in inputs.iter().zip(&band.shares) {
            let name = match *input {
                UncertainInput::Given(slot) => values.name(slot),
                UncertainInput::Literal { .. } | UncertainInput::Own { .. } => None,
            };
            let name = name.unwrap_or("the formula's own numbers");
            let part = (share / all).powi(2);
            match parts.iter_mut().find(|(_, known)| *known == name) {
                Some((sum, _)) => *sum += part,
                None => parts.push((part, name)),
            }
        }
        parts.sort_by(|a, b| b.0.total_cmp(&a.0));
        let told: Vec<String> =
            parts.iter().map(|(part, name)| format!("{name} {:.0} %", 100.0 * part)).collect();
        (told.len() > 1).then(|| format!("uncertainty from {}", told.join(", ")))
    }
}
