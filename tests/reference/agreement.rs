//! Holds a function of the formula language against a column of a reference table.
//!
//! Arguments are looked up by name among the columns; both sides are in coherent SI units.

use boostwright::formula::functions;

use super::table::{Row, number, rows};

/// Stands in a table where there is no answer.
const REFUSED: &str = "refused";

/// How far the program may be from the table.
#[derive(Clone, Copy)]
pub(super) struct Within {
    /// A share of the table's value.
    pub(super) relative: f64,
    /// In the unit of the result, for values that are near zero or known to so many digits only.
    pub(super) absolute: f64,
}

/// A tolerance as a share of the table's value.
pub(super) const fn share(relative: f64) -> Within {
    Within { relative, absolute: 0.0 }
}

/// Where an argument comes from that isn't the column of its own name.
#[derive(Clone, Copy)]
pub(super) enum From {
    Value(f64),
    Column(&'static str),
}

/// The function agrees in every row with the column of its own name.
pub(super) fn agrees(table: &str, function: &str, within: Within) {
    column_agrees(table, function, function, &[], within);
}

/// The function agrees in every row with a column, some arguments coming from elsewhere.
/// Where the table has `refused`, so must the function; a row that has it for an argument is left
/// out.
pub(super) fn column_agrees(
    table: &str,
    column: &str,
    function: &str,
    given: &[(&str, From)],
    within: Within,
) {
    let rows = rows(table);
    let asked: Vec<(&Row, Vec<f64>)> = rows
        .iter()
        .filter_map(|row| arguments(row, function, given).map(|arguments| (row, arguments)))
        .collect();
    assert!(!asked.is_empty(), "{table} has no row to ask {function}");
    let faults: Vec<String> = asked
        .iter()
        .filter_map(|(row, arguments)| fault(&row[column], function, arguments, within))
        .collect();
    assert!(faults.is_empty(), "{function} against {column} of {table}:\n{}", faults.join("\n"));
}

/// The function of that name.
fn function(name: &str) -> &'static functions::Function {
    functions::find(name).unwrap_or_else(|| panic!("no function {name}"))
}

/// What the function is asked in a row, or nothing where an argument is `refused`.
fn arguments(row: &Row, name: &str, given: &[(&str, From)]) -> Option<Vec<f64>> {
    let value = |name: &str| {
        let column = match given.iter().find(|(given, _)| *given == name) {
            Some((_, From::Value(value))) => return Some(*value),
            Some((_, From::Column(column))) => column,
            None => name,
        };
        let field = row.get(column).unwrap_or_else(|| panic!("no column {column}"));
        (field != REFUSED).then(|| number(field))
    };
    function(name).arguments.iter().map(|argument| value(argument.name)).collect()
}

/// What is wrong with the answer, if anything.
fn fault(expected: &str, name: &str, arguments: &[f64], within: Within) -> Option<String> {
    match ((function(name).call)(arguments), expected) {
        (Err(_), REFUSED) => None,
        (Ok(result), REFUSED) => Some(format!("{arguments:?}: {result} where there is no answer")),
        (Err(refusal), _) => Some(format!("{arguments:?}: refused ({refusal})")),
        (Ok(result), _) => {
            let expected = number(expected);
            let allowed = within.absolute + within.relative * expected.abs();
            let agrees = (result - expected).abs() <= allowed;
            (!agrees).then(|| format!("{arguments:?}: {result} instead of {expected}"))
        }
    }
}
