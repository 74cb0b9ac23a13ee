//! What a session keeps: which pack it was held with, the car, and the rounds with their answers
//! as the person gave them. Ids are not looked up here: a session outlives the rules it was begun
//! with.

use indexmap::IndexMap;

use crate::interview::keep_answer;
use crate::rules::{Given, Pack};

/// The most rounds that a session has: each is folded, and nobody repairs a car more often.
pub(super) const MAX_ROUNDS: usize = 100;

/// A session, whole.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Session {
    /// None where the file was written by hand and names none.
    pub pack: Option<PackMark>,
    /// The car, in the person's own words.
    pub car: Option<String>,
    /// At least one.
    pub rounds: Vec<SessionRound>,
}

/// Tells one state of the rules from another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PackMark {
    /// The names of the packs, the lowest first: `first + second`.
    pub name: String,
    /// Empty where it is not known.
    pub digest: String,
}

/// One pass through the questions, as it stands in the file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SessionRound {
    /// What brought the person here; only in the first round.
    pub complaints: Vec<String>,
    /// The repair that opened the round; not in the first.
    pub repair: Option<String>,
    /// In the order in which they were given.
    pub answers: IndexMap<String, Given>,
    /// Set-ups that were put back since they were last used.
    pub put_back: Vec<String>,
    /// What came out, in a line or two.
    pub conclusion: Option<String>,
}

impl PackMark {
    #[must_use]
    pub fn of(pack: &Pack) -> Self {
        let names: Vec<&str> = pack.layers.iter().map(|layer| layer.name.as_str()).collect();
        Self { name: names.join(" + "), digest: pack.digest.clone() }
    }
}

impl Session {
    /// A session that begins with these complaints.
    #[must_use]
    pub fn start(pack: &Pack, complaints: Vec<String>) -> Self {
        let first = SessionRound { complaints, ..SessionRound::default() };
        Self { pack: Some(PackMark::of(pack)), car: None, rounds: vec![first] }
    }

    /// Gives an answer in the present round; one that was given before moves to the end.
    pub fn give(&mut self, question: &str, given: Given) {
        self.keep(question, given, false);
    }

    /// Keeps an answer of the present round: in place of one that is only corrected, else at the end.
    pub fn keep(&mut self, question: &str, given: Given, corrected: bool) {
        if let Some(round) = self.rounds.last_mut() {
            keep_answer(&mut round.answers, question.to_owned(), given, corrected);
        }
    }

    /// Notes whether a set-up of the present round is put back.
    pub fn put_back(&mut self, setup: &str, is_back: bool) {
        if let Some(round) = self.rounds.last_mut() {
            round.put_back.retain(|known| known != setup);
            if is_back {
                round.put_back.push(setup.to_owned());
            }
        }
    }

    /// Begins with other complaints; the answers stay, since they are about the car.
    pub fn complain_of(&mut self, complaints: Vec<String>) {
        if let Some(round) = self.rounds.first_mut() {
            round.complaints = complaints;
        }
    }

    /// Takes an answer back from the latest round that has one, and tells which round (from 0).
    pub fn take_back(&mut self, question: &str) -> Option<usize> {
        let rounds = self.rounds.iter_mut().enumerate().rev();
        rounds
            .filter_map(|(number, round)| round.answers.shift_remove(question).map(|_| number))
            .next()
    }

    /// Whether there is no room for another round.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.rounds.len() >= MAX_ROUNDS
    }

    /// Opens a new round behind a repair.
    pub fn open_round(&mut self, repair: &str) {
        let repair = Some(repair.to_owned());
        self.rounds.push(SessionRound { repair, ..SessionRound::default() });
    }

    /// Notes what the present round came to.
    pub fn conclude(&mut self, conclusion: &str) {
        if let Some(round) = self.rounds.last_mut() {
            round.conclusion = Some(conclusion.to_owned());
        }
    }
}
