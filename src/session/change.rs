//! Several answers at once, given without prompts: all of them are taken, or none.

use indexmap::IndexMap;

use super::kept::Session;
use crate::formula::nearest;
use crate::interview::Round;
use crate::rules::{Given, Pack};

/// Answers to give, and answers to take back.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Change {
    pub given: IndexMap<String, Given>,
    pub dropped: Vec<String>,
}

/// What a change came to, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed(pub Vec<String>);

impl Change {
    /// Makes the change, once all of it is known to be sound.
    ///
    /// # Errors
    /// Everything that stands against it; the session is then as it was.
    pub fn make(&self, session: &mut Session, pack: &Pack) -> Result<Changed, Vec<String>> {
        let mut refused = Vec::new();
        if let Err(answers) = Round::default().read_answers(pack, &self.given) {
            refused.extend(answers.iter().map(ToString::to_string));
        }
        let mut changed = session.clone();
        let mut done = Vec::new();
        for id in &self.dropped {
            if self.given.contains_key(id) {
                refused.push(format!("{id}: either give it or take it back, not both"));
            } else if let Some(round) = changed.take_back(id) {
                done.push(format!("{id} taken back (it was given in round {})", round + 1));
            } else {
                refused.push(not_given(session, id));
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
            let verb = if before { "changed to" } else { "kept:" };
            done.push(format!("{id} {verb} {}", in_words(given)));
        }
        *session = changed;
        Ok(Changed(done))
    }
}

fn not_given(session: &Session, id: &str) -> String {
    let answers = session.rounds.iter().flat_map(|round| round.answers.keys().map(String::as_str));
    match nearest(id, answers) {
        Some(near) => format!("{id} was not answered: did you mean {near}?"),
        None => format!("{id} was not answered, so there is nothing to take back"),
    }
}

fn in_words(given: &Given) -> String {
    match given {
        Given::Text(text) => text.clone(),
        Given::Rows(rows) => format!("a table of {} rows", rows.len()),
    }
}
