//! Marks of a curve as rule files give them.

use std::fs;
use std::path::PathBuf;

use boostwright::rules::{PackSource, load};
use tempfile::tempdir;

/// What is said about the small pack with one text swapped for another.
fn faults(from: &str, to: &str) -> String {
    let folder = tempdir().unwrap();
    let rules = fs::read_to_string("tests/report/pack/rules.yaml").unwrap();
    assert!(rules.contains(from), "{from}");
    fs::write(folder.path().join("rules.yaml"), rules.replace(from, to)).unwrap();
    let source = PackSource::Folder(PathBuf::from(folder.path()));
    load(&[source]).unwrap().faults.draw(false).join("\n")
}

#[test]
fn a_mark_that_can_not_stand_on_its_axis_is_a_fault() {
    let said = faults("        at: planned_port", "        at: peak_boost");
    assert!(
        said.contains("peak_boost is gauge pressure, but that axis of the curve is length"),
        "{said}"
    );
    let said = faults("        value: peak_boost", "        value: port_diameter");
    assert!(
        said.contains("port_diameter is length, but that axis of the curve is pressure"),
        "{said}"
    );
}

#[test]
fn a_misspelt_name_in_a_mark_gets_the_name_that_was_meant() {
    let said = faults("        at: planned_port", "        at: planed_port");
    assert!(said.contains("planed_port") && said.contains("did you mean planned_port"), "{said}");
}

#[test]
fn a_mark_without_a_place_is_passed_over_with_a_word() {
    let said = faults("        at: planned_port", "        value: peak_boost");
    assert!(said.contains("a mark has no place"), "{said}");
}
