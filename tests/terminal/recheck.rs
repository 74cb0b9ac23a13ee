//! After a repair: the repair is chosen, only what it made stale is asked, the verdict has numbers.

use boostwright::interview::{Outcome, Round, fold, verdict};
use boostwright::rules::{Given, Pack, PackSource};
use boostwright::terminal::{Finish, Scope, Script, choose_repair};

use super::garage::{Held, Memory, first_round, folder, garage, loaded, talk_on};

/// A first round with these answers, closed by a repair.
fn repaired(pack: &Pack, answers: &[(&str, &str)], repair: &str) -> Vec<Round> {
    let mut rounds = first_round(pack);
    let given = answers
        .iter()
        .map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())))
        .collect();
    rounds[0].read_answers(pack, &given).unwrap();
    rounds.push(Round { repair: pack.repairs.find(repair), ..Round::default() });
    rounds
}

const HOSE_OFF: [(&str, &str); 3] =
    [("hose_sound", "no"), ("needle", "climbs"), ("opens_at", "0.42 bar")];

fn recheck(rounds: Vec<Round>, lines: &[&str]) -> Held {
    talk_on(&garage(), rounds, Scope::Again, Memory::default(), lines)
}

#[test]
fn only_what_the_repair_made_stale_and_what_it_is_judged_by_is_asked() {
    let pack = garage();
    let held = recheck(repaired(&pack, &HOSE_OFF, "new_hose"), &["y", "0.5 bar", ""]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert_eq!(held.memory.lines(), ["hose_sound=yes", "peak=0.5 bar"]);
}

#[test]
fn a_stale_question_that_was_never_answered_is_not_asked() {
    let pack = garage();
    let answers = [("hose_sound", "yes"), ("gate_sticks", "yes"), ("peak", "0.9 bar")];
    let held = recheck(repaired(&pack, &answers, "free_gate"), &["n", "0.5 bar", ""]);
    assert_eq!(held.memory.lines(), ["gate_sticks=no", "peak=0.5 bar"], "{}", held.said);
}

#[test]
fn no_pull_is_asked_for_while_the_repair_has_not_held() {
    let pack = garage();
    let held = recheck(repaired(&pack, &HOSE_OFF, "new_hose"), &["n"]);
    assert_eq!(held.end, Ok(Finish::Done), "{}", held.said);
    assert_eq!(held.memory.lines(), ["hose_sound=no"]);
    assert!(held.says("!! STOP: No boost until the hose is whole."));
}

#[test]
fn why_says_that_the_repair_may_have_changed_it() {
    let pack = garage();
    let held = recheck(repaired(&pack, &HOSE_OFF, "new_hose"), &["why", "s"]);
    assert!(held.says("The repair may have changed this."), "{}", held.said);
}

/// 0.5 bar is far below the 0.7 bar under which the complaint is gone.
#[test]
fn the_verdict_has_the_numbers_before_and_after_and_what_was_predicted() {
    let pack = garage();
    let answers = [HOSE_OFF[0], HOSE_OFF[1], HOSE_OFF[2], ("peak", "0.9 bar")];
    let mut rounds = repaired(&pack, &answers, "new_hose");
    let given = [("hose_sound", "yes"), ("peak", "0.5 bar")]
        .iter()
        .map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())))
        .collect();
    rounds[1].read_answers(&pack, &given).unwrap();
    let state = fold(&pack, &rounds, None);
    let verdict = verdict(&state, rounds[1].repair).unwrap();
    assert_eq!(verdict.outcome, Outcome::Cured);
    let bar = |figure: Option<boostwright::interview::Figure>| figure.unwrap().value / 1e5;
    assert!((bar(verdict.before) - 0.9).abs() < 1e-9);
    assert!((bar(verdict.after) - 0.5).abs() < 1e-9);
    assert!((bar(verdict.predicted) - 0.52).abs() < 1e-9, "opens at 0.42 bar, plus 0.1 bar");
}

#[test]
fn the_repair_that_the_conclusion_proposes_stands_first() {
    let pack = garage();
    let first = |answers: &[(&str, &str)]| {
        let rounds = repaired(&pack, answers, "new_hose");
        let state = fold(&pack, &rounds[..1], None);
        let mut script = Script::new(["1"], 80);
        let chosen = choose_repair(&mut script, &state).unwrap().unwrap();
        pack.repairs.id(chosen).to_owned()
    };
    assert_eq!(first(&[("hose_sound", "no"), ("gate_sticks", "no")]), "new_hose");
    assert_eq!(first(&[("hose_sound", "yes"), ("gate_sticks", "yes")]), "free_gate");
}

#[test]
fn of_many_repairs_the_likeliest_come_first_and_the_others_when_asked_for() {
    let pack = loaded(&[PackSource::BuiltIn]);
    let complaint = pack.complaints.indices().take(1).collect();
    let rounds = vec![Round { complaints: complaint, ..Round::default() }];
    let state = fold(&pack, &rounds, None);
    let chosen = |lines: &[&str]| {
        let mut script = Script::new(lines.iter().copied(), 80);
        choose_repair(&mut script, &state).unwrap()
    };
    let likeliest = chosen(&["1"]);
    assert!(likeliest.is_some());
    assert_eq!(chosen(&["7", "1"]), likeliest, "all of them, the likeliest still first");
    assert_eq!(chosen(&["7", "b", "1"]), likeliest, "and back to the few");
    let mut by_number: Vec<_> = (1..=pack.repairs.len())
        .map(|number| chosen(&["7", &number.to_string()]).unwrap())
        .collect();
    by_number.sort_unstable();
    by_number.dedup();
    assert_eq!(by_number.len(), pack.repairs.len(), "every one can be chosen by its number");
}

#[test]
fn what_the_repair_calls_for_is_told_before_anything_is_asked_again() {
    let pack = garage();
    let rounds = first_round(&pack);
    let mut script = Script::new(["1"], 80);
    choose_repair(&mut script, &fold(&pack, &rounds, None)).unwrap();
    assert!(script.transcript.contains("DANGER: The housing burns."), "{}", script.transcript);
}

#[test]
fn every_repair_of_the_pack_can_be_chosen_and_one_can_stop_there() {
    let pack = garage();
    let rounds = first_round(&pack);
    let state = fold(&pack, &rounds, None);
    let mut script = Script::new(["s"], 80);
    assert_eq!(choose_repair(&mut script, &state), Ok(None));
    for (_, repair) in pack.repairs.iter() {
        assert!(script.transcript.contains(&repair.title), "{}", script.transcript);
    }
}

/// The walk would go on beside the tied gate; what the repair made due wants the car parked.
#[test]
fn a_set_up_of_the_recheck_is_put_back_before_what_is_asked_next() {
    let over_it = tempfile::tempdir().unwrap();
    let more = "pack: {name: more, replaces: [new_hose]}\n\
                repairs:\n  new_hose:\n    {title: Renew the hose, mends: [split_hose], minutes: 20, \
                cautions: [hot_parts], invalidates: [peak_tied_open, gate_sticks]}\n";
    std::fs::write(over_it.path().join("more.yaml"), more).unwrap();
    let pack =
        loaded(&[PackSource::Folder(folder()), PackSource::Folder(over_it.path().to_owned())]);
    let answers = [("hose_sound", "yes"), ("peak_tied_open", "0.8 bar"), ("gate_sticks", "no")];
    let rounds = repaired(&pack, &answers, "new_hose");
    let lines = ["0.7 bar", "1", "n", "0.5 bar", ""];
    let held = talk_on(&pack, rounds, Scope::Again, Memory::default(), &lines);
    let back = held.said.find("-> Put back first: gate tied open");
    let next = held.said.find("Does the gate stick?");
    assert!(back.is_some() && back < next, "{}", held.said);
}
