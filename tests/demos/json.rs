//! The JSON form of every round of every recording: short enough to be read, as its schema says, and
//! with the same numbers as in full.

use boostwright::report::conclusion_schema;
use boostwright::report::model::InferenceCode;
use serde_json::{Value, json};

use super::recording::{Concluded, conclusions};
use crate::pack_verbs::draft7::refusals;

fn brief(one: &Concluded) -> Value {
    serde_json::from_str(&one.brief).unwrap()
}

#[test]
fn what_show_prints_stays_under_150_kilobytes() {
    for one in conclusions() {
        let bytes = one.brief.len();
        assert!(bytes < 150_000, "{} round {}: {bytes} bytes", one.name, one.round);
    }
}

#[test]
fn every_conclusion_fits_the_schema_in_brief_and_in_full() {
    let schema = conclusion_schema();
    for one in conclusions() {
        for value in [&brief(one), &one.json] {
            assert_eq!(refusals(&schema, value), [""; 0], "{} round {}", one.name, one.round);
        }
    }
}

#[test]
fn the_schema_refuses_what_is_no_conclusion() {
    let schema = conclusion_schema();
    let sound = &conclusions()[0].json;
    let spoilt = |key: &str, value: Value| {
        let mut spoilt = sound.clone();
        spoilt[key] = value;
        refusals(&schema, &spoilt)
    };
    assert!(!spoilt("round", json!("1")).is_empty());
    assert!(!spoilt("another_key", json!(1)).is_empty());
    assert!(!spoilt("causes", json!([{"id": "a"}])).is_empty());
    let mut short = sound.clone();
    short.as_object_mut().unwrap().remove("causes");
    assert_eq!(refusals(&schema, &short), [": \"causes\" is missing"]);
}

/// Every name of the schema stands in some conclusion, or is known to be rare.
#[test]
fn the_schema_names_nothing_that_is_never_there() {
    const RARE: [&str; 6] =
        ["supposed", "clashing", "internal_error", "new_since_repair", "denied", "workshop_check"];
    let schema = conclusion_schema();
    let seen = |name: &str| {
        conclusions().iter().any(|one| !one.json[name].is_null() || one.brief.contains(name))
    };
    for name in schema["properties"].as_object().unwrap().keys() {
        assert!(RARE.contains(&name.as_str()) || name == "contradiction" || seen(name), "{name}");
    }
}

#[test]
fn what_is_left_out_is_said_and_counted() {
    for one in conclusions() {
        let (at, brief, full) =
            (format!("{} round {}", one.name, one.round), brief(one), &one.json);
        let count = |value: &Value, list: &str| value[list].as_array().unwrap().len();
        let left_out = &brief["left_out"];
        assert!(left_out["note"].as_str().unwrap().contains("--full"), "{at}");
        let unlikely = left_out["unlikely_causes"].as_object().unwrap();
        assert_eq!(count(&brief, "causes") + unlikely.len(), count(full, "causes"), "{at}");
        for list in ["findings", "workings", "likely_sets"] {
            let counted = usize::try_from(left_out[list].as_u64().unwrap()).unwrap();
            assert_eq!(count(&brief, list) + counted, count(full, list), "{at}: {list}");
        }
        let fields = left_out["working_fields"].as_array().unwrap();
        for working in brief["workings"].as_array().unwrap() {
            assert!(fields.iter().all(|field| working.get(field.as_str().unwrap()).is_none()));
        }
        assert!(full.get("left_out").is_none(), "{at}");
    }
}

/// What stays is the same to the last bit.
#[test]
fn what_is_told_in_brief_is_told_alike_in_full() {
    for one in conclusions() {
        let (brief, full) = (brief(one), &one.json);
        for key in ["round", "doubts", "next_work", "cautions", "clear", "inference"] {
            assert_eq!(brief[key], full[key], "{} round {}: {key}", one.name, one.round);
        }
        for cause in full["causes"].as_array().unwrap() {
            let (id, chance) = (cause["id"].as_str().unwrap(), &cause["probability"]);
            let listed = brief["causes"].as_array().unwrap().iter().find(|own| own["id"] == id);
            let told =
                listed.map_or(&brief["left_out"]["unlikely_causes"][id], |own| &own["probability"]);
            assert_eq!(told, chance, "{}: {id}", one.name);
        }
    }
}

#[test]
fn the_schema_knows_every_way_that_chances_are_found() {
    use InferenceCode::{AllSets, Chains, Contradiction, Draws, Failed, Pairs};
    let known = &conclusion_schema()["properties"]["inference"]["properties"]["rests_on"]["enum"];
    let all = [Contradiction, AllSets, Pairs, Draws, Chains, Failed];
    for code in all {
        // Another code does not compile here before it is listed above.
        match code {
            Contradiction | AllSets | Pairs | Draws | Chains | Failed => {}
        }
        assert!(known.as_array().unwrap().contains(&json!(code)), "{code:?} in {known}");
    }
    assert_eq!(known.as_array().unwrap().len(), all.len());
}
