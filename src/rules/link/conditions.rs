//! Conditions with a name: each is put in wherever its name stands, as if it were written out there.

use std::collections::HashMap;

use super::entries::entries;
use super::formulas::{Formulas, Readable, read_tree};
use super::ids::usable_id;
use super::linker::Linker;

/// The conditions of a pack, by when they can be checked.
#[derive(Default)]
pub(super) struct Conditions<'a> {
    /// Those over answers and workings, which workings may use too.
    pub(super) on_answers: Vec<Readable<'a>>,
    /// Those that read a finding, perhaps by way of others.
    pub(super) on_findings: Vec<Readable<'a>>,
}

impl Formulas {
    /// Reads the conditions. They are checked along with workings and findings, each behind what it
    /// reads.
    pub(super) fn conditions<'a>(&self, linker: &mut Linker<'a>) -> Conditions<'a> {
        let stack = linker.stack;
        let read = entries("conditions", &stack.conditions)
            .map(|(at, written)| {
                usable_id(linker, at);
                read_tree(linker, at, at.field_itself(), Some(written))
            })
            .collect::<Vec<_>>();
        let late = self.on_findings(linker, &read);
        let mut found = Conditions::default();
        for (condition, late) in read.into_iter().zip(late) {
            let into = if late { &mut found.on_findings } else { &mut found.on_answers };
            into.push(condition);
        }
        found
    }

    /// For each condition whether it reads a finding.
    fn on_findings(&self, linker: &Linker<'_>, conditions: &[Readable<'_>]) -> Vec<bool> {
        let findings: HashMap<&str, usize> =
            linker.stack.findings.keys().map(|id| (id.as_str(), 0)).collect();
        let reads = self.reads(conditions, &findings);
        let mut late: Vec<bool> = reads.iter().map(|read| !read.is_empty()).collect();
        let ids =
            conditions.iter().enumerate().map(|(index, read)| (read.at.id(), index)).collect();
        let mut readers = vec![Vec::new(); conditions.len()];
        for (reader, read) in self.reads(conditions, &ids).into_iter().enumerate() {
            for other in read {
                readers[other].push(reader);
            }
        }
        let mut open: Vec<usize> = (0..late.len()).filter(|index| late[*index]).collect();
        while let Some(index) = open.pop() {
            for reader in &readers[index] {
                if !late[*reader] {
                    late[*reader] = true;
                    open.push(*reader);
                }
            }
        }
        late
    }

    /// Checks a condition and makes its name known.
    pub(super) fn condition_entry(&mut self, linker: &mut Linker<'_>, condition: &Readable<'_>) {
        let checked = self.checked_truth(linker, condition);
        self.words.condition(condition.at.id(), checked.as_ref());
    }
}
