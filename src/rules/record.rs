//! Faults as an editor or a script reads them: one flat record each, with its place in numbers.

use serde::Serialize;

use super::fault::{Faults, Place, Position, Severity, Told};

/// One fault of a pack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Record {
    /// A short name of the kind of fault, stable: `unknown-name`.
    pub code: &'static str,
    /// `error` or `warning`.
    pub severity: &'static str,
    /// What is wrong, in one line.
    pub headline: String,
    #[serde(flatten)]
    pub at: Range,
    /// What stands at the spot, and the other side of a clash.
    pub notes: Vec<Note>,
    /// The way out.
    pub help: String,
}

/// A stretch of a file. Lines and columns count from 1, columns in letters.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Range {
    pub file: String,
    pub line: usize,
    pub column: usize,
    /// Behind the last letter.
    pub end: End,
}

/// Where a stretch ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct End {
    pub line: usize,
    pub column: usize,
}

/// A few words about a spot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Note {
    pub text: String,
    #[serde(flatten)]
    pub at: Range,
}

impl From<Position> for Range {
    fn from(at: Position) -> Self {
        let (line, column) = at.end;
        Self { file: at.file, line: at.line, column: at.column, end: End { line, column } }
    }
}

impl Faults {
    /// Every fault as a record, in the order of [`Faults::list`].
    #[must_use]
    pub fn records(&self) -> Vec<Record> {
        // The places of all marks in one go: to find one is to read its whole file.
        let told: Vec<Told> = self.list.iter().map(|fault| fault.kind.told()).collect();
        let marks: Vec<Vec<(&Place, &str)>> = self
            .list
            .iter()
            .zip(&told)
            .map(|(fault, told)| {
                let other = fault.other.iter().map(|(place, label)| (place, label.as_str()));
                std::iter::once((&fault.place, told.label.as_str())).chain(other).collect()
            })
            .collect();
        let mut positions =
            self.positions_of(marks.iter().flatten().map(|(place, _)| *place)).into_iter();
        let mut records = Vec::with_capacity(self.list.len());
        for ((fault, told), marks) in self.list.iter().zip(&told).zip(&marks) {
            let notes: Vec<Note> = marks
                .iter()
                .zip(&mut positions)
                .map(|((_, label), at)| Note { text: (*label).to_owned(), at: at.into() })
                .collect();
            let Some(own) = notes.first() else { continue };
            records.push(Record {
                code: told.code.name(),
                severity: match fault.severity {
                    Severity::Error => "error",
                    Severity::Warning => "warning",
                },
                headline: told.message.clone(),
                at: own.at.clone(),
                notes: notes.into_iter().filter(|note| !note.text.is_empty()).collect(),
                help: told.help.clone(),
            });
        }
        records
    }
}
