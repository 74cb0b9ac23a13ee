//! Which questions the next steps need.

use crate::interview::State;
use crate::report::model::{Conclusion, WorkKind};
use crate::rules::{QuestionId, StepId};

/// A cause less likely than this is not worth confirming now.
const WORTH_CONFIRMING: f64 = 0.1;

/// The questions that the next steps need, the most needed first, each behind what is wanted before it:
/// the checks ahead, whether open or once given up as "can't say"; then of the open ones the next
/// question, while nothing stands clear the rest of the present step, and what would confirm the
/// likeliest causes.
pub(super) fn wanted(state: &State<'_>, conclusion: &Conclusion) -> Vec<QuestionId> {
    let questions = &state.pack.questions;
    let mut list = List { state, found: Vec::new() };
    for work in &conclusion.next_work {
        let check = (work.kind == WorkKind::Check).then_some(&work.id);
        let checks = check.into_iter().chain(work.after_check.as_ref().map(|check| &check.id));
        checks.filter_map(|id| questions.find(id)).for_each(|check| list.add(check));
    }
    list.add_open(state.walk.next.map(|next| next.question));
    if !conclusion.clear {
        list.add_open(state.walk.path.last().map(|step| list.of_step(*step)).unwrap_or_default());
    }
    let leads = conclusion.causes.iter().filter(|cause| cause.probability >= WORTH_CONFIRMING);
    let confirming = leads.flat_map(|cause| &cause.confirmed_by);
    list.add_open(confirming.filter_map(|question| questions.find(&question.id)));
    list.found
}

struct List<'a, 'p> {
    state: &'a State<'p>,
    found: Vec<QuestionId>,
}

impl List<'_, '_> {
    fn of_step(&self, step: StepId) -> Vec<QuestionId> {
        let step = &self.state.pack.steps[step];
        step.ask.iter().chain(&step.ask_best_of).copied().collect()
    }

    fn add_open(&mut self, questions: impl IntoIterator<Item = QuestionId>) {
        for question in questions {
            if self.state.open.contains(&self.asked(question)) {
                self.add(question);
            }
        }
    }

    fn add(&mut self, question: QuestionId) {
        let question = self.asked(question);
        if self.found.contains(&question) {
            return;
        }
        // Questions never wait for one another in a circle: the linker refuses that.
        self.add_open(self.state.pack.questions[question].not_before.iter().copied());
        self.found.push(question);
    }

    /// An option is asked with the list it belongs to.
    fn asked(&self, question: QuestionId) -> QuestionId {
        self.state.pack.questions[question].list.unwrap_or(question)
    }
}
