//! Sources, each listed once and cited by its number.

use super::block::{Block, Entry, Section};

/// The sources cited so far, in the order of their numbers.
#[derive(Debug, Default)]
pub(super) struct Sources {
    known: Vec<String>,
}

impl Sources {
    /// The numbers of these sources: `[1, 4]`; nothing where there are none.
    pub(super) fn cite(&mut self, sources: &[String]) -> String {
        let numbers: Vec<String> =
            sources.iter().map(|source| self.number(source).to_string()).collect();
        if numbers.is_empty() { String::new() } else { format!("[{}]", numbers.join(", ")) }
    }

    fn number(&mut self, source: &str) -> usize {
        let known = self.known.iter().position(|known| known == source);
        let place = known.unwrap_or_else(|| {
            self.known.push(source.to_owned());
            self.known.len() - 1
        });
        place + 1
    }

    pub(super) fn section(self) -> Option<Section> {
        if self.known.is_empty() {
            return None;
        }
        let mut section = Section::new("Sources");
        let entries = self.known.into_iter().enumerate();
        let entries = entries.map(|(place, source)| Entry::new(format!("[{}]", place + 1), source));
        section.blocks.push(Block::Entries(entries.collect()));
        Some(section)
    }
}
