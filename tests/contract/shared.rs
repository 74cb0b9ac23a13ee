//! Findings that rest on the same reading or look, weighed together, against an enumeration by a script
//! of its own (`tests/reference/shared_reading.py`).

use super::bench::{Bench, cause};
use super::enumeration::{Seen, assert_agrees, seen, weighed};
use crate::reference::table::{number, rows};

const PACK: &str = "
complaints:
  odd: {title: Something is odd, start: look}
questions:
  peak: {text: Highest boost, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.03 bar, slips: 3 in 100}}
  rail: {text: Fuel pressure, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.05 bar, slips: 3 in 100}}
  flap: {text: Is the flap shut?, answer: yes_or_no, sure: 90 in 100}
findings:
  high: {when: peak > 0.9 bar, leak: 0.02}
  higher: {when: 2 * peak > 1.75 bar, leak: 0.05}
  low: {when: 1 bar - peak > 0.06 bar, leak: 0.1}
  both: {when: 3 * peak > 2.7 bar and flap, leak: 0.01}
  flap_shut: {when: flap, leak: 0.3}
  rail_low: {when: rail < 3 bar, leak: 0.04}
  rail_lower: {when: 2 * rail < 5.8 bar, leak: 0.02}
causes:
  gate: {title: Gate, common: 0.12, brings: {high: 0.8, higher: 0.9, both: 0.5, flap_shut: 0.6, rail_lower: 0.1}}
  hose: {title: Hose, common: 0.2, brings: {high: 0.3, low: 0.6, rail_low: 0.7, rail_lower: 0.5}}
  gauge: {title: Gauge, common: 0.05, brings: {higher: 0.5, low: 0.25, both: 0.7, rail_low: 0.2}}
steps:
  look: {then: [{go: conclude}]}
";

#[test]
fn findings_on_one_reading_agree_with_an_enumeration_of_their_own() {
    let bench = Bench::new(PACK);
    for row in rows("shared_reading.csv") {
        let answers = &row["answers"];
        let told = bench.replay(&format!("complaint: odd\nanswers: {{{answers}}}\n"));
        for id in ["gate", "hose", "gauge"] {
            let (printed, right) = (cause(&told, id), number(&row[id]));
            assert!((printed - right).abs() < 1e-9, "{answers}: {id} {printed}, not {right}");
        }
    }
}

fn told(pack: &str, answers: &str) -> serde_json::Value {
    Bench::new(pack).replay(&format!("complaint: odd\nanswers: {{{answers}}}\n"))
}

/// As the guide works it out by hand.
#[test]
fn one_slip_explains_all_that_rests_on_its_reading() {
    // Both limits lie far below the reading: right, it shows both; off, in 3 of 100, it tells nothing
    // more often than 0.03·3/2 and weighs 0.03/2 then.
    let told = told(PACK, "rail: 2.5 bar");
    let model = |p: f64, q: f64| 0.955 * p * q + 0.015;
    let none = model(0.04, 0.02);
    let hose = model(1.0 - 0.96 * 0.3, 1.0 - 0.98 * 0.5);
    let gauge = model(1.0 - 0.96 * 0.8, 0.02);
    let gate = model(0.04, 1.0 - 0.98 * 0.9);
    let hose_gauge = model(1.0 - 0.96 * 0.3 * 0.8, 1.0 - 0.98 * 0.5);
    let hose_gate = model(1.0 - 0.96 * 0.3, 1.0 - 0.98 * 0.5 * 0.9);
    let gauge_gate = model(1.0 - 0.96 * 0.8, 1.0 - 0.98 * 0.9);
    let all = model(1.0 - 0.96 * 0.3 * 0.8, 1.0 - 0.98 * 0.5 * 0.9);
    let prior = |hose: bool, gauge: bool, gate: bool| {
        let side = |is: bool, p: f64| if is { p } else { 1.0 - p };
        side(hose, 0.2) * side(gauge, 0.05) * side(gate, 0.12)
    };
    let with = prior(true, false, false) * hose
        + prior(true, true, false) * hose_gauge
        + prior(true, false, true) * hose_gate
        + prior(true, true, true) * all;
    let without = prior(false, false, false) * none
        + prior(false, true, false) * gauge
        + prior(false, false, true) * gate
        + prior(false, true, true) * gauge_gate;
    let right = with / (with + without);
    assert!((cause(&told, "hose") - right).abs() < 1e-9, "{} {right}", cause(&told, "hose"));
}

#[test]
fn a_sure_answer_ties_nothing_together() {
    let pack =
        PACK.replace(", sure: 90 in 100", "").replace("3 * peak > 2.7 bar and flap", "not flap");
    let printed = told(&pack, "flap: yes");
    let right = [weighed("both", 0.0, 1.0), weighed("flap_shut", 1.0, 0.0)];
    assert_agrees(&printed, &pack, &seen(&right));
}

/// A look that may be wrong is wrong for both findings or for neither.
#[test]
fn a_look_is_wrong_for_all_that_rests_on_it() {
    let pack = PACK.replace("3 * peak > 2.7 bar and flap", "not flap");
    let printed = told(&pack, "flap: yes");
    // The two exclude one another by the look alone, so the right pattern weighs 0.9 and the wrong 0.1.
    let set = |both: f64, shut: f64| 0.9 * (1.0 - both) * shut + 0.1 * both * (1.0 - shut);
    let (gate, gauge) = (0.12, 0.05);
    let both = |gate: bool, gauge: bool| {
        1.0 - 0.99 * if gate { 0.5 } else { 1.0 } * if gauge { 0.3 } else { 1.0 }
    };
    let shut = |gate: bool| 1.0 - 0.7 * if gate { 0.4 } else { 1.0 };
    let weight = |is_gate: bool, is_gauge: bool| {
        let side = |is: bool, p: f64| if is { p } else { 1.0 - p };
        side(is_gate, gate) * side(is_gauge, gauge) * set(both(is_gate, is_gauge), shut(is_gate))
    };
    let with = weight(true, false) + weight(true, true);
    let right = with / (with + weight(false, false) + weight(false, true));
    assert!((cause(&printed, "gate") - right).abs() < 1e-9);
}

/// One finding, one group: what it was.
#[test]
fn one_piece_of_evidence_on_a_reading_weighs_as_by_itself() {
    let pack = PACK.replace("2 * rail < 5.8 bar", "rail < 2.9 bar");
    let below = |limit: f64| libm::erfc((2.97 - limit) / 0.05 / 2.0_f64.sqrt()) / 2.0;
    let slipped = |own: f64| 0.97 * own + 0.03 * (1.0 - own) / 2.0;
    let shares = [1.0 - below(3.0), below(3.0) - below(2.9), below(2.9)].map(slipped);
    let group = Seen::Group {
        findings: vec!["rail_low".to_owned(), "rail_lower".to_owned()],
        patterns: vec![
            (vec![false, false], shares[0]),
            (vec![true, false], shares[1]),
            (vec![true, true], shares[2]),
        ],
    };
    assert_agrees(&told(&pack, "rail: 2.97 bar"), &pack, &seen(&[group]));
}
