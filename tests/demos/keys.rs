//! The JSON form of every round of every recording has the keys that scripts rest on.

use serde_json::Value;

use super::recording::conclusions;

const TOP: [&str; 13] = [
    "complaint",
    "round",
    "next_question",
    "open_questions",
    "workings",
    "findings",
    "causes",
    "likely_sets",
    "next_work",
    "cautions",
    "contradiction",
    "inference",
    "doubts",
];

/// Keys of the entries of a list.
const ENTRIES: [(&str, &[&str]); 6] = [
    (
        "workings",
        &[
            "id",
            "value",
            "unit",
            "standard_uncertainty",
            "low",
            "high",
            "band_from",
            "formula",
            "source",
            "assumed",
        ],
    ),
    ("findings", &["id", "probability"]),
    ("causes", &["id", "title", "probability", "for", "against"]),
    ("likely_sets", &["causes", "probability"]),
    ("next_work", &["kind", "id", "minutes", "chance", "expect"]),
    ("cautions", &["id", "level", "text"]),
];

fn missing<'k>(entry: &Value, keys: &[&'k str]) -> Vec<&'k str> {
    let known = |key: &str| entry.as_object().is_some_and(|fields| fields.contains_key(key));
    keys.iter().copied().filter(|key| !known(key)).collect()
}

/// Every number under a key that holds a chance, however deep.
fn chances(value: &Value, found: &mut Vec<f64>) {
    match value {
        Value::Array(entries) => entries.iter().for_each(|entry| chances(entry, found)),
        Value::Object(fields) => {
            for (key, entry) in fields {
                match entry.as_f64() {
                    Some(number) if ["probability", "chance", "left_out"].contains(&&**key) => {
                        found.push(number);
                    }
                    _ => chances(entry, found),
                }
            }
        }
        _ => {}
    }
}

fn descending(entries: &Value) -> bool {
    let chances: Vec<f64> = entries
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["probability"].as_f64().unwrap())
        .collect();
    chances.is_sorted_by(|a, b| a >= b)
}

#[test]
fn every_round_has_the_keys_that_scripts_rest_on_and_chances_from_0_to_1() {
    for one in conclusions() {
        let (at, conclusion) = (format!("{}, round {}", one.name, one.round), &one.json);
        assert_eq!(missing(conclusion, &TOP), [""; 0], "{at}");
        for (list, keys) in ENTRIES {
            for entry in conclusion[list].as_array().unwrap() {
                assert_eq!(missing(entry, keys), [""; 0], "{at}: {list} {entry}");
            }
        }
        assert_eq!(conclusion["round"], one.round, "{at}");
        let mut found = Vec::new();
        chances(conclusion, &mut found);
        assert!(found.len() > 20, "{at}: {} chances", found.len());
        assert!(found.iter().all(|chance| (0.0..=1.0).contains(chance)), "{at}: {found:?}");
        assert!(descending(&conclusion["causes"]), "{at}");
        assert!(descending(&conclusion["likely_sets"]), "{at}");
        assert!(conclusion["likely_sets"].as_array().unwrap().len() <= 10, "{at}");
        assert!(conclusion["contradiction"].is_null(), "{at}");
    }
}

#[test]
fn later_rounds_have_a_verdict_and_the_first_has_none() {
    let keys = ["verdict", "probability", "before", "after", "predicted"];
    for one in conclusions() {
        let at = format!("{}, round {}", one.name, one.round);
        let verdict = one.json.get("verdict");
        assert_eq!(verdict.is_some(), one.round > 1, "{at}");
        assert_eq!(verdict.map_or(Vec::new(), |verdict| missing(verdict, &keys)), [""; 0], "{at}");
    }
}

/// Every text under a key that holds a code, however deep.
fn codes(value: &Value, found: &mut Vec<String>) {
    const KEYS: [&str; 7] = ["rests_on", "because", "code", "kind", "verdict", "told", "band_from"];
    match value {
        Value::Array(entries) => entries.iter().for_each(|entry| codes(entry, found)),
        Value::Object(fields) => {
            for (key, entry) in fields {
                match entry.as_str() {
                    Some(text) if KEYS.contains(&&**key) => found.push(text.to_owned()),
                    _ => codes(entry, found),
                }
            }
        }
        _ => {}
    }
}

#[test]
fn what_a_script_decides_by_is_a_code_and_no_sentence() {
    let mut found = Vec::new();
    for one in conclusions() {
        codes(&one.json, &mut found);
        assert!(one.json["inference"]["rests_on_text"].as_str().unwrap().contains(' '));
    }
    let is_code =
        |text: &&String| text.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_');
    assert!(found.len() > 100 && found.iter().all(|text| is_code(&text)), "{found:?}");
}
