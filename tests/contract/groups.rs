//! Findings on one choice, or on one expression held against fixed limits, are one piece of
//! evidence; what the complaint shows; strengths and leaks; evidence that can't be.

use serde_json::Value;

use super::bench::{Bench, cause, finding, ids, list};
use super::enumeration::{Seen, Unit, assert_agrees, no, one_of, seen, soft, yes};

const PACK: &str = "
complaints:
  too_high:
    title: Boost too high
    start: look
    shows: [needle_too_high]
questions:
  needle:
    text: What does the needle do?
    sure: 85 in 100
    answer:
      choose: {climbs: keeps climbing, level: stays, settles: settles, falls: falls off}
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.02 bar}
  hose:
    text: Is the hose whole?
    answer: yes_or_no
findings:
  needle_too_high: {when: peak > 0.6 bar and hose, leak: 0.01}
  keeps_climbing: {when: needle == climbs, leak: 3 in 100}
  stays_level: {when: needle == level, leak: 0.2}
  falls_off: {when: needle == falls, leak: 5 in 100}
  above_spring: {when: peak > 0.7 bar, leak: 2 in 100}
  far_above_spring: {when: peak > 0.9 bar, leak: 1 in 100}
  hose_open: {when: not hose, leak: 4 in 100}
causes:
  gate_small:
    title: The gate is too small
    common: 3 in 100
    brings:
      needle_too_high: nearly_always
      keeps_climbing: 0.85
      above_spring: usually
      far_above_spring: sometimes
  hose_off:
    title: The hose is off
    common: 0.08
    brings:
      needle_too_high: always
      keeps_climbing: often
      far_above_spring: perhaps
      hose_open: always
  gauge_wrong:
    title: The gauge is wrong
    common: 5 in 100
    brings:
      needle_too_high: seldom
      stays_level: 1
      above_spring: 0
strengths:
  perhaps: 0.4
  often: 0.55
steps:
  look:
    ask: [needle, peak]
    then: [{go: conclude}]
";

fn replay(answers: &str) -> Value {
    Bench::new(PACK).replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"))
}

fn assert_seen(answers: &str, right: &[Seen]) {
    assert_agrees(&replay(answers), PACK, &seen(right));
}

fn below(x: f64) -> f64 {
    libm::erfc(-x / 2.0_f64.sqrt()) / 2.0
}

#[test]
fn what_the_complaint_shows_is_true_until_an_answer_decides_it() {
    assert_seen("", &[yes("needle_too_high")]);
    assert_eq!(finding(&replay(""), "needle_too_high"), Some(1.0));
    let told = replay("hose: no");
    assert_eq!(finding(&told, "needle_too_high"), Some(0.0));
    assert_agrees(&told, PACK, &seen(&[no("needle_too_high"), yes("hose_open")]));
}

#[test]
fn findings_on_one_choice_are_one_piece_of_evidence() {
    let other = 0.05;
    let group = one_of(
        &[("keeps_climbing", 0.85), ("stays_level", other), ("falls_off", other)],
        Some(other),
    );
    assert_seen("needle: climbs", &[yes("needle_too_high"), group]);
    let none = one_of(
        &[("keeps_climbing", other), ("stays_level", other), ("falls_off", other)],
        Some(0.85),
    );
    assert_seen("needle: settles", &[yes("needle_too_high"), none]);
}

#[test]
fn findings_on_one_expression_are_one_piece_of_evidence() {
    let (first, second) = (below((0.7 - 0.88) / 0.02), below((0.9 - 0.88) / 0.02));
    let group = Seen::Group {
        findings: vec!["above_spring".to_owned(), "far_above_spring".to_owned()],
        patterns: vec![
            (vec![false, false], first),
            (vec![true, false], second - first),
            (vec![true, true], 1.0 - second),
        ],
    };
    // The hose is not answered, so what the complaint shows is not decided.
    assert_seen("peak: 0.88 bar", &[yes("needle_too_high"), group]);
}

#[test]
fn an_answer_that_is_out_of_doubt_leaves_one_pattern() {
    let group = Seen::Group {
        findings: vec!["above_spring".to_owned(), "far_above_spring".to_owned()],
        patterns: vec![
            (vec![false, false], 0.0),
            (vec![true, false], 1.0),
            (vec![true, true], 0.0),
        ],
    };
    assert_seen("peak: 0.8 bar ± 0", &[yes("needle_too_high"), group]);
}

#[test]
fn yes_or_no_questions_form_no_group() {
    let pack = PACK.replace("causes:\n", "  hose_whole: {when: hose, leak: 0.5}\ncauses:\n");
    let pack =
        pack.replace("      stays_level: 1\n", "      stays_level: 1\n      hose_whole: 0.3\n");
    let told = Bench::new(&pack).replay("complaint: too_high\nanswers: {hose: yes}\n");
    let right = [yes("needle_too_high"), no("hose_open"), yes("hose_whole")];
    assert_agrees(&told, &pack, &seen(&right));
}

#[test]
fn a_compound_on_a_choice_is_no_member_of_its_group_and_rests_on_the_same_answer() {
    let pack = PACK.replace("{when: needle == falls,", "{when: needle == falls and hose,");
    let told =
        Bench::new(&pack).replay("complaint: too_high\nanswers: {needle: falls, hose: yes}\n");
    let other = 0.05;
    // Each option is one possibility for the group and the compound at once; of the compound's four
    // patterns three make it false.
    let shown = |group: [bool; 2], falls: bool| {
        let compound = (vec![falls], if falls { 1.0 } else { 1.0 / 3.0 });
        vec![vec![(group.to_vec(), 1.0)], vec![compound]]
    };
    let together = Seen::Together {
        units: vec![
            Unit {
                findings: vec!["keeps_climbing".to_owned(), "stays_level".to_owned()],
                possible: vec![vec![true, false], vec![false, true], vec![false, false]],
            },
            Unit {
                findings: vec!["falls_off".to_owned()],
                possible: vec![vec![true], vec![false]],
            },
        ],
        states: vec![
            (other, shown([true, false], false)),
            (other, shown([false, true], false)),
            (other, shown([false, false], false)),
            (0.85, shown([false, false], true)),
        ],
    };
    let right = [yes("needle_too_high"), together, no("hose_open")];
    assert_agrees(&told, &pack, &seen(&right));
}

#[test]
fn several_complaints_show_what_each_shows() {
    let pack = PACK.replace(
        "questions:\n",
        "  too_noisy: {title: It hisses, start: look, shows: [hose_open, needle_too_high]}\nquestions:\n",
    );
    let told = Bench::new(&pack).replay("complaint: [too_high, too_noisy]\nanswers: {}\n");
    assert_eq!(ids(&told, "complaint"), ["too_high", "too_noisy"]);
    assert_agrees(&told, &pack, &seen(&[yes("needle_too_high"), yes("hose_open")]));
}

#[test]
fn evidence_that_cannot_be_names_the_answers_that_clash() {
    // Nothing but a gauge that is wrong brings `stays_level`, and that always brings the other.
    let pack = PACK.replace("leak: 0.2", "leak: 0").replace("leak: 4 in 100", "leak: 0");
    let pack = pack.replace("      stays_level: 1\n", "      stays_level: 1\n      hose_open: 1\n");
    let pack = pack.replace("    sure: 85 in 100\n", "");
    let told = Bench::new(&pack)
        .replay("complaint: too_high\nanswers: {peak: 0.65 bar, needle: level, hose: yes}\n");
    assert_eq!(ids(&told, "contradiction"), ["needle", "hose"]);
    assert!(list(&told, "causes").is_empty());
    assert!(list(&told, "likely_sets").is_empty());
    assert_eq!(finding(&told, "hose_open"), Some(0.0));
    assert_eq!(finding(&told, "stays_level"), Some(1.0));
}

#[test]
fn a_sure_answer_makes_its_cause_likelier_and_the_others_less() {
    let (before, after) = (replay("needle: climbs"), replay("needle: level"));
    assert!(cause(&after, "gauge_wrong") > cause(&before, "gauge_wrong"));
    assert!(cause(&after, "gate_small") < cause(&before, "gate_small"));
    assert_seen("hose: no", &[no("needle_too_high"), soft("hose_open", 1.0)]);
}
