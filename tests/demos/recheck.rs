//! What a recheck asks in the recordings: what the repair made stale, the readings it is judged by,
//! what makes two runs comparable, and what has to be known before one of these. Nothing else.

use boostwright::interview::{Round, due_after_repair, fold};
use boostwright::rules::{Holds, Pack, QuestionId, RepairId};

use super::recording::{Recording, all};
use crate::built_in::built_in;

/// The ids a recheck asks after the recorded rounds before this one (from 0), each answered as
/// recorded.
fn asked(recording: &Recording, round: usize) -> Vec<String> {
    let pack = built_in();
    let recorded = &recording.rounds[round];
    let mut rounds = recording.rounds[..round].to_vec();
    rounds.push(Round { repair: recorded.repair, ..Round::default() });
    let mut asked = Vec::new();
    while let Some(next) = due_after_repair(&fold(pack, &rounds, None), &rounds) {
        let id = pack.questions.id(next.question).to_owned();
        let answer = recorded.answers.get(&next.question);
        let answer = answer.unwrap_or_else(|| {
            panic!("{}, round {}: {id} is asked and not recorded", recording.name, round + 1)
        });
        rounds[round].give(next.question, answer.clone());
        asked.push(id);
    }
    asked
}

/// Everything that may have to be known before this question, itself included.
fn with_all_before(pack: &Pack, question: QuestionId) -> Vec<QuestionId> {
    let mut found = vec![question];
    let mut at = 0;
    while let Some(question) = found.get(at).copied() {
        for before in &pack.questions[question].not_before {
            if !found.contains(before) {
                found.push(*before);
            }
        }
        at += 1;
    }
    found
}

/// What a recheck may ask after this repair.
fn due_after(pack: &Pack, repair: RepairId, complaints: &Round) -> Vec<QuestionId> {
    let repair = &pack.repairs[repair];
    let stale = repair.invalidates.iter().copied();
    let promised = repair.predicts.iter().map(|(question, _)| *question);
    let compared = complaints.complaints.iter().flat_map(|complaint| {
        pack.complaints[*complaint].comparable_within.iter().map(|(question, _)| *question)
    });
    let told = complaints.complaints.iter().filter_map(|own| pack.complaints[*own].told_by);
    // Read with the pull, and needed to know what its boost means.
    let beside = pack.questions.find("pull_was_lifted");
    stale
        .chain(told)
        .chain(beside)
        .chain(promised)
        .chain(compared)
        .flat_map(|question| with_all_before(pack, question))
        .collect()
}

#[test]
fn a_recheck_asks_what_was_recorded_all_due_by_the_repair_and_nothing_that_holds_for_the_car() {
    for recording in all() {
        let pack = built_in();
        for round in 1..recording.rounds.len() {
            let repair = recording.rounds[round].repair.unwrap();
            let due = due_after(pack, repair, &recording.rounds[0]);
            let asked = asked(&recording, round);
            assert!(!asked.is_empty(), "{}, round {}", recording.name, round + 1);
            for id in asked {
                let question = pack.questions.find(&id).unwrap();
                assert!(due.contains(&question), "{}: {id}", recording.name);
                assert_ne!(pack.questions[question].holds, Holds::Car, "{}: {id}", recording.name);
            }
        }
    }
}

/// The turbo was off the car: all that was measured at flap, rod and pipe, then the run.
#[test]
fn after_the_port_was_enlarged_the_gate_is_measured_again_and_then_the_boost() {
    let expected = [
        "trouble_now",
        "port_diameter",
        "wall_round_port",
        "flap_lift",
        "present_flap_thickness",
        "rod_starts_to_move",
        "rod_fully_out",
        "rod_travel",
        "rod_preload",
        "gap_behind_flap",
        "air_from_hose_end",
        "air_temperature",
        "fluids_are_dry",
        "peak_boost",
        "pull_was_lifted",
    ];
    assert_eq!(sorted(asked(&Recording::of("port_too_small"), 1)), sorted(expected));
}

/// Only the hose was touched. Air was never tried before, and is wanted before a pull.
#[test]
fn after_a_new_hose_only_the_hose_is_proved_and_then_the_boost() {
    let asked = asked(&Recording::of("hose_off"), 1);
    assert_eq!(
        asked,
        [
            "trouble_now",
            "hose_is_sound",
            "air_from_hose_end",
            "fluids_are_dry",
            "peak_boost",
            "pull_was_lifted"
        ]
    );
}

fn sorted<T: Into<String>>(ids: impl IntoIterator<Item = T>) -> Vec<String> {
    let mut ids: Vec<String> = ids.into_iter().map(Into::into).collect();
    ids.sort();
    ids
}
