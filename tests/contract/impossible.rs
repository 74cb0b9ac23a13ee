//! Causes that the car can't have: no chance, in no place, whatever else is answered.

use serde_json::Value;

use super::bench::{Bench, cause};

const NOTHING_MORE: &str = "pack: {name: nothing more}\n";

/// The built-in rules, with a whole list of answers that would speak for the signal's way.
fn told(complaint: &str, answers: &str) -> Value {
    Bench::new(NOTHING_MORE)
        .replay_over_built_in(&format!("complaint: {complaint}\nanswers: {{{answers}}}\n"))
}

/// Whether any line of work is for one of these causes.
fn worked_on(told: &Value, repairs: &[&str]) -> bool {
    let work = told["next_work"].as_array().expect("a list");
    work.iter().any(|line| {
        let own = line["id"].as_str().unwrap_or_default();
        let made_for = line["made_for"]["id"].as_str().unwrap_or_default();
        repairs.contains(&own) || repairs.contains(&made_for)
    })
}

const OF_THE_SIGNAL: [&str; 4] =
    ["signal_hose_open", "signal_hose_blocked", "signal_from_wrong_place", "signal_too_slow"];
const OF_THE_CANISTER: [&str; 9] = [
    "actuator_seized",
    "diaphragm_split",
    "wrong_side_of_canister",
    "preload_too_high",
    "spring_too_stiff",
    "preload_lost",
    "spring_weak",
    "rod_at_bad_angle",
    "second_port_blocked",
];
const OF_THE_FLAP: [&str; 11] = [
    "gate_pivot_stuck",
    "gate_binds_hot",
    "arm_slips_on_shaft",
    "lift_limited",
    "gate_too_small",
    "gate_stuck_open",
    "flap_lost",
    "flap_does_not_seal",
    "gate_bush_worn",
    "gate_blown_open",
    "flap_fouls_pipe",
];
const OF_AN_EXTERNAL_GATE: [&str; 9] = [
    "external_gate_seized",
    "external_gate_leaks",
    "external_diaphragm_split",
    "external_springs_too_stiff",
    "external_springs_too_soft",
    "external_ports_exchanged",
    "external_gate_too_small",
    "external_takeoff_poor",
    "external_lift_limited",
];

fn assert_impossible(told: &Value, causes: &[&str]) {
    for id in causes {
        assert!(cause(told, id) == 0.0, "{id}: {}", cause(told, id));
    }
}

#[test]
fn an_electric_gate_has_neither_signal_hose_nor_pressure_canister() {
    let told = told(
        "boost_too_high_controller_off",
        "boost_seen: 1.2 bar, expected_base_boost: 0.5 bar, actuator_kind: electric_actuator",
    );
    assert_impossible(&told, &OF_THE_SIGNAL);
    assert_impossible(&told, &OF_THE_CANISTER);
    assert!(!worked_on(
        &told,
        &["renew_the_signal_hose", "renew_the_actuator", "pipe_the_canister_right"]
    ));
}

#[test]
fn a_vacuum_gate_has_neither_either() {
    let told = told("never_reaches_target", "actuator_kind: vacuum_canister");
    assert_impossible(&told, &OF_THE_SIGNAL);
    assert_impossible(&told, &OF_THE_CANISTER);
    assert!(cause(&told, "vacuum_supply_weak") > 0.0);
}

#[test]
fn an_external_gate_has_no_flap_and_a_flap_no_external_gate() {
    let external = told("boost_climbs_at_speed", "gate_kind: external_gate");
    assert_impossible(&external, &OF_THE_FLAP);
    assert!(cause(&external, "external_gate_too_small") > 0.01);
    let internal = told("boost_climbs_at_speed", "gate_kind: internal_gate");
    assert_impossible(&internal, &OF_AN_EXTERNAL_GATE);
    assert!(cause(&internal, "gate_too_small") > 0.01);
}

#[test]
fn vanes_have_no_gate_and_one_turbo_has_no_changeover() {
    let vanes = told("never_reaches_target", "turbo_kind: turbo_with_vanes");
    assert_impossible(&vanes, &OF_THE_FLAP);
    assert!(cause(&vanes, "vanes_stuck_wide") > 0.01);
    let one = told("never_reaches_target", "turbo_kind: one_turbo");
    assert_impossible(
        &one,
        &["changeover_valve_fails", "changeover_flap_stuck", "vanes_stuck_wide"],
    );
}

#[test]
fn a_car_on_its_spring_alone_has_no_controller_that_could_fail() {
    let told = told("boost_too_high_controller_off", "boost_control_kind: spring_only");
    assert_impossible(
        &told,
        &["control_valve_stuck", "boost_valve_dead", "controller_badly_set", "hand_valve_drifts"],
    );
}

#[test]
fn what_is_not_known_of_the_car_rules_nothing_out() {
    for answers in ["", "gate_kind: unknown, actuator_kind: unknown"] {
        let told = told("boost_too_high_controller_off", answers);
        for id in OF_THE_SIGNAL
            .iter()
            .chain(&OF_THE_CANISTER)
            .chain(&OF_THE_FLAP)
            .chain(&OF_AN_EXTERNAL_GATE)
        {
            assert!(cause(&told, id) > 0.0, "{id}");
        }
    }
}

#[test]
fn who_measured_the_port_of_a_flap_has_told_that_the_gate_is_an_internal_one() {
    let told = told("boost_climbs_at_speed", "port_diameter: 22 mm");
    assert_impossible(&told, &OF_AN_EXTERNAL_GATE);
    // What was answered outright stands over what follows from it.
    let told = told_over();
    assert_impossible(&told, &OF_THE_FLAP);
}

fn told_over() -> Value {
    told("boost_climbs_at_speed", "port_diameter: 22 mm, gate_kind: external_gate")
}

/// One cause for each kind of gate, and a third that any car can have.
const TWO_KINDS: &str = "
complaints:
  too_high: {title: Boost too high, start: look, shows: [high]}
questions:
  peak: {text: Highest boost, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.02 bar}}
  kind: {text: What kind of gate?, answer: {choose: {flap: a flap, valve: a valve, none: none}}, holds: car}
  port: {text: Diameter of the port, answer: {measure: length, unit: mm, uncertainty: 0.1 mm}, fits: kind == flap}
  stem: {text: Does the stem stick?, answer: yes_or_no, fits: kind == valve}
findings:
  high: {when: peak > 0.7 bar, leak: 0.01}
  flap_there: {when: kind == flap, leak: 0.5}
  valve_there: {when: kind == valve, leak: 0.5}
  stem_sticks: {when: stem, leak: 0.05}
  port_small: {when: port < 20 mm, leak: 0.05}
causes:
  small_port: {title: Port small, common: 0.05, fits: flap_there, brings: {high: 0.9, port_small: 0.9}}
  stuck_stem: {title: Stem stuck, common: 0.05, fits: valve_there, brings: {high: 0.9, stem_sticks: 0.9}}
  hose_off: {title: Hose off, common: 0.05, brings: {high: 0.9}}
repairs:
  bore: {title: Open the port, mends: [small_port], invalidates: [port]}
  oil: {title: Free the stem, mends: [stuck_stem]}
  hose: {title: Fit a hose, mends: [hose_off]}
  new_gate: {title: Fit another kind of gate, mends: [small_port], invalidates: [kind, port]}
steps:
  look: {ask: [peak, kind, port, stem], then: [{go: conclude}]}
";

/// By hand, for one finding that is seen: causes of 0.05 that each bring it at 0.9, leak 0.01. With `n`
/// such causes possible, P(seen) sums over the sets of them that are present.
fn by_hand(possible: u32) -> f64 {
    let (mut all, mut with_the_first) = (0.0, 0.0);
    for set in 0..1_u32 << possible {
        let present = set.count_ones().cast_signed();
        let absent = possible.cast_signed() - present;
        let prior = 0.05_f64.powi(present) * 0.95_f64.powi(absent);
        let seen = 1.0 - 0.99 * 0.1_f64.powi(present);
        all += prior * seen;
        if set & 1 == 1 {
            with_the_first += prior * seen;
        }
    }
    with_the_first / all
}

fn small(answers: &str) -> Value {
    Bench::new(TWO_KINDS).replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"))
}

#[test]
fn the_chances_of_what_is_left_are_those_of_a_network_without_it() {
    assert!((cause(&small(""), "hose_off") - by_hand(3)).abs() < 1e-9);
    let told = small("kind: none");
    assert!((cause(&told, "hose_off") - by_hand(1)).abs() < 1e-9, "{}", cause(&told, "hose_off"));
    assert_impossible(&told, &["small_port", "stuck_stem"]);
}

#[test]
fn a_kind_that_follows_from_an_answer_is_not_asked_and_ends_with_a_repair_that_changes_it() {
    let told = small("peak: 1 bar, port: 22 mm");
    assert_impossible(&told, &["stuck_stem"]);
    assert_eq!(told["next_question"], Value::Null);
    let after = Bench::new(TWO_KINDS).replay(
        "rounds:\n- {complaint: too_high, answers: {peak: 1 bar, port: 22 mm}}\n- {repair: new_gate, answers: {peak: 1 bar}}\n",
    );
    assert_eq!(after["next_question"]["id"], "kind");
    assert!(cause(&after, "stuck_stem") > 0.0);
}

#[test]
fn answers_of_two_kinds_settle_none() {
    let told = small("peak: 1 bar, port: 22 mm, stem: yes");
    assert!(cause(&told, "stuck_stem") > 0.0 && cause(&told, "small_port") > 0.0);
}
