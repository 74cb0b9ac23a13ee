//! Whatever stands clear is mended: over every cause of the built-in rules.

use std::collections::BTreeSet;
use std::sync::Arc;

use boostwright::interview::{Round, State, Task, fold_with, work_ahead};
use boostwright::ranking::Network;
use boostwright::rules::{CauseId, Pack, PackSource, Place, RepairId, load};

fn built_in() -> Pack {
    load(&[PackSource::BuiltIn]).expect("the built-in rules").pack
}

fn repairs(state: &State<'_>) -> Vec<RepairId> {
    let repair = |work: &boostwright::interview::Work| match work.what {
        Task::Repair(repair) => Some(repair),
        Task::Check(_) => None,
    };
    work_ahead(state).iter().filter_map(repair).collect()
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
    for cause in pack.causes.places() {
        let sure = all_but_sure_of(&pack, cause);
        let state = fold_with(&sure, std::slice::from_ref(&round), None, &Arc::default());
        assert!(state.standing_clear().contains(&cause), "{}", pack.causes.id(cause));
        let mends = |repair: &RepairId| pack.repairs[*repair].mends.contains(&cause);
        if !repairs(&state).iter().any(mends) {
            silent.push(pack.causes.id(cause));
        }
    }
    assert!(silent.is_empty(), "{} causes without a repair: {silent:?}", silent.len());
}

#[test]
fn every_cause_that_a_case_proves_has_a_repair_that_mends_it() {
    let pack = built_in();
    let mut proved = BTreeSet::new();
    let mut silent = BTreeSet::new();
    for (id, case) in &pack.cases {
        let mut round = Round { complaints: case.complaints.clone(), ..Round::default() };
        assert!(round.read_answers(&pack, &case.answers).is_ok(), "{id}");
        let state = fold_with(&pack, &[round], None, &Arc::default());
        let repairs = repairs(&state);
        for cause in state.standing_clear() {
            proved.insert(pack.causes.id(cause).to_owned());
            let forbidden = |repair: RepairId| state.danger.forbids_repair(repair);
            let mends = |repair: &RepairId| pack.repairs[*repair].mends.contains(&cause);
            let can_be_mended =
                pack.repairs.places().any(|repair| mends(&repair) && !forbidden(repair));
            if can_be_mended && !state.cured && !repairs.iter().any(mends) {
                silent.insert(format!("{id}: {}", pack.causes.id(cause)));
            }
        }
    }
    assert!(proved.len() > 100, "{}", proved.len());
    assert!(silent.is_empty(), "{silent:#?}");
}

#[test]
fn what_mends_nothing_is_an_alternative_and_never_a_repair_of_its_own() {
    let pack = built_in();
    let mends_nothing: Vec<RepairId> =
        pack.repairs.places().filter(|repair| pack.repairs[*repair].mends.is_empty()).collect();
    assert!(mends_nothing.len() >= 2);
    for repair in mends_nothing {
        let id = pack.repairs.id(repair);
        assert!(
            pack.repairs.iter().any(|(_, other)| other.alternatives.contains(&repair)),
            "{id} stands nowhere"
        );
    }
    for (id, case) in &pack.cases {
        let mut round = Round { complaints: case.complaints.clone(), ..Round::default() };
        assert!(round.read_answers(&pack, &case.answers).is_ok(), "{id}");
        let state = fold_with(&pack, &[round], None, &Arc::default());
        for repair in repairs(&state) {
            assert!(!pack.repairs[repair].mends.is_empty(), "{id}: {}", pack.repairs.id(repair));
        }
    }
}
