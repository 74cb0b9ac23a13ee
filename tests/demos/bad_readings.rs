//! Readings that can't be, or hardly: never a panic, never a number without a word on it, never a long
//! wait. The cars are those of the recordings, with other answers here and there.

use boostwright::interview::{fold, read_answer};
use boostwright::report::{conclude, json, text};
use boostwright::rules::Given;
use serde_json::Value;

use super::recording::Recording;
use crate::built_in::built_in;
use crate::clock::Clock;

/// What a person waits for without noticing much. A build for tests works a few times as long as the one
/// that is used, and here on a single core.
const PATIENCE_MS: u128 = if cfg!(debug_assertions) { 4 * 300 } else { 300 };

struct Told {
    json: Value,
    text: String,
}

/// What is concluded of the planned port with some answers replaced, in the time that is held: to work
/// out all that the answers say, and to conclude.
fn told(changes: &[(&str, &str)]) -> Told {
    let recording = Recording::altered("port_planned", changes);
    let (pack, rounds) = (built_in(), &recording.rounds);
    let alone = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    alone.install(|| {
        let clock = Clock::start();
        let state = fold(pack, rounds, None);
        let folded = clock.worked();
        let clock = Clock::start();
        let conclusion = conclude(&state, None);
        let concluded = clock.worked();
        for (what, took) in [("the fold", folded), ("the conclusion", concluded)] {
            assert!(took.as_millis() < PATIENCE_MS, "{what}: {took:?}");
        }
        let json = serde_json::from_str(&json(&conclusion)).unwrap();
        Told { json, text: text(&conclusion, 80).into() }
    })
}

/// Why an answer isn't taken.
fn refusal(question: &str, answer: &str) -> String {
    let pack = built_in();
    let question = &pack.questions[pack.questions.find(question).unwrap()];
    read_answer(pack, question, &Given::Text(answer.to_owned())).unwrap_err().to_string()
}

const TIED_OPEN: &str = "boost_with_gate_tied_open: 0.70; 0.69; 0.71 bar";

/// Width of the band of the boost forecast for the planned port, bar.
fn width(told: &Told) -> Option<f64> {
    let workings = told.json["workings"].as_array().unwrap();
    let line = workings.iter().find(|line| line["id"] == "boost_at_new_port")?;
    Some((line["high"].as_f64()? - line["low"].as_f64()?) / 1e5)
}

fn clashes(told: &Told) -> bool {
    let readings = told.json["readings"].as_array();
    readings.is_some_and(|all| all.iter().any(|one| !one["clash"].is_null()))
}

/// A number that can't be right is told of: the reading that clashes, or why there is no number.
fn assert_told(told: &Told) {
    let refused = width(told).is_none();
    assert!(clashes(told) || refused, "{}", told.text);
    if clashes(told) {
        assert!(told.text.contains("engine in"), "{}", told.text);
    }
}

#[test]
fn readings_in_clash() {
    let told = told(&[(TIED_OPEN, "boost_with_gate_tied_open: 1.40; 1.41; 1.39 bar")]);
    assert_told(&told);
    assert!(width(&told).is_some_and(|width| width > 0.0));
}

#[test]
fn one_reading_over_and_over() {
    let often = format!("boost_with_gate_tied_open: {} bar", ["0.70"; 33].join("; "));
    let (many, few) = (told(&[(TIED_OPEN, &often)]), told(&[]));
    // The gauge and the formula are no better for it.
    let (many, few) = (width(&many).unwrap(), width(&few).unwrap());
    assert!(many > 0.7 * few && many < 1.3 * few, "{many} {few}");
    // A hundred have no room in one answer, and that is said.
    let hundred = format!("{} bar", ["0.70"; 100].join("; "));
    assert!(refusal("boost_with_gate_tied_open", &hundred).contains("longer than 200 letters"));
}

#[test]
fn a_reading_said_to_be_exact() {
    let exact = told(&[(TIED_OPEN, "boost_with_gate_tied_open: 0.70 bar ± 0 bar")]);
    let (exact, usual) = (width(&exact).unwrap(), width(&told(&[])).unwrap());
    assert!(exact > 0.5 * usual && exact < 1.1 * usual, "{exact} {usual}");
}

#[test]
fn a_port_larger_than_any_gate() {
    let wide = ("      port_diameter: 18.0 mm", "      port_diameter: 55.0 mm");
    let told = told(&[wide]);
    let cautions = told.json["cautions"].as_array().unwrap();
    assert!(cautions.iter().any(|one| one["id"] == "port_wider_than_any"), "{}", told.text);
    assert!(refusal("port_diameter", "180 mm").contains("outside the plausible range"));
}

#[test]
fn a_displacement_off_by_ten() {
    let told = told(&[("engine_displacement: 2.3 L", "engine_displacement: 0.3 L")]);
    assert_told(&told);
    assert!(width(&told).is_some());
    // Some answer is named to look at: several would explain it, were their points off by a place.
    let readings = told.json["readings"].as_array().unwrap();
    assert!(readings.iter().any(|one| one["clash"]["doubt"].is_object()), "{}", told.text);
    assert!(refusal("engine_displacement", "23 L").contains("outside the plausible range"));
}

#[test]
fn speeds_and_tables_out_of_order() {
    // The lower speed above the upper one, and rows of a table as they came to mind.
    let told = told(&[
        (
            "boost_tied_open_lower: unknown",
            "boost_tied_open_lower: 0.72; 0.72; 0.73 bar\n      speed_tied_open_lower: 6400 rpm",
        ),
        (
            "spring_marked: 0.38 bar",
            "spring_marked: 0.38 bar\n      travel_rising:\n        \
             - {pressure: 0.60 bar, travel: 8 mm}\n        - {pressure: 0.40 bar, travel: 1 mm}\n        \
             - {pressure: 0.50 bar, travel: 4 mm}",
        ),
    ]);
    assert!(clashes(&told) || width(&told).is_some_and(|width| width > 0.05), "{}", told.text);
}
