//! What each recording was made to show.

use serde_json::Value;

use super::recording::concluded;

fn chance(conclusion: &Value, cause: &str) -> f64 {
    let causes = conclusion["causes"].as_array().unwrap();
    let line = causes.iter().find(|line| line["id"] == cause);
    line.unwrap_or_else(|| panic!("no {cause}"))["probability"].as_f64().unwrap()
}

fn lead(conclusion: &Value) -> &str {
    conclusion["causes"][0]["id"].as_str().unwrap()
}

fn working<'c>(conclusion: &'c Value, id: &str) -> &'c Value {
    let workings = conclusion["workings"].as_array().unwrap();
    workings.iter().find(|line| line["id"] == id).unwrap_or_else(|| panic!("no {id}"))
}

fn ids(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|one| one["id"].as_str().unwrap()).collect()
}

#[test]
fn the_plan_for_the_port_has_numbers_bands_sources_assumptions_and_what_to_measure_next() {
    let planned = concluded("port_planned", 1);
    assert_eq!(lead(planned), "gate_too_small");
    let plan = [
        "port_wanted",
        "boost_at_new_port",
        "opening_at_new_port",
        "wall_left",
        "flap_diameter",
        "flap_stress",
        "flap_gap_hot",
        "lift_for_new_port",
        "rod_travel_for_new_port",
        "stroke_to_spare",
        "room_to_pipe",
        "ceiling_of_cut",
    ];
    for id in plan {
        let line = working(planned, id);
        let number = |key: &str| line[key].as_f64().unwrap();
        assert!(number("low") < number("value") && number("value") < number("high"), "{line}");
        assert!(!line["source"].as_str().unwrap().is_empty(), "{line}");
    }
    let forecast = working(planned, "boost_at_new_port");
    assert!(!forecast["assumed"].as_array().unwrap().is_empty());
    assert_eq!(forecast["widest"].as_array().unwrap().len(), 3);
    let curves = ids(&planned["curves"]);
    for curve in ["boost_by_speed", "boost_by_speed_new_port", "boost_by_port", "flow_by_lift"] {
        assert!(curves.contains(&curve), "{curve} is not among {curves:?}");
    }
}

#[test]
fn a_port_cut_to_plan_cures_and_the_boost_lies_in_the_band_that_was_predicted() {
    let verdict = &concluded("port_too_small", 2)["verdict"];
    assert_eq!(verdict["verdict"], "cured");
    assert_eq!(verdict["model_held"], true);
    let after = verdict["after"]["value"].as_f64().unwrap();
    let predicted = &verdict["predicted"];
    assert!(after > predicted["low"].as_f64().unwrap(), "{verdict}");
    assert!(after < predicted["high"].as_f64().unwrap(), "{verdict}");
}

#[test]
fn a_repair_that_brings_less_than_promised_is_better_and_the_model_did_not_hold() {
    let said = concluded("better_not_cured", 2);
    assert_eq!(said["verdict"]["verdict"], "better");
    assert_eq!(said["verdict"]["model_held"], false);
    assert_eq!(lead(said), "gate_too_small");
}

#[test]
fn a_hose_that_is_off_leads_and_a_new_one_cures() {
    let first = concluded("hose_off", 1);
    assert_eq!(lead(first), "signal_hose_open");
    assert_eq!(first["next_work"][0]["id"], "renew_the_signal_hose");
    assert_eq!(concluded("hose_off", 2)["verdict"]["verdict"], "cured");
}

#[test]
fn while_nothing_holds_boost_down_no_question_that_needs_a_pull_is_open() {
    let first = concluded("hose_off", 1);
    assert!(ids(&first["cautions"]).contains(&"signal_not_proved"));
    let open: Vec<&str> =
        first["open_questions"].as_array().unwrap().iter().map(|id| id.as_str().unwrap()).collect();
    let work = ids(&first["next_work"]);
    for pull in ["peak_boost", "witness_travel", "speed_at_peak", "boost_2000_rpm_earlier"] {
        assert!(!open.contains(&pull) && !work.contains(&pull), "{pull}");
    }
}

#[test]
fn behind_the_seized_rod_a_second_fault_shows_and_its_repair_cures() {
    let name = "rod_sticks_then_too_much_preload";
    assert_eq!(lead(concluded(name, 1)), "actuator_seized");
    let second = concluded(name, 2);
    assert_eq!(second["verdict"]["verdict"], "better");
    assert_eq!(lead(second), "preload_too_high");
    assert!(chance(second, "actuator_seized") < 0.05);
    assert_eq!(concluded(name, 3)["verdict"]["verdict"], "cured");
}

#[test]
fn who_can_say_nearly_nothing_gets_no_confident_answer() {
    let said = concluded("nearly_nothing_known", 1);
    assert_eq!(said["clear"], false);
    let likeliest = said["causes"][0]["probability"].as_f64().unwrap();
    assert!(likeliest < 0.25, "{likeliest}");
    assert_eq!(said["answers"].as_array().unwrap().len(), 2);
}

#[test]
fn two_faults_at_once_are_both_named() {
    let said = concluded("two_faults_at_once", 1);
    let mut likeliest: Vec<&str> = said["likely_sets"][0]["causes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cause| cause.as_str().unwrap())
        .collect();
    likeliest.sort_unstable();
    assert_eq!(likeliest, ["gauge_reads_high", "preload_too_high"]);
    assert!(chance(said, "gauge_reads_high") > 0.9);
    assert!(chance(said, "preload_too_high") > 0.9);
}

#[test]
fn the_wrong_answer_is_the_one_that_the_conclusion_doubts() {
    let said = concluded("wrong_answer", 1);
    let doubt = &said["doubts"][0];
    assert_eq!(ids(&doubt["answers"]), ["rod_alone_moves"]);
    assert_eq!(doubt["lead"], "actuator_seized");
    assert!(chance(said, "actuator_seized") > 0.2, "the true cause is not buried");
}
