//! Every command of the guides: those in console blocks are run and give what stands below them,
//! the others at least say nothing that the command line refuses.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

use super::guide::first_cause;
use super::markdown::{blocks, code_words};
use crate::project::text;

const PAGES: [&str; 3] = ["README.md", "DEVELOPERS.md", "rules/README.md"];

/// A folder with the files that the guides' commands speak of.
fn workplace() -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("bracket")).unwrap();
    let cause = first_cause(&text("rules/README.md"));
    fs::write(folder.path().join("bracket/bracket.yaml"), cause).unwrap();
    let readme = text("README.md");
    let answers = blocks(&readme).into_iter().find(|block| block.language == "yaml");
    fs::write(folder.path().join("answers.yaml"), answers.unwrap().text).unwrap();
    let demo = "transcripts-demo/port_planned.yaml";
    fs::create_dir(folder.path().join("transcripts-demo")).unwrap();
    fs::write(folder.path().join(demo), text(demo)).unwrap();
    folder
}

/// The words of a command line; quotes hold words together as in a shell.
fn words(line: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut quote: Option<char> = None;
    let mut between = true;
    for letter in line.chars() {
        match (letter, quote) {
            ('"' | '\'', None) => quote = Some(letter),
            (_, Some(open)) if letter == open => quote = None,
            (' ', None) => {
                between = true;
                continue;
            }
            _ => {}
        }
        if between {
            found.push(String::new());
            between = false;
        }
        let is_quote = matches!(letter, '"' | '\'') && (quote.is_none() || quote == Some(letter));
        if let Some(word) = found.last_mut().filter(|_| !is_quote) {
            word.push(letter);
        }
    }
    found
}

/// What is typed behind `boostwright`, which may also be started through cargo.
fn typed(line: &str) -> Option<Vec<String>> {
    let behind = line
        .strip_prefix("boostwright ")
        .or_else(|| line.strip_prefix("cargo run --release -- "))
        .or_else(|| line.strip_prefix("cargo run -- "))?;
    Some(words(behind))
}

fn boostwright(arguments: &[String], folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_boostwright"))
        .args(arguments)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8([output.stderr.as_slice(), &output.stdout].concat()).unwrap()
}

/// The command line takes the words: help behind them is shown, not a complaint about them.
pub(super) fn is_understood(line: &str, folder: &Path) {
    let Some(mut arguments) = typed(line) else { panic!("no command of ours: {line}") };
    arguments.push("--help".to_owned());
    let output = boostwright(&arguments, folder);
    assert!(output.status.success(), "{line}: {}", said(&output));
}

/// Runs a command and holds what it says against the lines shown; `...` stands for any lines.
fn gives(line: &str, shown: &[&str], folder: &Path) {
    let arguments = typed(line).unwrap();
    let output = boostwright(&arguments, folder);
    let said = said(&output);
    assert_eq!(output.status.code(), Some(0), "{line}: {said}");
    if shown.is_empty() {
        return;
    }
    let mut lines = said.lines().map(str::trim_end);
    let mut skipping = false;
    for wanted in shown {
        if *wanted == "..." {
            skipping = true;
            continue;
        }
        let found = if skipping { lines.find(|line| line == wanted) } else { lines.next() };
        assert_eq!(found, Some(*wanted), "{line} says:\n{said}");
        skipping = false;
    }
    assert!(skipping || lines.next().is_none(), "{line} says more:\n{said}");
}

/// Held in a real terminal elsewhere, or a whole interview for each of the pack's cases.
fn is_not_run_here(arguments: &[String]) -> bool {
    match arguments.first().map(String::as_str) {
        Some("ask" | "recheck") => true,
        Some("pack") => arguments.get(1).is_some_and(|verb| verb == "test"),
        _ => false,
    }
}

#[test]
fn every_command_in_a_console_block_gives_what_stands_below_it() {
    let mut run = 0;
    for page in PAGES {
        let folder = workplace();
        for block in blocks(&text(page)).iter().filter(|block| block.language == "console") {
            let lines: Vec<&str> = block.text.lines().collect();
            for (at, line) in lines.iter().enumerate() {
                let Some(command) = line.strip_prefix("$ ") else { continue };
                let Some(arguments) = typed(command) else { continue };
                is_understood(command, folder.path());
                if is_not_run_here(&arguments) {
                    continue;
                }
                let below = &lines[at + 1..];
                let end = below.iter().position(|line| line.starts_with("$ "));
                gives(command, &below[..end.unwrap_or(below.len())], folder.path());
                run += 1;
            }
        }
    }
    assert!(run > 8, "only {run} commands were run");
}

#[test]
fn every_command_in_running_text_is_understood() {
    let folder = workplace();
    for page in PAGES {
        let text = text(page);
        let commands = code_words(&text).into_iter().filter(|word| typed(word).is_some());
        for command in commands {
            is_understood(command, folder.path());
        }
    }
}

#[test]
fn the_command_that_passes_the_tests_is_the_one_that_the_checks_run() {
    let checks = text(".ci/run");
    assert!(text("README.md").contains("\n$ cargo test\n"));
    assert!(checks.lines().any(|line| line == "step cargo test"));
}

#[test]
fn words_of_a_command_are_split_as_a_shell_splits_them() {
    assert_eq!(words("a  b"), ["a", "b"]);
    assert_eq!(words("calc \"2 + 2\" x='1 bar'"), ["calc", "2 + 2", "x=1 bar"]);
    assert_eq!(words("say \"it's\""), ["say", "it's"]);
}
