//! `pack list`: every entry with where it stands, and whose it is.

use std::fs;

use boostwright::rules::{PackSource, load, load_to_walk};
use tempfile::TempDir;

use super::outcome;

const BELOW: &str = "\
pack: {name: the lower one, version: 2}
complaints:
  too_high: {title: Boost too high, start: conclude}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
  clamp: {text: Is the clamp tight?, answer: yes_or_no}
";

const ABOVE: &str = "\
pack:
  name: the upper one
  replaces: [clamp]
questions:
  clamp:
    text: Is the clamp really tight?
    answer: yes_or_no
strengths: {now_and_then: 1 in 3}
";

/// Two packs beside one another.
fn packs() -> TempDir {
    let folder = TempDir::new().unwrap();
    for (name, rules) in [("below", BELOW), ("above", ABOVE)] {
        fs::create_dir(folder.path().join(name)).unwrap();
        fs::write(folder.path().join(name).join("rules.yaml"), rules).unwrap();
    }
    folder
}

#[test]
fn every_entry_of_the_stack_has_its_file_line_and_pack() {
    let folder = packs();
    let listed = ["pack", "list", "--only", "--pack", "below", "--pack", "above"];
    let (code, out, err) = outcome(folder.path(), &listed);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("the lower one 2\nthe upper one\n"), "{out}");
    for line in [
        "complaints       1",
        "  too_high  below/rules.yaml:3  the lower one",
        "questions        2",
        "  hose   below/rules.yaml:5  the lower one",
        "  clamp  above/rules.yaml:5  the upper one, replaces below/rules.yaml:6 of the lower one",
        "strengths        1",
        "  now_and_then  above/rules.yaml:8  the upper one",
        "causes           0",
    ] {
        assert!(out.lines().any(|said| said == line), "no {line:?} in\n{out}");
    }
}

#[test]
fn one_pack_alone_is_not_named_at_every_entry() {
    let folder = packs();
    let (code, out, _) = outcome(folder.path(), &["pack", "list", "--only", "below"]);
    assert_eq!(code, 0);
    assert!(out.lines().any(|said| said == "  hose   below/rules.yaml:5"), "{out}");
}

#[test]
fn every_entry_of_the_built_in_pack_stands_where_it_is_said_to_stand() {
    let loaded = load(&[PackSource::BuiltIn]).unwrap();
    let places = loaded.faults.positions_of(loaded.origins.iter().map(|origin| &origin.place));
    for (origin, place) in loaded.origins.iter().zip(&places) {
        let file = loaded.faults.files.iter().find(|file| file.name == place.file).unwrap();
        let line = file.text.lines().nth(place.line - 1).unwrap();
        let word: String =
            line.chars().skip(place.column - 1).take(place.end.1 - place.column).collect();
        assert_eq!(word, origin.id, "{place:?}");
    }
    let pack = &loaded.pack;
    let counted =
        |section| loaded.origins.iter().filter(|origin| origin.section == section).count();
    assert_eq!(counted("questions"), pack.questions.len());
    assert_eq!(counted("causes"), pack.causes.len());
    assert_eq!(counted("cases"), pack.cases.len());
}

#[test]
fn an_interview_walks_the_same_rules_without_their_cases() {
    let sources = [PackSource::BuiltIn];
    let mut all = load(&sources).unwrap().pack;
    let walked = load_to_walk(&sources).unwrap();
    assert!(walked.faults.list.is_empty());
    assert!(walked.pack.cases.is_empty() && !all.cases.is_empty());
    all.cases.clear();
    assert_eq!(format!("{:?}", walked.pack), format!("{all:?}"));
}

#[test]
fn names_of_strangers_drive_no_terminal() {
    let folder = TempDir::new().unwrap();
    let rules = "pack: {name: \"a\\e[31mb\"}\nstrengths: {\"c\\e[0md\": 0.5}\n";
    fs::write(folder.path().join("rules.yaml"), rules).unwrap();
    let (_, out, _) = outcome(folder.path(), &["pack", "list", "--only", "."]);
    assert!(out.contains("a\u{fffd}[31mb") && out.contains("c\u{fffd}[0md"), "{out}");
    assert!(!out.contains('\u{1b}'));
}
