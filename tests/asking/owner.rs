//! Whoever answers: by a list, and "can't say" to all else.

use std::sync::Arc;

use boostwright::interview::{Answer, Round, State, fold_with};
use boostwright::rules::{Given, Pack, QuestionId};

/// No interview here may ask more.
const MOST: usize = 60;

/// An interview that was held to its end.
pub(super) struct Held {
    pub(super) asked: Vec<QuestionId>,
    pub(super) round: Round,
}

impl Held {
    /// Asks what is due until nothing is.
    pub(super) fn with(pack: &Pack, complaint: &str, answers: &[(&str, &str)]) -> Self {
        let given =
            answers.iter().map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())));
        let mut known = Round::default();
        known.read_answers(pack, &given.collect()).unwrap();
        let complaints = vec![pack.complaints.find(complaint).unwrap()];
        let mut round = Round { complaints, ..Round::default() };
        let memo = Arc::default();
        let mut asked = Vec::new();
        while let Some(next) = fold_with(pack, std::slice::from_ref(&round), None, &memo).walk.next
        {
            let id = pack.questions.id(next.question);
            assert!(!asked.contains(&next.question), "{id} is asked twice");
            assert!(asked.len() < MOST, "{complaint} never ends");
            asked.push(next.question);
            let answer = known.answers.get(&next.question).cloned();
            round.give(next.question, answer.unwrap_or(Answer::CantSay));
        }
        Self { asked, round }
    }

    pub(super) fn ids<'p>(&self, pack: &'p Pack) -> Vec<&'p str> {
        self.asked.iter().map(|question| pack.questions.id(*question)).collect()
    }

    /// Where it ends.
    pub(super) fn state<'p>(&self, pack: &'p Pack) -> State<'p> {
        boostwright::interview::fold(pack, std::slice::from_ref(&self.round), None)
    }
}
