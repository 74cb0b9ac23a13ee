//! A small pack, a store in memory, and a conversation held by a script.

use std::path::PathBuf;

use boostwright::interview::{Round, keep_answer};
use boostwright::rules::{Given, Pack, PackSource, load};
use boostwright::terminal::{AnswerStore, Ended, Finish, NotKept, Scope, Script, Talk};
use indexmap::IndexMap;

/// The small pack's folder.
pub(super) fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/terminal/pack")
}

pub(super) fn garage() -> Pack {
    loaded(&[PackSource::Folder(folder())])
}

pub(super) fn loaded(sources: &[PackSource]) -> Pack {
    let loaded = load(sources).unwrap();
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    loaded.pack
}

/// Keeps answers in memory; refuses those to one question where told to.
#[derive(Default)]
pub(super) struct Memory {
    pub(super) kept: IndexMap<String, Given>,
    pub(super) refuses: Option<&'static str>,
}

impl Memory {
    /// Ids and answers in their order, rows of a table in braces.
    pub(super) fn lines(&self) -> Vec<String> {
        self.kept
            .iter()
            .map(|(id, given)| match given {
                Given::Text(text) => format!("{id}={text}"),
                Given::Picked(ids) => format!("{id}=[{}]", ids.join(", ")),
                Given::Rows(rows) => {
                    let rows: Vec<String> = rows
                        .iter()
                        .map(|row| row.values().cloned().collect::<Vec<_>>().join(", "))
                        .collect();
                    format!("{id}={{{}}}", rows.join("; "))
                }
            })
            .collect()
    }
}

impl AnswerStore for Memory {
    fn keep(&mut self, question: &str, given: &Given, corrected: bool) -> Result<(), NotKept> {
        if self.refuses == Some(question) {
            return Err("the disk is full".into());
        }
        keep_answer(&mut self.kept, question.to_owned(), given.clone(), corrected);
        Ok(())
    }

    fn put_back(&mut self, _setup: &str, _is_back: bool) -> Result<(), NotKept> {
        Ok(())
    }

    fn given(&self, question: &str) -> Option<&Given> {
        self.kept.get(question)
    }
}

/// How a conversation went.
pub(super) struct Held {
    pub(super) end: Result<Finish, Ended>,
    pub(super) said: String,
    pub(super) memory: Memory,
}

impl Held {
    /// How often a text was said, whatever the lines it was wrapped to.
    pub(super) fn times(&self, text: &str) -> usize {
        flat(&self.said).matches(&flat(text)).count()
    }

    pub(super) fn says(&self, text: &str) -> bool {
        self.times(text) > 0
    }

    /// What was said after the last time this was.
    pub(super) fn after(&self, text: &str) -> String {
        let said = flat(&self.said);
        let at = said.rfind(&flat(text)).unwrap_or_else(|| panic!("{text} not in:\n{}", self.said));
        said[at..].to_owned()
    }
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A first round on the first complaint.
pub(super) fn first_round(pack: &Pack) -> Vec<Round> {
    let complaints = pack.complaints.indices().take(1).collect();
    vec![Round { complaints, ..Round::default() }]
}

/// A conversation from the start.
pub(super) fn talk(pack: &Pack, lines: &[&str]) -> Held {
    go_on(pack, Memory::default(), lines)
}

/// A conversation that goes on with what was kept.
pub(super) fn go_on(pack: &Pack, memory: Memory, lines: &[&str]) -> Held {
    let mut rounds = first_round(pack);
    rounds[0].read_answers(pack, &memory.kept).unwrap();
    talk_on(pack, rounds, Scope::Everything, memory, lines)
}

pub(super) fn talk_on(
    pack: &Pack,
    rounds: Vec<Round>,
    scope: Scope,
    mut memory: Memory,
    lines: &[&str],
) -> Held {
    let mut script = Script::new(lines.iter().copied(), 80);
    let mut talk = Talk::new(pack, rounds, scope, &mut script, &mut memory);
    let end = talk.run();
    drop(talk);
    Held { end, said: script.transcript.clone(), memory }
}
