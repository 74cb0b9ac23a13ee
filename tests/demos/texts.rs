//! What `boostwright replay` prints for each recording is the text beside it.

use std::fs;

use assert_cmd::Command;

use super::recording::{conclusions, folder, names};
use crate::project::{root, text};

/// How a text is renewed once its changes were read and found right.
fn renewal(name: &str) -> String {
    let file = format!("transcripts-demo/{name}");
    format!("If that is right: cargo run -- replay {file}.yaml > {file}.txt")
}

/// Stdout of a replay that goes well and has nothing else to say.
fn replayed(name: &str) -> String {
    let output = Command::cargo_bin("boostwright")
        .unwrap()
        .env_clear()
        .current_dir(root())
        .args(["replay", &format!("transcripts-demo/{name}.yaml")])
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && said.is_empty(), "{name}: {:?} {said}", output.status);
    String::from_utf8(output.stdout).unwrap()
}

/// The first line in which two texts differ, with both.
fn first_difference(recorded: &str, printed: &str) -> Option<String> {
    let mut recorded_lines = recorded.lines();
    let mut printed_lines = printed.lines();
    for number in 1.. {
        let (was, is) = (recorded_lines.next(), printed_lines.next());
        if was.is_none() && is.is_none() {
            break;
        }
        if was != is {
            let shown = |line: Option<&str>| line.unwrap_or("(the text ends)").to_owned();
            return Some(format!("line {number}\n  - {}\n  + {}", shown(was), shown(is)));
        }
    }
    (recorded != printed).then(|| "the ends of lines differ".to_owned())
}

fn recorded(name: &str) -> String {
    fs::read_to_string(folder().join(name).with_extension("txt"))
        .unwrap_or_else(|error| panic!("{name}.txt: {error}. {}", renewal(name)))
}

#[test]
fn each_recording_comes_to_the_text_beside_it() {
    let changed: Vec<String> = conclusions()
        .iter()
        .filter(|one| one.last)
        .filter_map(|one| {
            let difference = first_difference(&recorded(&one.name), &one.text)?;
            Some(format!("{}: {difference}\n{}", one.name, renewal(&one.name)))
        })
        .collect();
    assert!(changed.is_empty(), "{}", changed.join("\n\n"));
}

#[test]
fn the_program_prints_that_text() {
    let name = "nearly_nothing_known";
    assert_eq!(first_difference(&recorded(name), &replayed(name)), None);
}

#[test]
fn the_first_line_in_which_two_texts_differ_is_shown() {
    assert_eq!(first_difference("a\nb\n", "a\nb\n"), None);
    assert_eq!(first_difference("a\nb\n", "a\nc\n").unwrap(), "line 2\n  - b\n  + c");
    assert_eq!(first_difference("a\n", "a\nc\n").unwrap(), "line 2\n  - (the text ends)\n  + c");
    assert_eq!(first_difference("a\n", "a").unwrap(), "the ends of lines differ");
}

#[test]
fn every_text_has_its_recording() {
    let mut texts: Vec<String> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "txt"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    texts.sort();
    assert_eq!(texts, names());
}

#[test]
fn every_recording_says_that_it_is_invented_and_stands_in_the_folders_guide() {
    let guide = text("transcripts-demo/README.md");
    for name in names() {
        let recording = text(&format!("transcripts-demo/{name}.yaml"));
        assert!(recording.starts_with("# Invented: "), "{name}");
        assert!(guide.contains(&format!("| `{name}` |")), "{name}");
    }
}
