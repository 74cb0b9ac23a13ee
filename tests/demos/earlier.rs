//! What was seen before a repair speaks on after it, as what it was: a thing that was so stays a thing
//! that was so.

use serde_json::Value;

use super::recording::{concluded, conclusions};

/// The reasons of all causes that were seen before the repair alone.
fn earlier(conclusion: &Value) -> Vec<Value> {
    let causes = conclusion["causes"].as_array().unwrap().iter();
    causes
        .flat_map(|cause| ["for", "against"].map(|side| cause[side].as_array().unwrap().clone()))
        .flatten()
        .filter(|reason| reason["earlier"] == true)
        .collect()
}

#[test]
fn a_reason_from_before_the_repair_keeps_the_sign_that_it_had() {
    let mut seen = 0;
    for one in conclusions().iter().filter(|one| one.round > 1) {
        for reason in earlier(&one.json) {
            let id = reason["finding"].as_str().unwrap();
            let before = (1..one.round).rev().find_map(|round| {
                let findings = concluded(&one.name, round)["findings"].as_array().unwrap();
                findings.iter().find(|finding| finding["id"] == id)?["probability"].as_f64()
            });
            let at = format!("{}, round {}: {reason}", one.name, one.round);
            assert_eq!(reason["probability"].as_f64(), before, "{at}");
            assert_eq!(reason["holds"].as_bool(), before.map(|chance| chance > 0.5), "{at}");
            seen += usize::from(reason["holds"] == true);
        }
        assert!(!one.text.contains("(ruled out before the repair; ×") || seen > 0);
    }
    assert!(seen > 10, "{seen} that were so");
}
