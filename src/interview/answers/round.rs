//! Rounds: what was asked and answered, with a repair between each two.

use std::hash::Hash;

use indexmap::IndexMap;

use crate::formula::nearest;
use crate::interview::answers::answer::{Answer, read_answer};
use crate::interview::answers::answer_error::AnswerError;
use crate::rules::{ComplaintId, Given, Pack, QuestionId, RepairId, SetupId};

/// The most unknown names for which the nearest known one is looked for.
const MAX_NEAR: usize = 100;

/// One pass through the questions.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Round {
    /// What brought the person here; only the first round has it.
    pub complaints: Vec<ComplaintId>,
    /// The repair that opened this round; the first round has none.
    pub repair: Option<RepairId>,
    /// Answers in the order they were given.
    pub answers: IndexMap<QuestionId, Answer>,
    /// Set-ups that were put back since they were last used.
    pub put_back: Vec<SetupId>,
}

impl Round {
    /// Takes an answer in; one that was given before moves to the end.
    pub fn give(&mut self, question: QuestionId, answer: Answer) {
        self.keep(question, answer, false);
    }

    /// Takes an answer in: in place of one that is only corrected, else at the end.
    pub fn keep(&mut self, question: QuestionId, answer: Answer, corrected: bool) {
        keep_answer(&mut self.answers, question, answer, corrected);
    }

    /// Reads answers as people write them.
    ///
    /// # Errors
    /// Every answer that can't be taken, by id.
    pub fn read_answers(
        &mut self,
        pack: &Pack,
        given: &IndexMap<String, Given>,
    ) -> Result<(), Vec<Refused>> {
        let mut refused = Vec::new();
        for (id, given) in given {
            let Some(question) = pack.questions.find(id) else {
                // Each is compared with all names, and nobody reads a thousand messages.
                let near = (refused.len() < MAX_NEAR)
                    .then(|| nearest(id, pack.questions.ids()).map(str::to_owned))
                    .flatten();
                refused.push(Refused::NoSuchQuestion { id: id.clone(), near });
                continue;
            };
            match read_answer(pack, &pack.questions[question], given) {
                Ok(answer) => self.give(question, answer),
                Err(error) => refused.push(Refused::Answer { id: id.clone(), error }),
            }
        }
        if refused.is_empty() { Ok(()) } else { Err(refused) }
    }
}

/// Puts an answer among those of its round: in place of one that is only corrected, else at the end.
/// The order counts, so that this one rule serves the rounds of an interview and those of a file.
pub fn keep_answer<Q: Hash + Eq, A>(
    answers: &mut IndexMap<Q, A>,
    question: Q,
    answer: A,
    corrected: bool,
) {
    if !corrected {
        answers.shift_remove(&question);
    }
    answers.insert(question, answer);
}

/// An answer that can't be taken.
#[derive(Debug, Clone, PartialEq)]
pub enum Refused {
    NoSuchQuestion { id: String, near: Option<String> },
    Answer { id: String, error: AnswerError },
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NoSuchQuestion { id, near: Some(near) } => {
                write!(f, "there is no question {id}: did you mean {near}?")
            }
            Self::NoSuchQuestion { id, near: None } => {
                write!(f, "these rules have no question {id}")
            }
            Self::Answer { id, error } => write!(f, "{id}: {error}"),
        }
    }
}

/// An answer that holds at present, and the round it was given in.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    pub answer: Answer,
    pub round: usize,
}

/// The answers that hold at the end of a round, in the order they were given.
pub type Answers = IndexMap<QuestionId, Held>;

/// What still holds of the earlier rounds' answers once a repair is done: not what the repair made
/// stale, what it should have changed, or what holds for one run only.
#[must_use]
pub(in crate::interview) fn carried_over(
    pack: &Pack,
    held: &Answers,
    repair: Option<RepairId>,
) -> Answers {
    let reopened = |question: QuestionId| {
        let each_run = pack.questions[question].is_of_one_run();
        let by_repair = repair.is_some_and(|repair| {
            let repair = &pack.repairs[repair];
            repair.invalidates.contains(&question)
                || repair.predicts.iter().any(|(read, _)| *read == question)
        });
        each_run || by_repair
    };
    held.iter()
        .filter(|(question, _)| !reopened(**question))
        .map(|(question, held)| (*question, held.clone()))
        .collect()
}

/// Lays a round's answers over those that were carried over. Taking one reading may make others
/// stale that were taken before it.
pub(in crate::interview) fn lay_over(
    pack: &Pack,
    held: &mut Answers,
    round: &Round,
    number: usize,
) {
    for (question, answer) in &round.answers {
        held.shift_remove(question);
        if !matches!(answer, Answer::Later | Answer::CantSay) {
            for stale in &pack.questions[*question].invalidates {
                held.shift_remove(stale);
            }
        }
        held.insert(*question, Held { answer: answer.clone(), round: number });
    }
}

/// Answers the options of each list by what was picked from it, but for those that were answered by
/// themselves since: `later` tells whether an option was, in the round of the list. What the complaint
/// itself says yes to, `told`, is not offered in the first round, and so not denied by it.
pub(in crate::interview) fn spread_lists(
    pack: &Pack,
    held: &mut Answers,
    told: &[QuestionId],
    later: &dyn Fn(QuestionId, QuestionId, usize) -> bool,
) {
    let lists: Vec<(QuestionId, Held)> = held
        .iter()
        .filter(|(question, _)| !pack.options_of(**question).is_empty())
        .map(|(question, held)| (*question, held.clone()))
        .collect();
    for (list, Held { answer, round }) in lists {
        for option in pack.options_of(list) {
            let by_itself =
                |own: &Held| own.round > round || own.round == round && later(*option, list, round);
            if held.get(option).is_some_and(by_itself) {
                continue;
            }
            let answer = match &answer {
                Answer::Picked(picked) => Answer::Truth(picked.contains(option)),
                other => other.clone(),
            };
            if answer == Answer::Truth(false) && round == 0 && told.contains(option) {
                continue;
            }
            held.insert(*option, Held { answer, round });
        }
    }
}

/// Whether the answers held say something on a question.
#[must_use]
pub fn says_something(held: &Answers, question: QuestionId) -> bool {
    held.get(&question).is_some_and(|held| !matches!(held.answer, Answer::CantSay | Answer::Later))
}
