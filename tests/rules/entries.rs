//! The built-in files are written so plainly that their entries are found without a reader.

#[path = "../../src/rules/plain_entries.rs"]
mod plain_entries;

use std::fs::read_to_string;

use boostwright::rules::yaml::{RouteStep, places};
use plain_entries::plain_entries;

use crate::project::rule_files;

#[test]
fn entries_of_the_built_in_files_are_found_where_the_reader_finds_them() {
    let mut looked_at = 0;
    for file in rule_files() {
        let text = read_to_string(&file).unwrap();
        let read = places(&text).unwrap();
        let quick = plain_entries(&text);
        for route in read.routes() {
            let [RouteStep::Key(section), RouteStep::Key(id)] = route.as_slice() else {
                continue;
            };
            if section != "pack" {
                let found = quick.get(&(section.as_str(), id.as_str())).cloned();
                assert_eq!(found, read.key(route), "{id} in {}", file.display());
                looked_at += 1;
            }
        }
    }
    assert!(looked_at > 1000, "only {looked_at} entries");
}
