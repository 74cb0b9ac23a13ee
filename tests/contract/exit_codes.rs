//! The program as a script runs it: exit codes, what goes to stdout and what to stderr.

use std::fs;

use serde_json::Value;

use super::bench::{Bench, cause, program};

const PACK: &str = "
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
  clamp: {text: Is the clamp tight?, answer: yes_or_no}
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, from: 0 bar, to: 3 bar}
findings:
  hose_open: {when: not hose, leak: 0}
  clamp_loose: {when: not clamp, leak: 0}
causes:
  hose_off: {title: The hose is off, common: 4 in 100, brings: {hose_open: 1, clamp_loose: 1}}
steps:
  look: {ask: [hose, clamp, peak], then: [{go: conclude}]}
";

/// Exit code, stdout and stderr.
fn outcome(answers: &str) -> (i32, String, String) {
    let output = Bench::new(PACK).replay_command(answers).output().unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

#[test]
fn a_replay_that_is_done_exits_0_with_nothing_but_json_on_stdout() {
    let (code, out, err) = outcome("complaint: too_high\nanswers: {hose: no}\n");
    assert_eq!((code, err.as_str()), (0, ""));
    let told: Value = serde_json::from_str(&out).unwrap();
    assert!((cause(&told, "hose_off") - 1.0).abs() < 1e-12);
}

#[test]
fn answers_that_clash_exit_1_and_the_json_is_printed_all_the_same() {
    let (code, out, _) = outcome("complaint: too_high\nanswers: {hose: no, clamp: yes}\n");
    assert_eq!(code, 1);
    let told: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(told["contradiction"], serde_json::json!(["hose", "clamp"]));
    assert_eq!(told["causes"], serde_json::json!([]));
    assert_eq!(told["likely_sets"], serde_json::json!([]));
}

#[test]
fn answers_that_cannot_be_read_exit_2_with_nothing_on_stdout() {
    let cases = [
        ("complaint: too_high\nanswers: {hoze: no}\n", ["answers.yaml:2:", "hose"]),
        ("complaint: too_hihg\nanswers: {}\n", ["answers.yaml:1:", "too_high"]),
        ("complaint: too_high\nanswers: {peak: 0.9}\n", ["answers.yaml:2:", "unit"]),
        ("complaint: too_high\nanswers: {peak: 9 bar}\n", ["answers.yaml:2:", "3 bar"]),
        ("complaint: too_high\nanswers: {peak: 9 mm}\n", ["answers.yaml:2:", "mm"]),
        ("complaint: too_high\nanswers: {hose: maybe}\n", ["answers.yaml:2:", "yes"]),
        ("answers: {hose: no}\n", ["answers.yaml", "complaint"]),
        ("complaint: [\n", ["answers.yaml", "YAML"]),
    ];
    for (answers, named) in cases {
        let (code, out, err) = outcome(answers);
        assert_eq!((code, out.as_str()), (2, ""), "{answers}");
        for word in named {
            assert!(err.contains(word), "{answers}: no {word} in\n{err}");
        }
    }
}

#[test]
fn bad_usage_and_missing_files_exit_2() {
    let bench = Bench::new(PACK);
    let answers = bench.answers("complaint: too_high\nanswers: {}\n");
    let answers = answers.to_str().unwrap();
    let usages: [&[&str]; 6] = [
        &["replay"],
        &["replay", answers, "--form", "verse"],
        &["replay", "no such file"],
        &["replay", answers, "--only"],
        &["replay", answers, "--pack", "no such folder"],
        &["remember"],
    ];
    for usage in usages {
        let output = program().args(usage).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{usage:?}");
        assert!(output.stdout.is_empty(), "{usage:?}");
        assert!(!output.stderr.is_empty(), "{usage:?}");
    }
}

#[test]
fn only_leaves_the_built_in_rules_out() {
    let bench = Bench::new(PACK);
    let mut command = bench.replay_command("complaint: too_high\nanswers: {}\n");
    let told: Value = serde_json::from_slice(&command.output().unwrap().stdout).unwrap();
    let causes: Vec<&Value> = told["causes"].as_array().unwrap().iter().collect();
    assert_eq!(causes.len(), 1);
    let answers = bench.answers("complaint: too_high\nanswers: {}\n");
    let mut both = program();
    both.arg("replay").arg(answers).args(["--form", "json", "--pack"]).arg(bench.pack());
    let told: Value = serde_json::from_slice(&both.output().unwrap().stdout).unwrap();
    assert!(told["causes"].as_array().unwrap().len() > 10);
}

#[test]
fn a_faulty_pack_exits_1_where_it_is_checked_and_2_elsewhere() {
    let bench = Bench::new(&PACK.replace("ask: [hose,", "ask: [hoze,"));
    let check = program().args(["pack", "check", "--only"]).arg(bench.pack()).output().unwrap();
    let mut replay = bench.replay_command("complaint: too_high\nanswers: {}\n");
    let replay = replay.output().unwrap();
    assert_eq!((check.status.code(), replay.status.code()), (Some(1), Some(2)));
    let (line, column) = place_of(PACK, "hose, clamp");
    let place = format!("rules.yaml:{line}:{column}");
    for output in [check, replay] {
        let err = String::from_utf8(output.stderr).unwrap();
        for word in [place.as_str(), "hoze", "did you mean hose?", "look: {ask: [hoze,"] {
            assert!(err.contains(word), "no {word} in\n{err}");
        }
    }
}

#[test]
fn a_sound_pack_is_checked_with_0() {
    let output =
        program().args(["pack", "check", "--only"]).arg(Bench::new(PACK).pack()).output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn a_pack_whose_case_is_not_met_is_tested_with_1() {
    let case = "
cases:
  hose_is_off:
    complaint: too_high
    answers: {hose: no}
    then: {first: hose_off}
";
    let unmet = "
  nothing_seen:
    complaint: too_high
    then: {cautions: [beware]}
cautions:
  beware: {when: hose, text: Beware.}
";
    for (pack, code) in [(format!("{PACK}{case}"), 0), (format!("{PACK}{case}{unmet}"), 1)] {
        let bench = Bench::new(&pack);
        let output = program().args(["pack", "test", "--only"]).arg(bench.pack()).output().unwrap();
        assert_eq!(output.status.code(), Some(code), "{}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn a_folder_without_rules_cannot_be_used() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notes.txt"), "nothing").unwrap();
    let bench = Bench::new(PACK);
    let answers = bench.answers("complaint: too_high\nanswers: {}\n");
    let output = program().arg("replay").arg(answers).arg("--pack").arg(folder.path()).output();
    let output = output.unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8(output.stderr).unwrap().contains(".yaml"));
}

/// Line and column of a text, from 1.
fn place_of(text: &str, part: &str) -> (usize, usize) {
    let at = text.find(part).unwrap();
    let before = &text[..at];
    (before.lines().count(), at - before.rfind('\n').unwrap())
}
