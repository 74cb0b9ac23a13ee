//! Results that can't be written: a full disk is a failure, a reader that has read enough is none.

use std::fs::OpenOptions;
use std::process::Stdio;

use super::bench::{Bench, Ran};

/// A pack for the verbs of authors; all invented.
const PACK: &str = "
complaints:
  too_high: {title: Boost too high, start: look, shows: [hose_open]}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
findings:
  hose_open: {when: not hose, leak: 1 in 100}
causes:
  hose_off: {title: The hose is off, common: 4 in 100, brings: {hose_open: always}}
steps:
  look: {ask: [hose], then: [{go: conclude}]}
cases:
  hose_is_off: {complaint: too_high, answers: {hose: no}, then: {first: hose_off}}
";

/// Every verb and form that prints a result.
const VERBS: [&[&str]; 35] = [
    &["answer", "boost.yaml", "knock_heard=no"],
    &["show", "boost.yaml"],
    &["show", "boost.yaml", "--form", "markdown"],
    &["show", "boost.yaml", "--form", "html"],
    &["show", "boost.yaml", "--form", "json"],
    &["show", "boost.yaml", "--suppose", "knock_heard=no"],
    &["show", "boost.yaml", "--out", "/dev/stdout"],
    &["replay", "boost.yaml"],
    &["replay", "boost.yaml", "--form", "markdown"],
    &["replay", "boost.yaml", "--form", "html"],
    &["replay", "boost.yaml", "--form", "json"],
    &["sheet", "boost.yaml"],
    &["calc", "1 bar + 1 bar"],
    &["calc", "1 bar + 1 bar", "--form", "json"],
    &["calc", "--list"],
    &["calc", "--list", "--form", "json"],
    &["pack", "schema"],
    &["pack", "new", "fresh"],
    &["pack", "list"],
    &["pack", "list", "rules", "--only"],
    &["pack", "check"],
    &["pack", "check", "rules", "--only", "--form", "json"],
    &["pack", "graph"],
    &["pack", "graph", "--form", "mermaid"],
    &["pack", "graph", "rules", "--only", "--of", "causes"],
    &["pack", "test", "rules", "--only"],
    &["pack", "simulate", "rules", "--only", "--runs", "2"],
    &["completions", "bash"],
    &["completions", "zsh"],
    &["manual"],
    &["--help"],
    &["-h"],
    &["help", "show"],
    &["pack", "--help"],
    &["--version"],
];

fn bench() -> Bench {
    let bench = Bench::begun();
    bench.write("rules/rules.yaml", PACK);
    bench
}

#[cfg(target_os = "linux")]
#[test]
fn a_result_on_a_full_disk_ends_with_2_and_a_message() {
    let bench = bench();
    for arguments in VERBS {
        let full = OpenOptions::new().write(true).open("/dev/full").unwrap();
        let ran = bench.command(arguments).stdout(full).output().unwrap();
        let ran = Ran::of(ran);
        assert_eq!(ran.code, Some(2), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains("can't be written"), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains("the disk is full"), "{arguments:?}: {ran:?}");
        // Where it is the folder's own that was made, the next verb begins anew.
        let _ = std::fs::remove_dir_all(bench.path("fresh"));
    }
}

#[test]
fn a_reader_that_has_read_enough_is_no_failure() {
    let bench = bench();
    for arguments in VERBS {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let ran = Ran::of(bench.command(arguments).stdout(Stdio::from(writer)).output().unwrap());
        assert_eq!(ran.code, Some(0), "{arguments:?}: {ran:?}");
        assert!(!ran.stderr.contains("can't be written"), "{arguments:?}: {ran:?}");
        let _ = std::fs::remove_dir_all(bench.path("fresh"));
    }
}

#[test]
fn letters_that_turn_the_reading_are_not_echoed() {
    let bench = Bench::begun();
    let odd = "a\u{202e}b\u{9b}31m";
    let refused: [&[&str]; 6] = [
        &[odd],
        &["show", "boost.yaml", "--form", odd],
        &["completions", odd],
        &["show", odd],
        &["pack", odd],
        &["show", "boost.yaml", odd],
    ];
    for arguments in refused {
        let ran = bench.run(arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(!ran.stderr.is_empty(), "{arguments:?}");
        assert!(!ran.stderr.contains(['\u{202e}', '\u{9b}', '\u{1b}']), "{arguments:?}: {ran:?}");
    }
}
