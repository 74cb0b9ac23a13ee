//! What was given: answers, typical values in place of some, and what nobody could say.

use crate::interview::Answer;
use crate::report::model::{AnswerLine, Basis, Named, WorkingLine};
use crate::rules::QuestionId;

use super::ConclusionBuilder;

impl ConclusionBuilder<'_, '_> {
    pub(super) fn answers(&self) -> Vec<AnswerLine> {
        let held = self.state.facts.held.keys().copied();
        held.filter(|question| self.state.facts.answered(*question) && self.is_asked(*question))
            .filter_map(|question| self.answer_line(question))
            .collect()
    }

    /// Typical values below a working that rests on an answer too.
    pub(super) fn assumptions(&self, workings: &[WorkingLine]) -> Vec<AnswerLine> {
        let used = |question: &QuestionId| {
            let id = self.pack.questions.id(*question);
            let mut workings = workings.iter().filter(|working| working.rests_on_answers);
            let assumes = |basis: &Basis| basis.assumed.iter().any(|assumed| assumed == id);
            workings.any(|working| working.basis.as_ref().is_some_and(assumes))
        };
        let questions = self.pack.questions.indices().filter(used);
        questions.filter_map(|question| self.answer_line(question)).collect()
    }

    pub(super) fn not_known(&self) -> Vec<Named> {
        let held = self.state.facts.held.iter();
        held.filter(|(own, held)| held.answer == Answer::CantSay && self.is_asked(**own))
            .map(|(question, _)| self.question(*question))
            .collect()
    }

    /// Whether a question stands for itself: an option whose list was answered stands there.
    fn is_asked(&self, question: QuestionId) -> bool {
        let list = self.pack.questions[question].list;
        list.is_none_or(|list| !self.state.facts.held.contains_key(&list))
    }

    pub(super) fn answer_line(&self, question: QuestionId) -> Option<AnswerLine> {
        let asked = &self.pack.questions[question];
        let sources: Vec<String> =
            asked.sources.iter().map(|source| self.source(*source)).collect();
        Some(AnswerLine {
            id: self.pack.questions.id(question).to_owned(),
            text: asked.text.clone(),
            shown: self.state.facts.shown_answer(question)?,
            source: sources.join("; "),
            sources,
        })
    }
}
