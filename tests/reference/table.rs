//! Reads a reference table: comment lines, a header, rows; a field in quotes may hold a comma.
//!
//! Leaves what the columns mean to the tests that ask for them.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

/// One row of a table, each field under the name of its column.
pub(crate) type Row = HashMap<String, String>;

/// All rows of the table of that file name. Fails when there are none.
pub(crate) fn rows(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name);
    let text =
        fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let columns = fields(lines.next().unwrap_or_default());
    let rows: Vec<Row> = lines
        .map(|line| {
            let fields = fields(line);
            assert_eq!(fields.len(), columns.len(), "{name}: fields in {line}");
            columns.iter().cloned().zip(fields).collect()
        })
        .collect();
    assert!(!rows.is_empty(), "{name} has no rows");
    rows
}

/// The number that a field holds.
pub(crate) fn number(field: &str) -> f64 {
    field.parse().unwrap_or_else(|_| panic!("{field} is no number"))
}

/// The fields of a line, quotes taken off.
fn fields(line: &str) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            _ => fields.last_mut().expect("there is always one field").push(letter),
        }
    }
    fields
}
