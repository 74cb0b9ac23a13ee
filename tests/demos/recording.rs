//! A recording: a file of answers in `transcripts-demo/`, taken in with the built-in rules.

use std::fs;
use std::path::PathBuf;
use std::sync::OnceLock;

use boostwright::interview::{Round, fold};
use boostwright::report::{conclude, html, json, json_in_brief, screen, short_sheet, text};
use boostwright::session::{read_session, take};
use serde_json::Value;

use crate::built_in::built_in;
use crate::project::root;

/// One recorded interview.
pub(super) struct Recording {
    /// The file's name without its ending.
    pub(super) name: String,
    pub(super) rounds: Vec<Round>,
}

impl Recording {
    /// The recording of this name.
    pub(super) fn of(name: &str) -> Self {
        let path = folder().join(name).with_extension("yaml");
        let (session, source) = read_session(&path).unwrap();
        let taken = take(&session, &source, built_in())
            .unwrap_or_else(|faults| panic!("{}", faults.draw(false).join("\n")));
        Self { name: name.to_owned(), rounds: taken.rounds }
    }

    /// The recording of this name with some of its text replaced.
    pub(super) fn altered(name: &str, changes: &[(&str, &str)]) -> Self {
        let mut text = fs::read_to_string(folder().join(name).with_extension("yaml")).unwrap();
        for (from, to) in changes {
            assert_eq!(text.matches(from).count(), 1, "{from}");
            text = text.replace(from, to);
        }
        let place = tempfile::tempdir().unwrap();
        let path = place.path().join("altered.yaml");
        fs::write(&path, text).unwrap();
        Self::of(path.to_str().unwrap())
    }

    /// The JSON form of what a round came to.
    pub(super) fn told(&self, round: usize) -> Value {
        self.concluded(round).json
    }

    /// What was concluded at the end of a round, counted from 1.
    fn concluded(&self, round: usize) -> Concluded {
        let repair = self.rounds[round - 1].repair;
        let state = fold(built_in(), &self.rounds[..round], None);
        let conclusion = conclude(&state, repair);
        Concluded {
            name: self.name.clone(),
            round,
            last: round == self.rounds.len(),
            json: serde_json::from_str(&json(&conclusion)).unwrap(),
            text: text(&conclusion, 80).into(),
            screen: screen(&conclusion, &commands(conclusion.clear), 80).into(),
            sheet: short_sheet(&state, &conclusion, ("boost.yaml", None), 80).into(),
            brief: json_in_brief(&conclusion),
            html: html(&conclusion).into(),
        }
    }
}

/// What one round of a recording came to.
pub(super) struct Concluded {
    pub(super) name: String,
    /// From 1.
    pub(super) round: usize,
    pub(super) last: bool,
    pub(super) json: Value,
    pub(super) text: String,
    /// The first page, on a screen of 80 columns.
    pub(super) screen: String,
    /// What to print for the garage, in 80 columns.
    pub(super) sheet: String,
    /// The JSON form as `show` prints it.
    pub(super) brief: String,
    pub(super) html: String,
}

/// Every round of every recording, concluded once for all tests.
pub(super) fn conclusions() -> &'static [Concluded] {
    static ALL: OnceLock<Vec<Concluded>> = OnceLock::new();
    ALL.get_or_init(|| {
        let conclude = |recording: Recording| {
            let rounds = 1..=recording.rounds.len();
            rounds.map(|round| recording.concluded(round)).collect::<Vec<_>>()
        };
        all().into_iter().flat_map(conclude).collect()
    })
}

/// The JSON form of what a round of a recording came to.
pub(super) fn concluded(name: &str, round: usize) -> &'static Value {
    let found = conclusions().iter().find(|one| one.name == name && one.round == round);
    &found.unwrap_or_else(|| panic!("no round {round} of {name}")).json
}

/// The text form of what a round of a recording came to.
pub(super) fn told(name: &str, round: usize) -> &'static str {
    let found = conclusions().iter().find(|one| one.name == name && one.round == round);
    &found.unwrap_or_else(|| panic!("no round {round} of {name}")).text
}

/// The names of all recordings, sorted.
pub(super) fn names() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// All recordings.
pub(super) fn all() -> Vec<Recording> {
    names().iter().map(|name| Recording::of(name)).collect()
}

pub(super) fn folder() -> PathBuf {
    root().join("transcripts-demo")
}

/// As many commands as the program names at most, as long as a file's name makes them.
fn commands(is_clear: bool) -> Vec<String> {
    let command = "everything: boostwright show --full transcripts-demo/a_long_name.yaml";
    vec![command.into(); if is_clear { 3 } else { 4 }]
}
