//! `pack test`: what is told of a case that isn't met.

use std::fs;

use tempfile::TempDir;

use super::outcome;

/// One cause, and a case in which the other one is wanted.
const BELOW: &str = "\
pack: {name: the lower one}
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
findings:
  hose_open: {when: not hose, leak: 0.02}
causes:
  hose_off: {title: The hose is off, common: 0.1, brings: {hose_open: usually}}
steps:
  look: {ask: [hose], then: [{go: conclude}]}
cases:
  hose_was_off:
    complaint: too_high
    answers: {hose: no}
    then: {first: hose_off}
";

/// A cause that takes the place of the one below.
const ABOVE: &str = "\
pack: {name: the upper one}
causes:
  clamp_old: {title: The clamp is old, common: 0.5, brings: {hose_open: always}}
";

#[test]
fn a_case_that_fails_is_told_with_the_pack_that_it_is_from() {
    let folder = TempDir::new().unwrap();
    for (name, rules) in [("below", BELOW), ("above", ABOVE)] {
        fs::create_dir(folder.path().join(name)).unwrap();
        fs::write(folder.path().join(name).join("rules.yaml"), rules).unwrap();
    }
    let tried =
        |stack: &[&str]| outcome(folder.path(), &[&["pack", "test", "--only"], stack].concat());
    let (code, out, _) = tried(&["--pack", "below"]);
    assert_eq!((code, out.as_str()), (0, "1 passed, 0 failed\n"));
    let (code, out, _) = tried(&["--pack", "below", "--pack", "above"]);
    assert_eq!(code, 1);
    assert!(out.starts_with("hose_was_off, a case of the lower one:\n"), "{out}");
    assert!(out.contains("clamp_old"), "{out}");
    assert!(out.ends_with("0 passed, 1 failed\n"), "{out}");
}
