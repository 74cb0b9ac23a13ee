//! What the conclusion rests on: answers, typical values in place of some, and what nobody knew.

use crate::report::model::{AnswerLine, Conclusion};

use super::block::{Block, Entry, Section};
use super::sources::Sources;

pub(super) fn answers(conclusion: &Conclusion) -> Option<Section> {
    let told = |answer: &AnswerLine| Entry::new("-", pair(answer));
    section("What you answered", conclusion.answers.iter().map(told).collect())
}

pub(super) fn assumptions(conclusion: &Conclusion, sources: &mut Sources) -> Option<Section> {
    let entries = conclusion.assumptions.iter().map(|answer| {
        Entry::new("-", format!("{} {}", pair(answer), sources.cite(&answer.sources)).trim_end())
    });
    section("What was assumed, since nobody measured", entries.collect())
}

pub(super) fn not_known(conclusion: &Conclusion) -> Option<Section> {
    let entries = conclusion.not_known.iter().map(|question| Entry::new("-", &question.text));
    section("What nobody could say", entries.collect())
}

fn section(title: &str, entries: Vec<Entry>) -> Option<Section> {
    if entries.is_empty() {
        return None;
    }
    let mut section = Section::new(title);
    section.blocks.push(Block::Entries(entries));
    Some(section)
}

/// A question with its answer, a quantity with its value.
fn pair(answer: &AnswerLine) -> String {
    let behind = if answer.text.ends_with(['?', ':', '.']) { "" } else { ":" };
    format!("{}{behind} {}", answer.text, answer.shown)
}
