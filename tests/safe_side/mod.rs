//! Numbers and orders that can hurt an engine or a person where they are wrong: the fuel's ceilings, the
//! settings, what a lean mixture stops, when the road is forbidden, the place of the gauge, the one lift.
//! All cars and readings are invented.

mod gauge_place;
mod lift;
mod mixture;
mod road;
mod settings;

use boostwright::interview::{Round, fold};
use boostwright::report::{conclude, json};
use boostwright::rules::{Given, Pack};
use serde_json::Value;

/// Answers as a person writes them.
type Answers<'a> = [(&'a str, &'a str)];

const TOO_HIGH: &str = "boost_too_high_controller_off";
const ANOTHER_SETTING: &str = "wants_another_setting";

/// The JSON form of what the answers come to.
#[track_caller]
fn concluded(pack: &Pack, complaint: &str, answers: &[&Answers<'_>]) -> Value {
    told(pack, &[round(pack, complaint, answers)])
}

#[track_caller]
fn round(pack: &Pack, complaint: &str, answers: &[&Answers<'_>]) -> Round {
    let given = answers
        .iter()
        .flat_map(|part| part.iter())
        .map(|(id, text)| ((*id).to_owned(), Given::Text((*text).to_owned())))
        .collect();
    let complaint = pack.complaints.find(complaint).unwrap();
    let mut round = Round { complaints: vec![complaint], ..Round::default() };
    round.read_answers(pack, &given).unwrap();
    round
}

/// The same after a repair, nothing answered since.
#[track_caller]
fn concluded_after(pack: &Pack, repair: &str, complaint: &str, answers: &[&Answers<'_>]) -> Value {
    let first = round(pack, complaint, answers);
    told(pack, &[first, Round { repair: pack.repairs.find(repair), ..Round::default() }])
}

fn told(pack: &Pack, rounds: &[Round]) -> Value {
    let repair = rounds.last().and_then(|round| round.repair);
    serde_json::from_str(&json(&conclude(&fold(pack, rounds, None), repair))).unwrap()
}

fn named<'v>(conclusion: &'v Value, list: &str, id: &str) -> Option<&'v Value> {
    conclusion[list].as_array().unwrap().iter().find(|line| line["id"] == id)
}

/// A working's value in SI, where it has one.
fn value(conclusion: &Value, id: &str) -> Option<f64> {
    named(conclusion, "workings", id).map(|line| line["value"].as_f64().unwrap())
}

/// Why a working has no value.
#[track_caller]
fn why_not<'v>(conclusion: &'v Value, id: &str) -> &'v str {
    let refused = named(conclusion, "refused", id);
    refused.unwrap_or_else(|| panic!("{id}: {}", conclusion["refused"]))["reason"].as_str().unwrap()
}

/// The level of a caution in force.
fn caution<'v>(conclusion: &'v Value, id: &str) -> Option<&'v str> {
    named(conclusion, "cautions", id)
        .filter(|line| line["in_force"] == true)
        .map(|line| line["level"].as_str().unwrap())
}

/// The questions that may still come up and need the road.
fn asked_on_the_road<'v>(pack: &Pack, conclusion: &'v Value) -> Vec<&'v str> {
    let road = pack.car_states.find("on_the_road").unwrap();
    let open = conclusion["open_questions"].as_array().unwrap();
    open.iter()
        .map(|id| id.as_str().unwrap())
        .filter(|id| pack.questions[pack.questions.find(id).unwrap()].car == Some(road))
        .collect()
}

#[track_caller]
fn near(found: Option<f64>, expected: f64, within: f64) {
    let found = found.expect("a value");
    assert!((found - expected).abs() <= within, "{found} is not {expected} ± {within}");
}
