//! DEVELOPERS.md says of every direct dependency what it is for and where it is used, and of every
//! piece made by hand why.

use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

use serde::Deserialize;

use super::markdown::{code_words, section};
use crate::project::{root, rust_files, text};

#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    dependencies: Vec<Dependency>,
}

#[derive(Deserialize)]
struct Dependency {
    name: String,
    /// None for a plain one, else `dev` or `build`.
    kind: Option<String>,
}

fn dependencies() -> Vec<Dependency> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--locked", "--format-version=1"])
        .current_dir(root())
        .output()
        .unwrap();
    let listed = String::from_utf8(output.stdout).unwrap();
    let mut packages = serde_json::from_str::<Metadata>(&listed).unwrap().packages;
    assert_eq!(packages.len(), 1);
    packages.remove(0).dependencies
}

/// The rows of the tables under the heading, by the head of their first column.
fn rows<'a>(page: &'a str, head: &str) -> Vec<[&'a str; 3]> {
    let cells = |line: &'a str| -> Option<[&'a str; 3]> {
        let inner = line.strip_prefix("| ")?.strip_suffix(" |")?;
        inner.split(" | ").collect::<Vec<_>>().try_into().ok()
    };
    let lines = section(page, "## Who owns what").lines();
    lines
        .skip_while(|line| !line.starts_with(&format!("| {head} |")))
        .skip(2)
        .map_while(cells)
        .collect()
}

fn libraries<'a>(row: &[&'a str; 3]) -> Vec<&'a str> {
    row[1].split(", ").collect()
}

fn uses(text: &str, library: &str) -> bool {
    let path = library.replace('-', "_");
    text.contains(&format!("{path}::")) || text.contains(&format!("{path}!"))
}

/// Every file of a folder, or the file itself, with its path from the root.
fn files(place: &str) -> Vec<(String, String)> {
    let path = root().join(place);
    let found = if path.is_dir() { rust_files(&path) } else { vec![path] };
    found
        .into_iter()
        .map(|file| {
            let short = file.strip_prefix(root()).unwrap().to_str().unwrap().to_owned();
            (short, fs::read_to_string(file).unwrap())
        })
        .collect()
}

#[test]
fn every_direct_dependency_has_its_row_and_every_row_its_dependency() {
    let guide = text("DEVELOPERS.md");
    let rows = rows(&guide, "need");
    let told: BTreeSet<&str> = rows.iter().flat_map(libraries).collect();
    let dependencies = dependencies();
    let used: BTreeSet<&str> =
        dependencies.iter().map(|dependency| dependency.name.as_str()).collect();
    assert_eq!(told, used);
}

#[test]
fn a_library_is_used_where_the_guide_says_and_nowhere_else() {
    let guide = text("DEVELOPERS.md");
    let rows = rows(&guide, "need");
    let program: Vec<(String, String)> = [files("src"), files("build.rs")].concat();
    for dependency in dependencies().iter().filter(|one| one.kind.as_deref() != Some("dev")) {
        let library = dependency.name.as_str();
        let owners: Vec<&str> =
            rows.iter().filter(|row| libraries(row).contains(&library)).map(|row| row[2]).collect();
        let anybody = owners.iter().any(|owner| owner.starts_with("who "));
        let places: Vec<&str> = owners.iter().flat_map(|owner| code_words(owner)).collect();
        let users = program.iter().filter(|(_, text)| uses(text, library));
        let strangers: Vec<&String> = users
            .map(|(file, _)| file)
            .filter(|file| !anybody && !places.iter().any(|place| file.starts_with(place)))
            .collect();
        assert!(strangers.is_empty(), "{library} is used in {strangers:?} too");
        for place in places.into_iter().filter(|_| !anybody) {
            let used = files(place).iter().any(|(_, text)| uses(text, library));
            assert!(used, "{library} is not used in {place}");
        }
    }
}

#[test]
fn what_only_tests_need_is_used_by_them() {
    let tests = files("tests");
    for dependency in dependencies().iter().filter(|one| one.kind.as_deref() == Some("dev")) {
        let used = tests.iter().any(|(_, text)| uses(text, &dependency.name));
        assert!(used, "no test uses {}", dependency.name);
    }
}

#[test]
fn every_piece_made_by_hand_says_where_it_is_and_why() {
    let guide = text("DEVELOPERS.md");
    let rows = rows(&guide, "piece");
    assert!(rows.len() > 10, "only {} rows read", rows.len());
    for [piece, place, why] in rows {
        assert!(!code_words(place).is_empty(), "{piece}: where?");
        assert!(why.len() > 40, "{piece}: why?");
    }
}
