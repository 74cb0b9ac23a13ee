//! The manual says what the README says, in one page that names no other.

use super::commands::is_understood;
use crate::project::text;

use std::process::Command;

fn manual() -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_boostwright")).arg("manual").output().unwrap();
    assert!(output.status.success());
    String::from_utf8(output.stdout).unwrap()
}

/// As it is read: without requests and escapes of troff (groff(7)).
fn read() -> String {
    let plain = |line: &str| {
        let line = line.strip_prefix(".B ").or(line.strip_prefix(".I ")).unwrap_or(line);
        line.replace("\\-", "-").replace("\\(+-", "±").replace("\\fB", "").replace("\\fR", "")
    };
    manual().lines().map(|line| plain(line) + "\n").collect()
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn it_is_one_page_and_names_no_other() {
    let manual = manual();
    assert_eq!(manual.matches("\n.TH ").count(), 1);
    assert!(!manual.contains("(1)"), "a page that isn't there is named");
}

#[test]
fn every_verb_has_its_section() {
    let help = Command::new(env!("CARGO_BIN_EXE_boostwright")).arg("--help").output().unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    let commands = help.split("Commands:").nth(1).unwrap().split("\n\n").next().unwrap();
    let verbs: Vec<&str> = commands
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|verb| *verb != "help" && *verb != "pack")
        .collect();
    assert!(verbs.len() > 7, "{verbs:?}");
    let manual = read();
    let pack = ["pack new", "pack check", "pack test", "pack simulate", "pack schema"];
    for verb in verbs.into_iter().chain(pack) {
        let heading = format!(".SH \"BOOSTWRIGHT {}\"", verb.to_uppercase());
        assert!(manual.contains(&heading), "{heading}");
    }
}

#[test]
fn its_exit_codes_are_those_of_the_readme() {
    let manual = flat(&read());
    let readme = text("README.md");
    let rows = readme.split("### Exit codes").nth(1).unwrap().split("\n\n").nth(1).unwrap();
    let rows: Vec<Vec<&str>> =
        rows.lines().skip(2).map(|row| row.split('|').map(str::trim).collect()).collect();
    assert_eq!(rows.len(), 4);
    for row in rows {
        assert!(manual.contains(&format!("{} {}", row[1], row[2])), "{row:?}");
    }
}

#[test]
fn its_keys_are_those_of_the_readme() {
    let (manual, readme) = (read(), text("README.md"));
    for key in ["b", "l", "c", "h", "w", "m", "s"] {
        assert!(manual.contains(&format!("\n.TP\n{key}\n")), "{key} is not in the manual");
        assert!(flat(&readme).contains(&format!("`{key}` ")), "{key} is not in the README");
    }
}

#[test]
fn its_examples_are_understood() {
    let folder = tempfile::tempdir().unwrap();
    let manual = read();
    let examples = manual.split(".SH EXAMPLES").nth(1).unwrap();
    let lines: Vec<&str> =
        examples.lines().filter(|line| line.starts_with("boostwright ")).collect();
    assert!(lines.len() >= 7, "{lines:?}");
    lines.iter().for_each(|line| is_understood(line, folder.path()));
}
