//! Several answers at once, given without prompts: all of them are taken, or none.

use std::fmt;

use indexmap::IndexMap;

use super::kept::Session;
use crate::formula::nearest;
use crate::interview::{Refused, Round};
use crate::rules::{Given, Pack};

/// Answers to give, and answers to take back.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Change {
    pub given: IndexMap<String, Given>,
    pub dropped: Vec<String>,
}

/// Something that a change did.
#[derive(Debug, Clone, PartialEq)]
pub enum Done {
    /// `round` counts from 1.
    TakenBack {
        id: String,
        round: usize,
    },
    Kept {
        id: String,
        given: Given,
    },
    Changed {
        id: String,
        given: Given,
    },
}

/// Why a change can't be made.
#[derive(Debug, Clone, PartialEq)]
pub enum NotChanged {
    Refused(Refused),
    GivenAndDropped { id: String },
    NotGiven { id: String, near: Option<String> },
}

impl Change {
    /// Makes the change, once all of it is known to be sound.
    ///
    /// # Errors
    /// Everything that stands against it; the session is then as it was.
    pub fn make(&self, session: &mut Session, pack: &Pack) -> Result<Vec<Done>, Vec<NotChanged>> {
        let read = Round::default().read_answers(pack, &self.given);
        let mut refused: Vec<NotChanged> =
            read.err().into_iter().flatten().map(NotChanged::Refused).collect();
        let mut changed = session.clone();
        let mut done = Vec::new();
        for id in &self.dropped {
            if self.given.contains_key(id) {
                refused.push(NotChanged::GivenAndDropped { id: id.clone() });
            } else if let Some(round) = changed.take_back(id) {
                done.push(Done::TakenBack { id: id.clone(), round: round + 1 });
            } else {
                let rounds = session.rounds.iter();
                let answers = rounds.flat_map(|round| round.answers.keys().map(String::as_str));
                let near = nearest(id, answers).map(str::to_owned);
                refused.push(NotChanged::NotGiven { id: id.clone(), near });
            }
        }
        if !refused.is_empty() {
            return Err(refused);
        }
        for (id, given) in &self.given {
            let before = changed.rounds.last().is_some_and(|round| round.answers.contains_key(id));
            changed.give(id, given.clone());
            let asked = pack.questions.find(id).map(|question| &pack.questions[question]);
            if let Some(setup) = asked.and_then(|asked| asked.setup) {
                changed.put_back(pack.setups.id(setup), false);
            }
            let (id, given) = (id.clone(), given.clone());
            done.push(if before { Done::Changed { id, given } } else { Done::Kept { id, given } });
        }
        *session = changed;
        Ok(done)
    }
}

impl fmt::Display for Done {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TakenBack { id, round } => {
                write!(f, "{id} taken back (it was given in round {round})")
            }
            Self::Kept { id, given } => write!(f, "{id} kept: {}", in_words(given)),
            Self::Changed { id, given } => write!(f, "{id} changed to {}", in_words(given)),
        }
    }
}

impl fmt::Display for NotChanged {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused(refused) => refused.fmt(f),
            Self::GivenAndDropped { id } => {
                write!(f, "{id}: give it or take it back, not both")
            }
            Self::NotGiven { id, near: Some(near) } => {
                write!(f, "{id} was not answered: did you mean {near}?")
            }
            Self::NotGiven { id, near: None } => {
                write!(f, "{id} was not answered, so there is nothing to take back")
            }
        }
    }
}

impl std::error::Error for NotChanged {}

fn in_words(given: &Given) -> String {
    match given {
        Given::Text(text) => text.clone(),
        Given::Picked(ids) if ids.is_empty() => "none".to_owned(),
        Given::Picked(ids) => ids.join(", "),
        Given::Rows(rows) => format!("a table of {} rows", rows.len()),
    }
}
