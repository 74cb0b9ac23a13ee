//! What is known, in words: answers as a person would say them, texts with their values put in.

use crate::formula::VarId;
use crate::quantity::{Kind, print_value};
use crate::rules::{AnswerForm, Piece, QuestionId, Template, VarOwner, WorkingId};

use crate::interview::answers::answer::Answer;
use crate::interview::evidence::facts::Facts;

/// Stands where a value is missing.
const NOT_KNOWN: &str = "(not known)";

impl Facts<'_> {
    /// A text with its values put in.
    #[must_use]
    pub fn filled(&self, text: &Template) -> String {
        self.in_words(&text.0)
    }

    pub(super) fn in_words(&self, pieces: &[Piece]) -> String {
        pieces
            .iter()
            .map(|piece| match piece {
                Piece::Words(words) => words.clone(),
                Piece::Value(slot) => self.shown(*slot).unwrap_or_else(|| NOT_KNOWN.to_owned()),
            })
            .collect()
    }

    /// What stands in a slot, with its unit and uncertainty; none where nothing does.
    #[must_use]
    pub fn shown(&self, slot: VarId) -> Option<String> {
        match self.pack.owner_of(slot) {
            VarOwner::Question(question) => self.shown_answer(question),
            VarOwner::Working(working) => self.shown_working(working),
            VarOwner::CurveVariable => None,
        }
    }

    /// An answer in words; where nobody measured, the typical value.
    #[must_use]
    pub fn shown_answer(&self, question: QuestionId) -> Option<String> {
        let asked = &self.pack.questions[question];
        match (self.held.get(&question).map(|held| &held.answer), &asked.answer) {
            (Some(Answer::Truth(truth)), _) => Some(if *truth { "yes" } else { "no" }.to_owned()),
            (Some(Answer::Option(option)), AnswerForm::Choose(options)) => {
                options.get_index(*option).map(|(_, text)| text.clone())
            }
            (Some(Answer::Picked(picked)), _) if picked.is_empty() => {
                Some("none of these".to_owned())
            }
            (Some(Answer::Picked(picked)), _) => {
                let text = |option: &QuestionId| self.pack.questions[*option].text.clone();
                Some(picked.iter().map(text).collect::<Vec<_>>().join("; "))
            }
            (Some(Answer::Number(reading)), AnswerForm::Measure(measure)) => {
                Some(print_value(reading.value, reading.uncertainty, &reading.unit, measure.kind))
            }
            (Some(Answer::Table(rows)), _) => Some(format!("a table of {} rows", rows.len())),
            (Some(Answer::Later), _) => None,
            (_, AnswerForm::Measure(measure)) => {
                let (value, uncertainty) = measure.typical?;
                Some(print_value(value, uncertainty, &measure.unit, measure.kind))
            }
            _ => None,
        }
    }

    /// A working's value in the unit its pack shows it in.
    #[must_use]
    pub fn shown_working(&self, working: WorkingId) -> Option<String> {
        let band = self.worked(working)?.band;
        let written = &self.pack.workings[working];
        let kind = written.formula.kind().unwrap_or(Kind::NUMBER);
        Some(print_value(band.value, band.uncertainty, &written.unit, kind))
    }
}
