//! `pack check --form json`: the same faults that are drawn for a person, as data.

use serde_json::{Value, json};

use super::{folder, outcome};

const RULES: &str = "\
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
findings:
  hose_open: {when: 'not höse', leak: 0.1}
steps:
  look: {ask: [hose], then: [{go: conclude}]}
  hose: {ask: [hose], then: [{go: conclude}]}
";

fn faults(rules: &str) -> (i32, Vec<Value>) {
    let folder = folder(rules);
    let (code, out, err) =
        outcome(folder.path(), &["pack", "check", "--only", "--form", "json", "."]);
    assert_eq!(err, "");
    (code, serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}")))
}

#[test]
fn each_fault_is_one_object_with_its_place_and_a_way_out() {
    let (code, faults) = faults(RULES);
    assert_eq!(code, 1);
    let taken = faults.iter().find(|fault| fault["code"] == "repeated-id").unwrap();
    assert_eq!(
        *taken,
        json!({
            "code": "repeated-id",
            "severity": "error",
            "headline": "the id hose is taken",
            "file": "./rules.yaml", "line": 9, "column": 3, "end": {"line": 9, "column": 7},
            "notes": [
                {
                    "text": "given again here",
                    "file": "./rules.yaml", "line": 9, "column": 3, "end": {"line": 9, "column": 7},
                },
                {
                    "text": "first given here, in questions",
                    "file": "./rules.yaml", "line": 4, "column": 3, "end": {"line": 4, "column": 7},
                },
            ],
            "help": "ids are unique in a pack, over all sections: rename one of them",
        })
    );
}

#[test]
fn columns_count_letters_up_to_the_end_of_the_spot() {
    let (_, faults) = faults(RULES);
    let formula = faults.iter().find(|fault| fault["code"] == "formula").unwrap();
    let line = RULES.lines().nth(5).unwrap();
    let spot = |key: &Value| usize::try_from(key.as_u64().unwrap()).unwrap();
    let (from, to) = (spot(&formula["column"]), spot(&formula["end"]["column"]));
    let marked: String = line.chars().skip(from - 1).take(to - from).collect();
    assert_eq!((spot(&formula["line"]), marked.contains('ö')), (6, true), "{formula}");
}

#[test]
fn every_fault_has_every_field() {
    let (_, faults) = faults(&format!("{RULES}causes: {{odd: {{title: Odd, common: 2}}}}\n"));
    assert!(faults.len() > 3, "{faults:?}");
    for fault in faults {
        let fields: Vec<&str> = fault.as_object().unwrap().keys().map(String::as_str).collect();
        let mut wanted =
            ["code", "severity", "headline", "file", "line", "column", "end", "notes", "help"];
        wanted.sort_unstable();
        assert_eq!(fields, wanted);
        assert!(!fault["help"].as_str().unwrap().is_empty(), "{fault}");
    }
}

#[test]
fn a_sound_pack_gives_an_empty_list_and_warnings_alone_are_no_failure() {
    let sound = "strengths: {now_and_then: 1 in 3}\n";
    assert_eq!(faults(sound), (0, vec![]));
    let (code, faults) = faults("questions: {paint: {text: What colour?, answer: yes_or_no}}\n");
    assert_eq!(code, 0);
    assert!(faults.iter().all(|fault| fault["severity"] == "warning"), "{faults:?}");
    assert!(!faults.is_empty());
}

#[test]
fn a_file_that_is_no_yaml_is_one_fault_at_its_spot() {
    let (code, faults) = faults("questions:\n\those: {}\n");
    assert_eq!((code, faults.len()), (1, 1));
    assert_eq!(
        (faults[0]["code"].as_str(), faults[0]["line"].as_u64()),
        (Some("no-yaml"), Some(2))
    );
}
