//! The kit of a sheet: each piece once, and no other lost for it.

#[path = "../../src/report/sheet/doubles.rs"]
mod doubles;

use doubles::without_doubles;

fn kit_of(pieces: &[&str]) -> Vec<String> {
    without_doubles(pieces.iter().map(|piece| (*piece).to_owned()))
}

#[test]
fn what_is_fetched_anyway_is_not_fetched_twice() {
    assert_eq!(kit_of(&["lamp", "Lamp ", "mirror"]), ["lamp", "mirror"]);
    assert_eq!(kit_of(&["dial gauge or strip of paper", "dial gauge"]), ["dial gauge"]);
    let sensor = "intake sensor, read through the ECU, or workshop gauge, 1.6 bar span";
    assert_eq!(kit_of(&["workshop gauge, 1.6 bar span", sensor]).len(), 1);
}

#[test]
fn what_only_sounds_alike_stays() {
    assert_eq!(kit_of(&["hose", "short hose"]), ["hose", "short hose"]);
    assert_eq!(kit_of(&["caliper or rule", "gauge"]), ["caliper or rule", "gauge"]);
}
