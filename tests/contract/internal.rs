//! What should never happen in the program is said as such: not as a clash of answers, nor as an
//! interview that has nothing left to ask.

use boostwright::interview::{Answer, Round, fold, next_work};
use boostwright::ranking::Network;
use boostwright::report::{conclude, json, text};
use boostwright::rules::{Pack, PackSource, load};
use serde_json::Value;

const HOSES: &str = "
complaints:
  too_high: {title: Boost too high, start: look, shows: [over]}
questions:
  over_it: {text: Is it over?, answer: yes_or_no}
  hose: {text: Is the hose whole?, answer: yes_or_no}
findings:
  over: {when: over_it, says: It is over, leak: 0.02}
  hose_open: {when: not hose, says: The hose is open, leak: 0.02}
causes:
  hose_off: {title: The hose is off, common: 0.04, brings: {hose_open: 0.9, over: 0.9}}
repairs:
  hose_on: {title: Put the hose on, mends: [hose_off]}
steps:
  look: {ask: [over_it, hose], then: [{go: conclude}]}
";

/// A pack that links well, but is ranked with a network that knows none of its findings, as if linking
/// had failed unseen.
fn spoilt_pack() -> Pack {
    let file = boostwright::rules::FileText { name: "rules.yaml".to_owned(), text: HOSES.into() };
    let loaded = load(&[PackSource::Texts(vec![file])]).unwrap();
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    let mut pack = loaded.pack;
    pack.network = Network::new(pack.network.priors().to_vec(), Vec::new()).unwrap();
    pack
}

fn first_round(pack: &Pack) -> Round {
    let complaints = pack.complaints.indices().take(1).collect();
    let mut round = Round { complaints, ..Round::default() };
    let question = pack.questions.indices().next().unwrap();
    round.give(question, Answer::Truth(true));
    round
}

#[test]
fn a_ranking_that_is_refused_asks_to_be_reported() {
    let pack = spoilt_pack();
    let state = fold(&pack, &[first_round(&pack)], None);
    let conclusion = conclude(&state, None);
    let page = text(&conclusion, 80);
    assert!(page.contains("Please report it"), "{page}");
    assert!(!page.contains("clash"), "{page}");
    let json: Value = serde_json::from_str(&json(&conclusion)).unwrap();
    assert_eq!(json["contradiction"], Value::Null);
    assert!(json["internal_error"].as_str().unwrap().contains("Please report it"));
    assert!(next_work(&state).is_err());
    assert_eq!(state.walk.next, None, "nobody is asked on");
}

#[test]
fn a_sound_pack_gives_no_such_error() {
    let file = boostwright::rules::FileText { name: "rules.yaml".to_owned(), text: HOSES.into() };
    let pack = load(&[PackSource::Texts(vec![file])]).unwrap().pack;
    let state = fold(&pack, &[first_round(&pack)], None);
    let json: Value = serde_json::from_str(&json(&conclude(&state, None))).unwrap();
    assert_eq!(json.get("internal_error"), None);
    assert!(next_work(&state).is_ok());
}
