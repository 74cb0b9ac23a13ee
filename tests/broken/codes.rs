//! Every code of a fault is raised by a test: by a broken pack of `packs/`, by a bad session of
//! `tests/session/bad/`, or here, where it takes more than one file.

use std::collections::BTreeSet;
use std::fs;

use boostwright::rules::{Code, FileText, PackSource, load};
use boostwright::session::{Problem, read_session_text};

use super::bench::SOUND;
use super::packs::culprits;

/// The codes that bad sessions are refused with, by their snapshots.
fn of_sessions() -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir("tests/session/bad").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "snap") {
            let text = fs::read_to_string(path).unwrap();
            let heads = text.lines().filter_map(|line| line.strip_prefix("error["));
            found.extend(heads.filter_map(|rest| Some(rest.split_once("]: ")?.0.to_owned())));
        }
    }
    found
}

fn text(name: &str, text: &str) -> FileText {
    FileText { name: name.to_owned(), text: text.to_owned().into() }
}

#[test]
fn a_pack_on_top_that_reweighs_those_below_unasked_is_refused() {
    let above = "strengths:\n  usually: 0.9\npack:\n  asking: 1\n";
    let packs = [("below.yaml", SOUND), ("above.yaml", above)];
    let packs = packs.map(|(name, rules)| PackSource::Texts(vec![text(name, rules)]));
    let codes: Vec<Code> =
        load(&packs).unwrap().faults.list.iter().map(|fault| fault.code()).collect();
    assert_eq!(codes, [Code::UnsaidChange, Code::UnsaidChange]);
}

#[test]
fn a_session_of_ever_more_rounds_is_refused() {
    let rounds = "- repair: new_spring\n".repeat(2_000);
    let text = format!("format: 1\nrounds:\n- complaint: too_high\n{rounds}");
    let refused = read_session_text("long.yaml", text).map(|_| ()).unwrap_err();
    let Problem::Faulty { faults } = refused.problem else { panic!("{refused}") };
    assert_eq!(
        faults.list.iter().map(|fault| fault.code()).collect::<Vec<_>>(),
        [Code::TooManyRounds]
    );
}

#[test]
fn every_code_is_raised_by_a_test() {
    let mut seen: BTreeSet<String> = of_sessions().into_iter().collect();
    seen.extend(culprits().into_values().flatten().flat_map(|told| told.into_keys()));
    // What can't happen has no test.
    let here = [Code::UnsaidChange, Code::TooManyRounds, Code::Internal, Code::Link];
    seen.extend(here.map(|code| code.name().to_owned()));
    let codes: BTreeSet<String> = Code::ALL.iter().map(|code| code.name().to_owned()).collect();
    let missing: Vec<&String> = codes.difference(&seen).collect();
    assert!(missing.is_empty(), "no test raises {missing:?}");
    let unknown: Vec<&String> = seen.difference(&codes).collect();
    assert!(unknown.is_empty(), "there is no code {unknown:?}");
}

#[test]
fn codes_are_short_names_in_the_order_of_the_alphabet() {
    let names: Vec<&str> = Code::ALL.iter().map(|code| code.name()).collect();
    assert!(names.is_sorted_by(|a, b| a < b), "{names:?}");
    let letters =
        |name: &&str| name.chars().all(|letter| letter.is_ascii_lowercase() || letter == '-');
    assert!(names.iter().all(letters), "{names:?}");
}
