//! Broken packs loaded alone, and what a person reads of each fault.

use std::fs;
use std::path::Path;

use boostwright::interview::unanswerable;
use boostwright::rules::{Loaded, PackSource, load};
use tempfile::TempDir;

/// A sound pack without a warning, for mistakes to be made in.
pub(super) const SOUND: &str = "
complaints:
  too_high:
    title: Boost is too high
    start: look
questions:
  peak:
    text: What is the highest boost?
    answer: {measure: gauge_pressure, from: 0 bar, to: 3 bar}
  hisses:
    text: Does it hiss under boost?
    answer: yes_or_no
findings:
  high:
    when: peak > 1 bar
    leak: 1 in 100
  hissing:
    when: hisses
    leak: 1 in 100
causes:
  spring_strong:
    title: The spring is too strong
    common: 3 in 100
    brings:
      high: usually
  hose_leaks:
    title: A hose leaks
    common: 3 in 100
    brings:
      hissing: often
repairs:
  new_spring:
    mends: [spring_strong]
  new_hose:
    mends: [hose_leaks]
steps:
  look:
    ask: [peak, hisses]
    then:
      - go: conclude
";

/// A folder with these files, and what `pack check` finds in it.
pub(super) fn checked(files: &[(&str, Vec<u8>)]) -> (TempDir, Loaded) {
    let folder = TempDir::new().unwrap();
    for (name, bytes) in files {
        fs::write(folder.path().join(name), bytes).unwrap();
    }
    let loaded = loaded(folder.path());
    (folder, loaded)
}

/// What `pack check` finds in one text.
pub(super) fn checked_text(text: &str) -> (TempDir, Loaded) {
    checked(&[("rules.yaml", text.as_bytes().to_vec())])
}

fn loaded(folder: &Path) -> Loaded {
    let mut loaded = load(&[PackSource::Folder(folder.to_path_buf())]).unwrap();
    if !loaded.faults.any_error() {
        loaded.faults.list.extend(unanswerable(&loaded.pack));
    }
    loaded
}

/// One message, taken apart as a person reads it.
#[derive(Debug)]
pub(super) struct Told {
    pub(super) code: String,
    pub(super) file: String,
    pub(super) line: usize,
    /// Counted in letters, from 1.
    pub(super) column: usize,
    /// What the carets stand under.
    pub(super) marked: String,
    pub(super) help: String,
}

/// Takes a drawn message apart.
///
/// # Panics
/// Where a part is missing.
pub(super) fn told(drawn: &str) -> Told {
    let lines: Vec<&str> = drawn.lines().collect();
    let head = lines[0];
    let (severity, rest) = head.split_once('[').expect(drawn);
    assert!(["error", "warning"].contains(&severity), "{drawn}");
    let (code, message) = rest.split_once("]: ").expect(drawn);
    assert!(message.len() > 5, "{drawn}");
    let place = lines[1].trim_start().strip_prefix("--> ").expect(drawn);
    let mut place = place.rsplitn(3, ':');
    let column = place.next().unwrap().parse().expect(drawn);
    let line: usize = place.next().unwrap().parse().expect(drawn);
    let file = place.next().expect(drawn).to_owned();
    let carets = lines.iter().position(|line| {
        line.split_once('|').is_some_and(|(gutter, under)| {
            gutter.trim().is_empty() && under.contains('^') && !under.contains('_')
        })
    });
    let carets = carets.unwrap_or_else(|| panic!("no caret in\n{drawn}"));
    let gutter = lines[carets - 1].split('|').next().unwrap();
    assert_eq!(gutter.trim(), line.to_string(), "the line above the caret\n{drawn}");
    let from = lines[carets].chars().position(|letter| letter == '^').unwrap();
    let letters = lines[carets].chars().skip(from).take_while(|letter| "^.".contains(*letter));
    let marked: String = lines[carets - 1].chars().skip(from).take(letters.count()).collect();
    let help = lines.iter().find_map(|line| line.trim_start().strip_prefix("= help: "));
    Told {
        code: code.to_owned(),
        file,
        line,
        column,
        marked,
        help: help.unwrap_or_else(|| panic!("no help in\n{drawn}")).to_owned(),
    }
}
