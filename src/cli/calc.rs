//! `boostwright calc`: one formula of the rule language.

use std::collections::HashMap;
use std::fmt::Write as _;

use super::arguments::{CalcOptions, PlainForm};
use super::exit::{Exit, Failure};
use super::output;
use crate::formula::functions::{FUNCTIONS, Function};
use crate::formula::{
    Band, BandFrom, Data, Datum, Evaluation, Fault, Formula, Gap, Meaning, Names, Node, OWN, Root,
    Slot, Type, band, check, normal, parse,
};
use crate::quantity::{Dimension, Kind, Unit, print_band, print_value, readable_unit};

pub(super) fn run(options: &CalcOptions) -> Result<Exit, Failure> {
    if options.list {
        output::result(&listing());
        return Ok(Exit::Done);
    }
    let text = options.formula.as_deref().unwrap_or("");
    let values = options.values.iter().map(|given| Named::read(given)).collect::<Result<Vec<_>, _>>()?;
    let book = Book { values: &values };
    let formula = check(text, &book, None).map_err(|faults| Failure::new(drawn(text, &faults)))?;
    let found = Calculation { formula: &formula, values: &values }.result()?;
    for remark in remarks(&formula, &values) {
        output::message(&remark);
    }
    let kind = formula.kind().unwrap_or(Kind::NUMBER);
    let unit = result_unit(options, kind)?;
    output::result(&match options.form {
        PlainForm::Text => as_text(&found, kind, unit, values.first().map(|value| &value.unit)),
        PlainForm::Json => as_json(&found, kind, unit),
    });
    Ok(Exit::Done)
}
