//! Holds a function of the formula language against a column of a reference table.
//!
//! Arguments are looked up by name among the columns; both sides are in coherent SI units.

use boostwright::formula::functions;

use super::table::{Row, number, rows};

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

/// The function agrees in every row with the column of its own name.
pub(super) fn agrees(table: &str, function: &str, within: Within) {
    column_agrees(table, function, function, &[], within);
}

/// The function agrees in every row with a column, some arguments being given instead of looked up.
/// Where the table has `refused`, so must the function.
pub(super) fn column_agrees(
    table: &str,
    column: &str,
    function: &str,
    given: &[(&str, f64)],
    within: Within,
) {
    let faults: Vec<String> =
        rows(table).iter().filter_map(|row| fault(row, column, function, given, within)).collect();
    assert!(faults.is_empty(), "{function} against {column} of {table}:\n{}", faults.join("\n"));
}

/// What is wrong in one row, if anything.
fn fault(
    row: &Row,
    column: &str,
    name: &str,
    given: &[(&str, f64)],
    within: Within,
) -> Option<String> {
    let function = functions::find(name).unwrap_or_else(|| panic!("no function {name}"));
    let arguments: Vec<f64> = function
        .arguments
        .iter()
        .map(|argument| {
            given
                .iter()
                .find(|(name, _)| *name == argument.name)
                .map_or_else(|| number(row, argument.name), |(_, value)| *value)
        })
        .collect();
    match ((function.call)(&arguments), row[column].as_str()) {
        (Err(_), "refused") => None,
        (Ok(result), "refused") => {
            Some(format!("{arguments:?}: {result} where there is no answer"))
        }
        (Err(refusal), _) => Some(format!("{arguments:?}: refused ({refusal})")),
        (Ok(result), _) => {
            let expected = number(row, column);
            let allowed = within.absolute + within.relative * expected.abs();
            let agrees = (result - expected).abs() <= allowed;
            (!agrees).then(|| format!("{arguments:?}: {result} instead of {expected}"))
        }
    }
}
