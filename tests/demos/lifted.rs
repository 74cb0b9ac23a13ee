//! A staged pull is broken off at a limit, as its rules say. That must not hide what was seen before,
//! nor count as a boost that goes no higher. All numbers are invented.

use boostwright::interview::{Outcome, Round, State, fold, verdict};
use boostwright::rules::{Given, Pack};

use crate::built_in::built_in;

fn round(pack: &Pack, answers: &[(&str, &str)]) -> Round {
    let mut round = Round::default();
    let given =
        answers.iter().map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())));
    round.read_answers(pack, &given.collect()).unwrap();
    round
}

fn first(pack: &Pack, answers: &[(&str, &str)]) -> Vec<Round> {
    let complaint = pack.complaints.find("boost_too_high_controller_off").unwrap();
    vec![Round { complaints: vec![complaint], ..round(pack, answers) }]
}

fn is_in_danger(state: &State<'_>) -> bool {
    let caution = state.pack.cautions.find("boost_far_over").unwrap();
    state.danger.in_force.contains(&caution)
}

fn chance(state: &State<'_>, finding: &str) -> Option<f64> {
    let finding = state.pack.findings.find(finding).unwrap();
    state.facts.weigh(&state.pack.findings[finding].when)?.decided()
}

const SEEN: [(&str, &str); 3] =
    [("boost_seen", "1.20 bar"), ("expected_base_boost", "0.5 bar"), ("rod_fully_out", "0.7 bar")];
const LIFTED: [(&str, &str); 2] = [("peak_boost", "0.65 bar"), ("pull_was_lifted", "yes")];

#[test]
fn a_pull_broken_off_hides_no_boost_that_was_seen_before() {
    let pack = built_in();
    for pull in [&LIFTED[..0], &LIFTED[..1], &LIFTED[..]] {
        let rounds = first(pack, &[&SEEN[..], pull].concat());
        let state = fold(pack, &rounds, None);
        assert!(is_in_danger(&state), "{pull:?}");
        assert!(chance(&state, "boost_above_spring").unwrap() > 0.9, "{pull:?}");
        assert!(chance(&state, "boost_beyond_wide_open_gate").unwrap() > 0.9, "{pull:?}");
    }
}

#[test]
fn a_pull_broken_off_counts_as_high_and_never_as_low() {
    let pack = built_in();
    let with = |pull: &[(&str, &str)]| {
        let rounds = first(pack, &[&SEEN[1..], pull].concat());
        let state = fold(pack, &rounds, None);
        ["boost_above_spring", "held_where_it_opens", "boost_beyond_wide_open_gate"]
            .map(|finding| chance(&state, finding))
    };
    let [above, held, beyond] = with(&LIFTED);
    assert!(above.unwrap() > 0.5, "0.15 bar over the spring is high already");
    assert_eq!(
        (held, beyond),
        (None, None),
        "the gate opens fully at 0.7 bar, a little further on"
    );
    let [_, held, beyond] = with(&[LIFTED[0], ("pull_was_lifted", "no")]);
    assert!(held.unwrap() > 0.5 && beyond.unwrap() < 0.5);
    let [_, held, _] = with(&LIFTED[..1]);
    assert!(held.unwrap() > 0.5, "nobody said that it was broken off");
    let [above, ..] = with(&[("peak_boost", "0.45 bar"), ("pull_was_lifted", "yes")]);
    assert_eq!(above, None, "nobody knows how high it would have gone");
}

#[test]
fn after_a_repair_a_pull_broken_off_is_no_success_and_the_boost_of_before_is_past() {
    let pack = built_in();
    let after = |pull: &[(&str, &str)]| {
        let mut rounds = first(pack, &SEEN);
        let repair = pack.repairs.find("open_the_port");
        rounds.push(Round { repair, ..round(pack, pull) });
        let state = fold(pack, &rounds, None);
        assert!(!is_in_danger(&state), "1.20 bar was before the repair");
        let verdict = verdict(&state, repair).unwrap();
        (verdict.outcome, verdict.after.is_some())
    };
    let (outcome, measured) = after(&LIFTED);
    assert_eq!(outcome, Outcome::NotComparable, "0.65 bar is the least that it would have been");
    assert!(!measured, "how high it would have gone nobody knows");
    assert_eq!(after(&[LIFTED[0], ("pull_was_lifted", "no")]), (Outcome::Better, true));
}

#[test]
fn whether_it_was_broken_off_is_asked_behind_a_pull_that_came_near_its_limit() {
    let pack = built_in();
    let asks = |answers: &[(&str, &str)]| {
        let ready = [
            ("last_work", "none"),
            ("boost_over_the_pull", "unknown"),
            ("gauge_at_rest", "0 bar"),
            ("hose_is_sound", "yes"),
            ("air_from_hose_end", "flap_opens"),
            ("fluids_are_dry", "yes"),
        ];
        let rounds = first(pack, &[&SEEN[..2], &ready[..], answers].concat());
        let open = fold(pack, &rounds, None).open;
        open.contains(&pack.questions.find("pull_was_lifted").unwrap())
    };
    assert!(asks(&[("peak_boost", "0.65 bar")]));
    assert!(asks(&[("peak_boost", "0.45 bar")]), "far below what was seen");
    assert!(!asks(&[("peak_boost", "1.20 bar"), ("pull_was_lifted", "no")]));
}

#[test]
fn the_pull_says_that_the_witness_is_fitted_before_the_drive() {
    let pack = built_in();
    let pull = &pack.questions[pack.questions.find("peak_boost").unwrap()];
    assert!(pull.text.starts_with("Fit a witness to the rod before you drive"), "{}", pull.text);
    assert!(pull.how.as_ref().unwrap().starts_with("Fit the witness first"));
    assert!(pull.tools.iter().any(|tool| tool.contains("wire")));
}
