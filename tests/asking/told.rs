//! What the complaint says is known: nobody denies it by leaving it out of a list.

use boostwright::interview::{Round, fold};
use boostwright::report::{conclude, screen};
use boostwright::rules::{Given, Pack};

use crate::built_in::built_in;

/// These answers and no others.
fn round(pack: &Pack, complaint: &str, answers: &[(&str, &str)]) -> Round {
    let given =
        answers.iter().map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())));
    let complaints = vec![pack.complaints.find(complaint).unwrap()];
    let mut round = Round { complaints, ..Round::default() };
    round.read_answers(pack, &given.collect()).unwrap();
    round
}

#[test]
fn whoever_notices_nothing_else_takes_no_complaint_back() {
    let pack = built_in();
    for complaint in pack.complaints.indices() {
        let id = pack.complaints.id(complaint);
        let round = [round(pack, id, &[("also_noticed", "none")])];
        let denied = fold(pack, &round, None).denied();
        assert!(denied.is_empty(), "{id} was taken back: {denied:?}");
    }
}

#[test]
fn late_boost_with_nothing_beside_it_is_still_late() {
    let pack = built_in();
    // Soot where exhaust gas gets out, and the rest as it should be.
    let answers = [
        ("also_noticed", "none"),
        ("boost_in_words", "words_right"),
        ("soot_marks", "soot_on_wall"),
    ];
    let round = [round(pack, "slow_to_build", &answers)];
    let state = fold(pack, &round, None);
    let cracked = state.ranked.probability(pack.causes.find("manifold_cracked").unwrap());
    assert!(cracked > 0.3, "{cracked}");
}

#[test]
fn a_minus_before_a_vacuum_is_a_vacuum() {
    let pack = built_in();
    let vacuum = pack.questions.find("idle_vacuum").unwrap();
    // 18 inHg of vacuum are 0.6096 bar (NIST SP 811, B.8: 1 inHg is 3386.389 Pa).
    for text in ["-18 inHg", "18 inHg", "−18 inhg"] {
        let round = [round(pack, "poor_idle_vacuum", &[("idle_vacuum", text)])];
        let state = fold(pack, &round, None);
        let (read, _) = state.facts.evaluator.given(pack.question_slot(vacuum));
        assert!((read - 18.0 * 3386.389).abs() < 0.1, "{text}: {read}");
    }
}

#[test]
fn a_plan_beside_a_complaint_does_not_hide_that_nothing_is_clear() {
    let pack = built_in();
    let answers = [
        ("gate_kind", "internal_gate"),
        ("actuator_kind", "pressure_canister"),
        ("plan_the_gate", "yes"),
        ("engine_kind", "four_stroke_pistons"),
        ("engine_displacement", "1.8 L"),
        ("top_engine_speed", "6300 rpm"),
        ("exhaust_class", "exhaust_free"),
        ("port_diameter", "22 mm"),
        ("flap_lift", "7 mm"),
        ("wanted_base_boost", "0.5 bar"),
    ];
    let round = [round(pack, "boost_climbs_at_speed", &answers)];
    let state = fold(pack, &round, None);
    let conclusion = conclude(&state, None);
    assert!(!conclusion.planned.is_empty() && !conclusion.clear, "another case than meant");
    let page = screen(&conclusion, &[], 80);
    for heading in ["THE PLAN", "WHAT IS WRONG", "WHAT TO DO NOW"] {
        assert!(page.contains(heading), "{heading} is missing:\n{}", page.as_str());
    }
}
