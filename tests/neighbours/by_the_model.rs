//! What the model of engine, turbine and gate says a cause would make a reading, against draws made and
//! solved apart from it (`tests/reference/model_evidence.py`), and which way the causes move. All cars are
//! invented.

use std::sync::Arc;

use boostwright::interview::{Round, fold_with};
use boostwright::report::{conclude, json};
use boostwright::rules::Given;
use serde_json::Value;

use crate::built_in::built_in;
use crate::reference::table::{number, rows};

/// A reading of the rules that is off altogether tells nothing: 4.5 in 100 of all.
const SLIPS: f64 = 0.045;
/// Of shares from 0 to 1. Of the thousand draws of the program some two hundred lie near a reading, which makes
/// odds uncertain by a tenth; the 40,000 of the table are ten times as sure.
const CLOSE: f64 = 0.04;

const CAR: &str = "gate_kind: internal_gate; engine_kind: four_stroke_pistons; engine_displacement: 2 L ± 0.01; \
    expected_base_boost: 0.5 bar ± 0.02; full_load_lambda: 0.88 ± 0.01; exhaust_class: exhaust_as_made";

/// What is concluded of the car with these answers beside its own.
fn concluded(answers: &str) -> Value {
    let pack = built_in();
    let all = format!("{CAR}; {answers}");
    let given = all.split("; ").map(|answer| {
        let (id, text) = answer.split_once(": ").unwrap();
        (id.to_owned(), Given::Text(text.to_owned()))
    });
    let complaint = pack.complaints.find("boost_too_high_controller_off");
    let mut round = Round { complaints: complaint.into_iter().collect(), ..Round::default() };
    round.read_answers(pack, &given.collect()).unwrap();
    let state = fold_with(pack, &[round], None, &Arc::default());
    serde_json::from_str(&json(&conclude(&state, None))).unwrap()
}

fn probability(concluded: &Value, list: &str, id: &str) -> f64 {
    let entries = concluded[list].as_array().unwrap();
    let entry = entries.iter().find(|entry| entry["id"] == id);
    entry.and_then(|entry| entry["probability"].as_f64()).unwrap_or_else(|| panic!("no {id}"))
}

fn agrees(group: &str) {
    let rows: Vec<_> =
        rows("model_evidence.csv").into_iter().filter(|row| row["group"] == group).collect();
    assert!(rows.len() > 3, "{group}");
    let mut off = Vec::new();
    for row in rows {
        let printed = probability(&concluded(&row["answers"]), "findings", &row["finding"]);
        let share = number(&row["share"]);
        let right = (1.0 - SLIPS) * share + SLIPS * (1.0 - share);
        if (printed - right).abs() > CLOSE {
            off.push(format!(
                "{}, {}: {printed:.3}, not {right:.3}",
                row["answers"], row["finding"]
            ));
        }
    }
    assert!(off.is_empty(), "{}", off.join("\n"));
}

#[test]
fn a_port_weighs_by_the_area_that_the_boost_needs() {
    agrees("port");
}

#[test]
fn a_lift_weighs_by_the_area_that_the_boost_needs() {
    agrees("lift");
}

#[test]
fn a_run_weighs_by_what_port_and_lift_let_through() {
    agrees("run");
}

#[test]
fn a_run_weighs_by_what_a_pull_with_the_gate_tied_open_taught() {
    agrees("tied");
}

#[test]
fn a_first_movement_weighs_by_what_preload_and_spring_bring() {
    agrees("crack");
}

/// The cause is likelier with each answer than with the one before.
fn rises(cause: &str, answers: &[&str]) {
    let chances: Vec<f64> =
        answers.iter().map(|answer| probability(&concluded(answer), "causes", cause)).collect();
    assert!(chances.is_sorted_by(|one, next| one < next), "{cause}: {chances:?} of {answers:?}");
}

#[test]
fn a_cause_is_likelier_the_nearer_a_reading_comes_to_what_it_brings() {
    rises(
        "gate_too_small",
        &[
            "boost_seen: 0.8 bar; port_diameter: 26 mm",
            "boost_seen: 0.8 bar; port_diameter: 22 mm",
            "boost_seen: 0.8 bar; port_diameter: 18 mm",
        ],
    );
    rises(
        "lift_limited",
        &[
            "boost_seen: 0.8 bar; port_diameter: 24 mm; flap_lift: 8 mm",
            "boost_seen: 0.8 bar; port_diameter: 24 mm; flap_lift: 4.5 mm",
            "boost_seen: 0.8 bar; port_diameter: 24 mm; flap_lift: 2.5 mm",
        ],
    );
    let crack = |bar: &str| {
        format!("boost_seen: 0.8 bar; spring_marked: 0.4 bar; rod_starts_to_move: {bar}")
    };
    let later = ["0.42 bar", "0.47 bar", "0.60 bar"].map(crack);
    rises("spring_too_stiff", &later.each_ref().map(String::as_str));
    let tied = |bar: &str| {
        format!(
            "port_diameter: 20 mm; peak_boost: 0.9 bar; speed_at_peak: 6000 rpm; \
            speed_tied_open: 6000 rpm; boost_with_gate_tied_open: {bar}"
        )
    };
    let higher = ["0.4 bar", "0.65 bar", "0.88 bar"].map(tied);
    rises("gate_too_small", &higher.each_ref().map(String::as_str));
}

/// A port that is wide for its engine asks for less lift than a quarter of its diameter.
#[test]
fn a_small_lift_behind_a_wide_port_is_no_fault() {
    let chance = |port: &str, lift: &str| {
        let answers = format!("boost_seen: 0.8 bar; port_diameter: {port}; flap_lift: {lift}");
        probability(&concluded(&answers), "findings", "lift_too_small")
    };
    // Both lift by 0.19 of the port's diameter.
    assert!(chance("36 mm", "6.8 mm") < 0.1, "{}", chance("36 mm", "6.8 mm"));
    assert!(chance("18 mm", "3.4 mm") > 0.4, "{}", chance("18 mm", "3.4 mm"));
}
