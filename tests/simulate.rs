//! The simulated bench, on a pack small enough to be worked out by hand.

use std::fs;

use boostwright::interview::{Conditions, simulate};
use boostwright::rules::{Pack, PackSource, load};

/// Two causes, each with a finding of its own that is never wrong: one question settles it.
const TWO_SURE_CAUSES: &str = "
pack: {name: two sure causes}
complaints:
  too_high: {title: Too high, start: look, shows: [high]}
questions:
  is_high: {text: 'Is it high?', answer: yes_or_no}
  hose_off: {text: 'Is the hose off?', answer: yes_or_no, minutes: 2}
  rod_stuck: {text: 'Does the rod stick?', answer: yes_or_no, minutes: 20}
findings:
  high: {when: is_high, leak: 0}
  hose_seen_off: {when: hose_off, leak: 0}
  rod_seen_stuck: {when: rod_stuck, leak: 0}
causes:
  hose: {title: Hose, common: 0.1, brings: {high: 1, hose_seen_off: 1}}
  rod: {title: Rod, common: 0.1, brings: {high: 1, rod_seen_stuck: 1}}
repairs:
  new_hose: {title: New hose, mends: [hose]}
  new_rod: {title: New rod, mends: [rod]}
steps:
  look:
    ask_best_of: [rod_stuck, hose_off]
    until: clear
    then: [{go: conclude}]
";

const TRUTHFUL: Conditions =
    Conditions { wrong_answers: 0.0, strengths_off: 1.0, fixed_order: false };

/// One cause, and a step that asks for what the complaint shows.
const ASKED_FOR_THE_COMPLAINT: &str = "
pack: {name: asked for the complaint}
complaints:
  too_high: {title: Too high, start: look, shows: [high]}
questions:
  is_high: {text: 'Is it high?', answer: yes_or_no, minutes: 3}
findings:
  high: {when: is_high, leak: 0}
causes:
  hose: {title: Hose, common: 0.1, brings: {high: 1}}
repairs:
  new_hose: {title: New hose, mends: [hose]}
steps:
  look: {ask: [is_high], then: [{go: conclude}]}
";

fn pack() -> Pack {
    loaded(TWO_SURE_CAUSES)
}

fn loaded(text: &str) -> Pack {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("pack.yaml"), text).unwrap();
    let loaded = load(&[PackSource::Folder(folder.path().to_path_buf())]).unwrap();
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    loaded.pack
}

#[test]
fn sure_findings_and_true_answers_always_find_the_cause() {
    let pack = pack();
    let complaint = pack.complaints.find("too_high").unwrap();
    let found = simulate(&pack, complaint, TRUTHFUL, 100, 7);
    assert_eq!(found.runs, 100);
    assert_eq!(found.first, 100);
    assert_eq!(found.among_three, 100);
}

#[test]
fn the_cheap_question_of_two_alike_comes_first_and_saves_time() {
    let pack = pack();
    let complaint = pack.complaints.find("too_high").unwrap();
    let by_worth = simulate(&pack, complaint, TRUTHFUL, 100, 7);
    let in_order = simulate(&pack, complaint, Conditions { fixed_order: true, ..TRUTHFUL }, 100, 7);
    // Hose or rod, equally likely: by worth the hose (2 min) is asked first and a yes is enough;
    // in the files' order the rod (20 min) comes first.
    assert!(by_worth.median_minutes() < in_order.median_minutes());
    assert!(by_worth.minutes.contains(&2.0), "{:?}", by_worth.minutes);
}

#[test]
fn the_same_seed_draws_the_same_cars() {
    let pack = pack();
    let complaint = pack.complaints.find("too_high").unwrap();
    let doubtful = Conditions { wrong_answers: 0.3, strengths_off: 2.0, ..TRUTHFUL };
    let once = simulate(&pack, complaint, doubtful, 50, 11);
    assert_eq!(once, simulate(&pack, complaint, doubtful, 50, 11));
    assert_ne!(once, simulate(&pack, complaint, doubtful, 50, 12));
}

#[test]
fn every_chance_falls_into_one_bin_of_the_calibration() {
    let pack = pack();
    let complaint = pack.complaints.find("too_high").unwrap();
    let found = simulate(&pack, complaint, Conditions { wrong_answers: 0.1, ..TRUTHFUL }, 60, 3);
    let counted: usize = found.calibration.iter().map(|bin| bin.causes).sum();
    assert_eq!(counted, 60 * pack.causes.len());
}

/// Of a thousand first looks at one in five wrong, 200 deny the complaint, give or take 13.
#[test]
fn what_denies_the_complaint_is_looked_at_once_more_and_takes_its_minutes_again() {
    let pack = loaded(ASKED_FOR_THE_COMPLAINT);
    let complaint = pack.complaints.find("too_high").unwrap();
    let found = simulate(&pack, complaint, Conditions { wrong_answers: 0.2, ..TRUTHFUL }, 1000, 5);
    let took = |minutes: f64| found.minutes.iter().filter(|m| (**m - minutes).abs() < 1e-9).count();
    let twice = took(6.0);
    assert!((150..=250).contains(&twice), "{twice}");
    assert_eq!(took(3.0) + twice, 1000);
    let truthful = simulate(&pack, complaint, TRUTHFUL, 100, 5);
    assert!(truthful.minutes.iter().all(|minutes| (minutes - 3.0).abs() < 1e-9));
}
