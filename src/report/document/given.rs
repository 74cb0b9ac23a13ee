//! What the conclusion rests on: answers, typical values in place of some, and what nobody knew.

use crate::report::model::{AnswerLine, Conclusion};

use super::block::Section;
use super::sources::Sources;

pub(super) fn answers(conclusion: &Conclusion) -> Option<Section> {
    section("Your answers", conclusion.answers.iter().map(pair).collect())
}

pub(super) fn assumptions(conclusion: &Conclusion, sources: &mut Sources) -> Option<Section> {
    let cited = |answer: &AnswerLine| {
        format!("{} {}", pair(answer), sources.cite(&answer.sources)).trim_end().to_owned()
    };
    let points = conclusion.assumptions.iter().map(cited).collect();
    section("Typical values assumed, not measured", points)
}

pub(super) fn not_known(conclusion: &Conclusion) -> Option<Section> {
    let points = conclusion.not_known.iter().map(|question| question.text.clone());
    section("Not known", points.collect())
}

fn section(title: &str, points: Vec<String>) -> Option<Section> {
    if points.is_empty() {
        return None;
    }
    let mut section = Section::new(title);
    section.points(points);
    Some(section)
}

/// A question with its answer, a quantity with its value.
pub(super) fn pair(answer: &AnswerLine) -> String {
    let behind = if answer.text.ends_with(['?', ':', '.']) { "" } else { ":" };
    format!("{}{behind} {}", answer.text, answer.shown)
}
