//! DEVELOPERS.md names files and rooms that exist.

use super::markdown::code_words;
use crate::project::{root, text};

/// Words in code that are paths in this project: with a `/` inside and a known first folder, or a
/// file at the top.
fn paths(page: &str) -> Vec<&str> {
    const TOPS: [&str; 5] = ["src/", "tests/", "rules/", ".ci/", ".clippy.toml"];
    code_words(page)
        .into_iter()
        .filter(|word| !word.contains([' ', '*', '<']))
        .filter(|word| TOPS.iter().any(|top| word.starts_with(top)) || word.ends_with(".md"))
        .collect()
}

#[test]
fn every_file_that_a_guide_names_is_there() {
    for page in ["README.md", "DEVELOPERS.md", "rules/README.md"] {
        let text = text(page);
        for path in paths(&text) {
            assert!(root().join(path).exists(), "{page} names {path}, which isn't there");
        }
    }
    assert!(paths(&text("DEVELOPERS.md")).len() > 30);
}

#[test]
fn every_room_has_its_row_in_the_map() {
    let guide = text("DEVELOPERS.md");
    for entry in std::fs::read_dir(root().join("src")).unwrap() {
        let entry = entry.unwrap();
        if entry.path().is_dir() {
            let room = entry.file_name().into_string().unwrap();
            assert!(guide.contains(&format!("| `{room}` |")), "{room} is not on the map");
        }
    }
}
