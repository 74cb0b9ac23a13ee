//! A conversation on one session: its rounds, where its answers are kept, and who is asked.

use std::sync::Arc;

use crate::formula::Memo;
use crate::interview::{Answer, CANT_SAY, LATER, Round, State, fold_with, read_answer};
use crate::quantity::Dimension;
use crate::rules::{AnswerForm, CarStateId, Given, Measure, Pack, QuestionId, SetupId};
use crate::terminal::dialogue::answer_store::AnswerStore;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::Prompter;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// Whatever the interview has next.
    Everything,
    /// Only what the repair made worth asking again.
    Again,
}

/// A conversation on one session.
pub struct Talk<'a, 'p> {
    pub(in crate::terminal) pack: &'p Pack,
    pub(in crate::terminal) prompter: &'a mut dyn Prompter,
    pub(in crate::terminal) store: &'a mut dyn AnswerStore,
    /// Answers go into the last.
    pub(in crate::terminal) rounds: Vec<Round>,
    car: Option<CarStateId>,
    pub(in crate::terminal) scope: Scope,
    pub(in crate::terminal) memo: Arc<Memo>,
}

impl<'a, 'p> Talk<'a, 'p> {
    /// A conversation that goes on behind these rounds, of which there is at least one.
    #[must_use]
    pub fn new(
        pack: &'p Pack,
        rounds: Vec<Round>,
        scope: Scope,
        prompter: &'a mut dyn Prompter,
        store: &'a mut dyn AnswerStore,
    ) -> Self {
        Self { pack, prompter, store, rounds, car: None, scope, memo: Arc::default() }
    }

    /// Asks only what can be answered in this state of the car.
    #[must_use]
    pub fn only_in(self, car: Option<CarStateId>) -> Self {
        Self { car, ..self }
    }

    /// The rounds as they are now.
    #[must_use]
    pub fn rounds(self) -> Vec<Round> {
        self.rounds
    }

    /// Where the interview stands.
    #[must_use]
    pub fn fold(&self) -> State<'p> {
        fold_with(self.pack, &self.rounds, self.car, &self.memo)
    }

    /// The readings given so far, one by one.
    pub(in crate::terminal) fn old_readings(&self, question: QuestionId) -> Vec<String> {
        match self.store.given(self.pack.questions.id(question)) {
            Some(Given::Text(text)) if text != CANT_SAY && text != LATER => text
                .split(';')
                .map(|part| part.trim().to_owned())
                .filter(|part| !part.is_empty())
                .collect(),
            _ => Vec::new(),
        }
    }

    /// The unit in which the person last gave a pressure of this kind that is asked for in the same
    /// unit: whoever reads one gauge in psi reads the next so, too. None for what is no pressure.
    pub(in crate::terminal) fn pressure_unit(&self, measure: &Measure) -> Option<String> {
        if measure.kind.dimension != Dimension::PRESSURE {
            return None;
        }
        let is_alike = |question: &QuestionId| match &self.pack.questions[*question].answer {
            AnswerForm::Measure(other) => other.kind == measure.kind && other.unit == measure.unit,
            _ => false,
        };
        let given = self.rounds.iter().rev().flat_map(|round| round.answers.iter().rev());
        given.filter(|(question, _)| is_alike(question)).find_map(|(_, answer)| match answer {
            Answer::Number(reading) => Some(reading.unit.symbol().to_owned()),
            _ => None,
        })
    }

    /// Keeps that a set-up is put back, or made again.
    pub(in crate::terminal) fn note_put_back(&mut self, setup: SetupId, is_back: bool) {
        let Some(round) = self.rounds.last_mut() else { return };
        if round.put_back.contains(&setup) == is_back {
            return;
        }
        round.put_back.retain(|known| *known != setup);
        if is_back {
            round.put_back.push(setup);
        }
        if let Err(error) = self.store.put_back(self.pack.setups.id(setup), is_back) {
            self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
        }
    }

    /// Keeps an answer and takes it in; says so where it can't.
    pub(in crate::terminal) fn keep(
        &mut self,
        question: QuestionId,
        given: &Given,
        corrected: bool,
    ) -> bool {
        let pack = self.pack;
        let id = pack.questions.id(question);
        let answer = match read_answer(pack, &pack.questions[question], given) {
            Ok(answer) => answer,
            Err(error) => {
                self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
                return false;
            }
        };
        if let Err(error) = self.store.keep(id, given, corrected) {
            self.prompter.say(&Page::of(Voice::Trouble, error.to_string()));
            return false;
        }
        let says_something = !matches!(answer, Answer::Later | Answer::CantSay);
        if let Some(round) = self.rounds.last_mut() {
            round.keep(question, answer, corrected);
        }
        if let Some(setup) = pack.questions[question].setup.filter(|_| says_something) {
            self.note_put_back(setup, false);
        }
        true
    }
}
