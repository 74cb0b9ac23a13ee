//! How long a large pack takes, of several times the size of the built-in one: loaded from a
//! folder, so that it is read as YAML, checked, linked and linted in full. The rules are invented
//! and mean nothing.

#![allow(clippy::expect_used, reason = "a bench that cannot go on has nothing to measure")]

use std::fmt::Write as _;
use std::fs;

use boostwright::rules::{Loaded, PackSource, load};
use tempfile::TempDir;

const QUESTIONS: usize = 2000;
const CAUSES: usize = 500;
const FINDINGS: usize = 3000;
/// As many as the largest of the built-in files has, or so.
const ENTRIES_IN_A_FILE: usize = 100;

fn main() {
    divan::main();
}

/// To be had in less than half a second.
#[divan::bench(sample_count = 10)]
fn load_2000_questions_500_causes_3000_findings(bencher: divan::Bencher<'_, '_>) {
    let folder = large();
    bencher.bench_local(|| {
        let loaded = loaded(&folder);
        assert!(loaded.faults.list.is_empty(), "{:?}", loaded.faults.draw(false).first());
        loaded
    });
}

/// The same with more mistakes than are told.
#[divan::bench(sample_count = 10)]
fn find_what_is_wrong_with_it(bencher: divan::Bencher<'_, '_>) {
    let folder = large();
    for file in fs::read_dir(folder.path()).expect("the folder is there") {
        let path = file.expect("a file").path();
        let rules = fs::read_to_string(&path).expect("it reads");
        let wrong = rules.replace("often", "oftn").replace("measure_1", "mesure_1");
        fs::write(&path, wrong).expect("it can be written");
    }
    bencher.bench_local(|| {
        let drawn = loaded(&folder).faults.draw(false);
        assert!(!drawn.is_empty());
        drawn
    });
}

fn loaded(folder: &TempDir) -> Loaded {
    load(&[PackSource::Folder(folder.path().to_owned())]).expect("the folder can be read")
}

/// A sound pack in a folder.
fn large() -> TempDir {
    let folder = TempDir::new().expect("a folder can be made");
    let mut head =
        "complaints:\n  a_complaint: {title: Something is wrong, start: look}\n".to_owned();
    head.push_str("steps:\n  look: {ask: [measure_0], then: [{go: conclude}]}\n");
    save(&folder, "head", &head);
    section(&folder, "questions", QUESTIONS, question);
    section(&folder, "findings", FINDINGS, finding);
    section(&folder, "causes", CAUSES, cause);
    section(&folder, "repairs", CAUSES, repair);
    folder
}

fn section(folder: &TempDir, name: &str, count: usize, entry: fn(usize) -> String) {
    for first in (0..count).step_by(ENTRIES_IN_A_FILE) {
        let entries = (first..count.min(first + ENTRIES_IN_A_FILE)).map(entry);
        let rules: String = std::iter::once(format!("{name}:\n")).chain(entries).collect();
        save(folder, &format!("{name}_{first}"), &rules);
    }
}

fn save(folder: &TempDir, name: &str, rules: &str) {
    let path = folder.path().join(format!("{name}.yaml"));
    fs::write(path, rules).expect("a file can be written");
}

/// Every other one is a measurement.
fn question(index: usize) -> String {
    let (id, answer) = if index.is_multiple_of(2) {
        ("measure", "{measure: gauge_pressure, from: 0 bar, to: 3 bar, uncertainty: 0.02 bar}")
    } else {
        ("look", "yes_or_no")
    };
    format!(
        "  {id}_{index}:\n    text: What does part {index} of the car look like, or read?\n    \
         answer: {answer}\n    how: >-\n      Engine off and cold. Look at it from both sides, with \
         a good light, and feel along\n      its edge, as far as a hand gets to.\n    why: A part \
         that gives way lets the boost out, or holds it down.\n    minutes: {}\n",
        1 + index % 20
    )
}

/// Of three, two read one question and one reads two.
fn finding(index: usize) -> String {
    let measured = 2 * (index % (QUESTIONS / 2));
    let when = match index % 3 {
        0 => format!("measure_{measured} > {}.{} bar", index % 2, 1 + index % 9),
        1 => format!("look_{}", measured + 1),
        _ => format!("look_{} and measure_{measured} < 1.2 bar", measured + 1),
    };
    format!(
        "  finding_{index}:\n    when: {when}\n    says: Part {index} gives way.\n    leak: 2 in 100\n"
    )
}

/// Brings thirteen findings: its own six, and seven that others bring too.
fn cause(index: usize) -> String {
    const OWN: usize = FINDINGS / CAUSES;
    let mut rules = format!(
        "  cause_{index}:\n    title: Part {index} is worn or broken\n    common: {} in 1000\n    \
         about: It gives way under boost.\n    brings:\n",
        1 + index % 30
    );
    let own = OWN * index..OWN * (index + 1);
    let others = (1..=7).map(|step| (OWN * index + OWN + 397 * step) % FINDINGS);
    for finding in own.chain(others) {
        let word = ["usually", "often", "sometimes"][finding % 3];
        let _ = writeln!(rules, "      finding_{finding}: {word}");
    }
    let _ = writeln!(rules, "    confirmed_by: [look_{}]", 2 * index + 1);
    rules
}

fn repair(index: usize) -> String {
    format!(
        "  repair_{index}:\n    title: Renew part {index}\n    mends: [cause_{index}]\n    \
         minutes: 40\n    invalidates: [measure_{}]\n",
        2 * index
    )
}
