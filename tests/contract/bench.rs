//! A pack and a file of answers on the disk, replayed in this process or by the program itself.

use std::fs;
use std::path::PathBuf;

use assert_cmd::Command;
use boostwright::interview::fold;
use boostwright::report::{conclude, json};
use boostwright::rules::{Loaded, PackSource, load};
use boostwright::session::{read_session, take};
use serde_json::Value;
use tempfile::TempDir;

/// A folder with a pack in one file, and room for answers.
pub(super) struct Bench {
    folder: TempDir,
}

impl Bench {
    pub(super) fn new(pack: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("pack")).expect("a folder");
        fs::write(folder.path().join("pack/rules.yaml"), pack).expect("a file");
        Self { folder }
    }

    pub(super) fn pack(&self) -> PathBuf {
        self.folder.path().join("pack")
    }

    /// The pack alone, whatever is wrong with it.
    pub(super) fn loaded(&self) -> Loaded {
        load(&[PackSource::Folder(self.pack())]).expect("a readable folder")
    }

    /// What a replay of these answers prints with this pack alone.
    pub(super) fn replay(&self, answers: &str) -> Value {
        self.replay_over(&[], answers)
    }

    /// The same with this pack laid over the built-in one.
    pub(super) fn replay_over_built_in(&self, answers: &str) -> Value {
        self.replay_over(&[PackSource::BuiltIn], answers)
    }

    fn replay_over(&self, below: &[PackSource], answers: &str) -> Value {
        let mut sources = below.to_vec();
        sources.push(PackSource::Folder(self.pack()));
        let loaded = load(&sources).expect("a readable folder");
        assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
        let pack = loaded.pack;
        let (session, source) = read_session(&self.answers(answers)).expect("readable answers");
        let taken = take(&session, &source, &pack)
            .unwrap_or_else(|faults| panic!("{}", faults.draw(false).join("\n")));
        let state = fold(&pack, &taken.rounds, None);
        let repair = taken.rounds.last().and_then(|round| round.repair);
        serde_json::from_str(&json(&conclude(&state, repair))).expect("JSON")
    }

    /// Writes answers into a file of their own.
    pub(super) fn answers(&self, answers: &str) -> PathBuf {
        let path = self.folder.path().join("answers.yaml");
        fs::write(&path, answers).expect("a file");
        path
    }

    /// `boostwright replay` of these answers with this pack alone.
    pub(super) fn replay_command(&self, answers: &str) -> Command {
        let mut command = program();
        command.arg("replay").arg(self.answers(answers));
        command.args(["--only", "--form", "json", "--pack"]).arg(self.pack());
        command
    }
}

/// The program, in an empty environment.
pub(super) fn program() -> Command {
    let mut command = Command::cargo_bin("boostwright").expect("the program");
    command.env_clear();
    command
}

/// The ids under a key that holds a list of them.
pub(super) fn ids<'v>(conclusion: &'v Value, key: &str) -> Vec<&'v str> {
    list(conclusion, key).iter().map(|id| id.as_str().expect("an id")).collect()
}

pub(super) fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("no list {key} in {value}"))
}

/// The entry with this id under a key that holds a list of entries.
pub(super) fn entry<'v>(conclusion: &'v Value, key: &str, id: &str) -> &'v Value {
    let found = list(conclusion, key).iter().find(|entry| entry["id"] == id);
    found.unwrap_or_else(|| panic!("no {id} under {key} in {conclusion}"))
}

pub(super) fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number {key} in {value}"))
}

/// The probability printed for a finding.
pub(super) fn finding(conclusion: &Value, id: &str) -> Option<f64> {
    entry(conclusion, "findings", id)["probability"].as_f64()
}

/// The probability printed for a cause.
pub(super) fn cause(conclusion: &Value, id: &str) -> f64 {
    number(entry(conclusion, "causes", id), "probability")
}

pub(super) fn next(conclusion: &Value) -> Option<&str> {
    conclusion["next_question"]["id"].as_str()
}
