//! What an interview ends with: a repair for whatever is proved, checks where nothing is.

use std::collections::HashMap;

use boostwright::interview::{Ranked, Round, Task, fold, next_work};
use boostwright::ranking::{Belief, Factor, posterior};
use boostwright::rules::{CauseId, Pack, TypedIndex};

use super::owner::Held;
use crate::built_in::built_in;

#[test]
fn cant_say_to_everything_ends_within_twenty_questions_and_with_work() {
    let pack = built_in();
    for complaint in pack.complaints.indices() {
        let id = pack.complaints.id(complaint);
        let held = Held::with(pack, id, &[]);
        assert!(held.asked.len() <= 20, "{id}: {:?}", held.ids(pack));
        let work = next_work(&held.state(pack)).unwrap();
        // A wish for another setting shows no fault: there is nothing to look for.
        let fault = !pack.complaints[complaint].shows.is_empty();
        assert!(!fault || work.len() >= 3, "{id}: {work:?}");
    }
}

/// Whatever its minutes, what is proved is mended: all other causes are ruled out, and the car shows what
/// the cause most often brings.
#[test]
fn every_cause_that_is_proved_has_its_repair_named() {
    let pack = built_in();
    // An interview before its first answer, for each complaint.
    let begun = |complaint| {
        let round = Round { complaints: vec![complaint], ..Round::default() };
        fold(pack, &[round], None)
    };
    let mut states = HashMap::new();
    for (cause, written) in pack.causes.iter() {
        let id = pack.causes.id(cause);
        // How many times likelier with the cause than with none.
        let tells = |finding: usize| {
            let finding = &pack.network.findings()[finding];
            let own = finding.links.iter().find(|link| link.cause == cause.index());
            own.map_or(0.0, |link| link.strength / finding.leak.max(1e-6))
        };
        let mut shown: Vec<usize> = (0..pack.network.findings().len()).collect();
        shown.sort_by(|a, b| tells(*b).total_cmp(&tells(*a)));
        let evidence: Vec<Factor> =
            shown.iter().take(5).map(|finding| Factor::yes(*finding)).collect();
        let others = (0..pack.causes.len()).filter(|other| *other != cause.index()).collect();
        let proved =
            posterior(&pack.network, &Belief::start().ruling_out(others), &evidence).unwrap();
        assert!(proved.probabilities()[cause.index()] > 0.95, "{id} is not proved");
        let complaint = complaint_of(pack, cause);
        let state = states.entry(complaint).or_insert_with(|| begun(complaint));
        state.ranked = Ranked::Causes(proved);
        let work = next_work(state).unwrap();
        let mends = |work: &boostwright::interview::Work| match work.what {
            Task::Repair(repair) => pack.repairs[repair].mends.contains(&cause),
            Task::Check(_) => false,
        };
        let first = work.iter().find(|work| matches!(work.what, Task::Repair(_)));
        assert!(first.is_some_and(mends), "{id} ({}): {work:?}", written.title);
    }
}

/// The complaint that a cause brings most often.
fn complaint_of(pack: &Pack, cause: CauseId) -> boostwright::rules::ComplaintId {
    let strength = |complaint| {
        let shows = pack.complaints[complaint].shows.iter();
        let links = shows.flat_map(|own| &pack.network.findings()[own.index()].links);
        let own = links.filter(|link| link.cause == cause.index()).map(|link| link.strength);
        own.fold(0.0, f64::max)
    };
    pack.complaints.indices().max_by(|a, b| strength(*a).total_cmp(&strength(*b))).unwrap()
}

#[test]
fn the_first_check_of_the_conclusion_is_the_next_question() {
    let pack = built_in();
    for complaint in pack.complaints.indices() {
        let round = Round { complaints: vec![complaint], ..Round::default() };
        let state = fold(pack, &[round], None);
        let Some(next) = state.walk.next else { continue };
        let work = next_work(&state).unwrap();
        let first = work.first().map(|work| work.what);
        assert_eq!(first, Some(Task::Check(next.question)), "{}", pack.complaints.id(complaint));
    }
}
