//! Whatever stands clear is mended: over every cause of the built-in rules.

use std::sync::Arc;

use boostwright::interview::{Round, State, Task, fold_with, next_work};
use boostwright::ranking::Network;
use boostwright::rules::{CauseId, Pack, RepairId, TypedIndex};

use crate::built_in::built_in;

fn repairs(state: &State<'_>) -> Vec<RepairId> {
    let repair = |work: &boostwright::interview::Work| match work.what {
        Task::Repair(repair) => Some(repair),
        Task::Check(_) => None,
    };
    next_work(state).unwrap().iter().filter_map(repair).collect()
}

/// The same rules where one cause is all but sure before anything was asked.
fn all_but_sure_of(pack: &Pack, cause: CauseId) -> Pack {
    let mut pack = pack.clone();
    let priors = pack.network.priors().iter().enumerate();
    let priors =
        priors.map(|(index, prior)| if index == cause.index() { 0.995 } else { prior / 100.0 });
    pack.network =
        Network::new(priors.collect(), pack.network.findings().to_vec()).expect("chances");
    pack
}

#[test]
fn every_cause_that_stands_clear_has_a_repair_that_mends_it_however_long_it_takes() {
    let pack = built_in();
    let complaint = pack.complaints.find("boost_too_high_controller_off").expect("a complaint");
    let round = Round { complaints: vec![complaint], ..Round::default() };
    let mut silent = Vec::new();
    for cause in pack.causes.indices() {
        let sure = all_but_sure_of(pack, cause);
        let state = fold_with(&sure, std::slice::from_ref(&round), None, &Arc::default());
        assert!(state.standing_clear().contains(&cause), "{}", pack.causes.id(cause));
        let mends = |repair: &RepairId| pack.repairs[*repair].mends.contains(&cause);
        if !repairs(&state).iter().any(mends) {
            silent.push(pack.causes.id(cause));
        }
    }
    assert!(silent.is_empty(), "{} causes without a repair: {silent:?}", silent.len());
}

/// What a case comes to: the causes that stand clear without a repair though one is allowed, and the
/// repairs proposed that mend nothing.
fn faults_of(pack: &Pack, id: &str) -> (usize, Vec<String>) {
    let case = &pack.cases[id];
    let mut round = Round { complaints: case.complaints.clone(), ..Round::default() };
    assert!(round.read_answers(pack, &case.answers).is_ok(), "{id}");
    let state = fold_with(pack, &[round], None, &Arc::default());
    let repairs = repairs(&state);
    let idle = repairs.iter().filter(|repair| pack.repairs[**repair].mends.is_empty());
    let mut found: Vec<String> =
        idle.map(|repair| format!("{id}: {} mends nothing", pack.repairs.id(*repair))).collect();
    let clear = state.standing_clear();
    for cause in &clear {
        let mends = |repair: &RepairId| pack.repairs[*repair].mends.contains(cause);
        let mut allowed =
            pack.repairs.indices().filter(|repair| !state.danger.forbids_repair(*repair));
        if allowed.any(|repair| mends(&repair)) && !state.cured && !repairs.iter().any(mends) {
            found.push(format!("{id}: nothing mends {}", pack.causes.id(*cause)));
        }
    }
    (clear.len(), found)
}

fn faults_of_all(pack: &Pack, ids: &[&String]) -> Vec<(usize, Vec<String>)> {
    ids.iter().map(|id| faults_of(pack, id)).collect()
}

#[test]
fn what_a_case_proves_is_mended_and_nothing_is_proposed_that_mends_nothing() {
    let pack = built_in();
    let ids: Vec<&String> = pack.cases.keys().collect();
    let (first, second) = ids.split_at(ids.len() / 2);
    let told: Vec<(usize, Vec<String>)> = std::thread::scope(|scope| {
        let other = scope.spawn(|| faults_of_all(pack, second));
        let mut all = faults_of_all(pack, first);
        all.extend(other.join().expect("the second half"));
        all
    });
    assert!(told.iter().map(|(clear, _)| clear).sum::<usize>() > 100);
    let faults: Vec<&String> = told.iter().flat_map(|(_, faults)| faults).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn every_repair_that_mends_nothing_stands_beside_one_that_mends_or_is_planned() {
    let pack = built_in();
    let is_idle = |repair: &RepairId| {
        let own = &pack.repairs[*repair];
        own.mends.is_empty() && own.planned_when.is_none()
    };
    let idle: Vec<RepairId> = pack.repairs.indices().filter(is_idle).collect();
    assert!(idle.len() >= 2);
    for repair in idle {
        let beside = pack
            .repairs
            .iter()
            .any(|(_, other)| !other.mends.is_empty() && other.alternatives.contains(&repair));
        assert!(beside, "{} stands nowhere", pack.repairs.id(repair));
    }
}
