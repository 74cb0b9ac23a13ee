//! The order of work on the sheet, over the built-in rules.

use std::collections::HashSet;

use boostwright::interview::{Round, fold};
use boostwright::report::plan;
use boostwright::rules::Pack;

use crate::built_in::built_in;

fn begun(pack: &Pack) -> Vec<Round> {
    let complaints = pack.complaints.indices().collect();
    vec![Round { complaints, ..Round::default() }]
}

#[test]
fn every_open_question_stands_on_the_sheet_once() {
    let pack = built_in();
    let state = fold(pack, &begun(pack), None);
    let mut planned: Vec<_> = plan(&state).questions().collect();
    let mut open = state.open.clone();
    planned.sort_unstable();
    open.sort_unstable();
    assert!(open.len() > 20);
    assert_eq!(planned, open);
}

#[test]
fn each_state_of_the_car_comes_once() {
    let pack = built_in();
    let state = fold(pack, &begun(pack), None);
    let cars: Vec<_> = plan(&state).parts.iter().map(|part| part.car).collect();
    assert_eq!(cars.iter().collect::<HashSet<_>>().len(), cars.len());
}

#[test]
fn within_a_state_nothing_comes_before_what_it_waits_for() {
    let pack = built_in();
    let state = fold(pack, &begun(pack), None);
    for part in plan(&state).parts {
        let order: Vec<_> = part.questions().collect();
        for (index, question) in order.iter().enumerate() {
            for before in &pack.questions[*question].not_before {
                let late = order[index..].contains(before);
                assert!(!late, "{} waits", pack.questions.id(*question));
            }
        }
    }
}

#[test]
fn a_set_up_is_made_once_in_each_state() {
    let pack = built_in();
    let state = fold(pack, &begun(pack), None);
    for part in plan(&state).parts {
        let setups: Vec<_> = part.stretches.iter().filter_map(|stretch| stretch.setup).collect();
        assert_eq!(setups.iter().collect::<HashSet<_>>().len(), setups.len());
    }
}

#[test]
fn nobody_drives_on_boost_before_the_gauge_and_the_hose_were_seen() {
    let pack = built_in();
    let state = fold(pack, &begun(pack), None);
    let plan = plan(&state);
    let place = |id: &str| {
        let question = pack.questions.find(id).expect("a question of the built-in rules");
        plan.questions().position(|other| other == question).expect("it is open")
    };
    assert!(place("gauge_at_rest") < place("peak_boost"));
    assert!(place("hose_is_sound") < place("peak_boost"));
}
