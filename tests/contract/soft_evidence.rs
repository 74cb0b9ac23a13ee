//! One finding, one factor: sure answers, uncertain comparisons, compounds, what is not known.

use super::bench::{Bench, finding, ids};
use super::enumeration::{Seen, assert_agrees, no, seen, soft, weighed, yes};

/// Two causes that share a finding; every kind of answer; findings of every shape on them.
const PACK: &str = "
complaints:
  too_high:
    title: Boost too high
    start: look
car_states:
  cold: {title: cold}
questions:
  hose_is_sound:
    text: Is the hose whole?
    answer: yes_or_no
    sure: 90 in 100
  flap_closes:
    text: Does the flap close?
    answer: yes_or_no
  needle:
    text: What does the needle do?
    sure: 0.8
    answer:
      choose:
        climbs: keeps climbing
        level: stays
        settles: settles
        falls: falls off
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, unit: bar, from: 0 bar, to: 3 bar, uncertainty: 0.02 bar}
  held:
    text: Boost held
    answer: {measure: gauge_pressure, uncertainty: 0.03 bar}
  misread:
    text: A pressure that one in ten reads off the wrong scale
    answer: {measure: gauge_pressure, uncertainty: 0.02 bar, slips: 10 in 100}
  heard:
    text: What did you hear?
    answer: {any_of: {a_hiss: a hiss, a_howl: a howl}, overlooked: 30 in 100}
    sure: 90 in 100
  exact:
    text: A count
    answer: {measure: number}
  guessed:
    text: A coefficient
    answer: {measure: number, from: 0.4, to: 1, typical: 0.75 ± 0.08}
findings:
  FINDING
causes:
  first: {title: The first, common: 10 in 100, brings: {told: usually}}
  second: {title: The second, common: 0.2, brings: {told: 0.3}}
  idle: {title: One that brings nothing, common: 5 in 100, brings: {}}
steps:
  look: {then: [{go: conclude}]}
";

/// The standard normal distribution function at a few points, from NIST's Engineering Statistics
/// Handbook, 1.3.6.7.1, given there to five places; the program's digits beyond them are held by
/// the error function of another library.
fn below(x: f64) -> f64 {
    libm::erfc(-x / 2.0_f64.sqrt()) / 2.0
}

fn pack(when: &str) -> String {
    PACK.replace("FINDING", &format!("told: {{when: \"{when}\", leak: 2 in 100}}"))
}

/// The finding on these answers weighs as `right`; printed with this probability.
fn assert_weighs(when: &str, answers: &str, probability: Option<f64>, right: &[Seen]) {
    let pack = pack(when);
    let told = Bench::new(&pack).replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"));
    match (finding(&told, "told"), probability) {
        (Some(printed), Some(right)) => {
            assert!((printed - right).abs() < 1e-9, "{when}: {printed}, right is {right}");
        }
        (printed, right) => assert_eq!(printed, right, "{when}"),
    }
    assert_agrees(&told, &pack, &seen(right));
}

#[test]
fn a_certain_answer_makes_its_finding_certain() {
    assert_weighs("flap_closes", "flap_closes: yes", Some(1.0), &[yes("told")]);
    assert_weighs("flap_closes", "flap_closes: no", Some(0.0), &[no("told")]);
    assert_weighs("not flap_closes", "flap_closes: no", Some(1.0), &[yes("told")]);
}

#[test]
fn an_answer_that_is_right_nine_times_in_ten_weighs_nine_to_one() {
    assert_weighs("hose_is_sound", "hose_is_sound: yes", Some(0.9), &[soft("told", 0.9)]);
    assert_weighs("hose_is_sound", "hose_is_sound: no", Some(0.1), &[soft("told", 0.1)]);
    assert_weighs("not hose_is_sound", "hose_is_sound: no", Some(0.9), &[soft("told", 0.9)]);
}

/// Left out by 0.9 of those who heard no hiss and by 0.3 of those who did: 0.3 / 1.2.
#[test]
fn an_option_left_out_may_have_been_overlooked() {
    assert_weighs("a_hiss", "heard: [a_hiss]", Some(0.9), &[soft("told", 0.9)]);
    assert_weighs("a_hiss", "heard: [a_howl]", Some(0.25), &[soft("told", 0.25)]);
    assert_weighs("a_hiss", "heard: none", Some(0.25), &[soft("told", 0.25)]);
    assert_weighs("a_hiss", "a_hiss: no", Some(0.1), &[soft("told", 0.1)]);
}

#[test]
fn what_nobody_answered_counts_neither_way() {
    for answers in ["", "hose_is_sound: unknown", "hose_is_sound: later"] {
        assert_weighs("hose_is_sound", answers, None, &[]);
    }
}

#[test]
fn a_doubtful_choice_leaves_the_rest_spread_over_the_other_options() {
    let other = 0.2 / 3.0;
    assert_weighs("needle == climbs", "needle: climbs", Some(0.8), &[soft("told", 0.8)]);
    assert_weighs("needle == climbs", "needle: falls", Some(other), &[soft("told", other)]);
    assert_weighs("needle != climbs", "needle: climbs", Some(0.2), &[soft("told", 0.2)]);
    let either = "needle == climbs or needle == level";
    assert_weighs(either, "needle: level", Some(0.8 + other), &[soft("told", 0.8 + other)]);
}

#[test]
fn a_comparison_has_the_probability_of_its_difference() {
    let q = below(0.03 / 0.02);
    assert_weighs("peak > 1 bar", "peak: 1.03 bar", Some(q), &[soft("told", q)]);
    assert_weighs("peak < 1 bar", "peak: 1.03 bar", Some(1.0 - q), &[soft("told", 1.0 - q)]);
    let q = below(0.03 / 0.05);
    assert_weighs("peak > 1 bar", "peak: 1.03 bar ± 0.05", Some(q), &[soft("told", q)]);
    let q = below(0.04 / 0.02_f64.hypot(0.03));
    assert_weighs("peak > held", "peak: 1.04 bar, held: 1 bar", Some(q), &[soft("told", q)]);
    let q = below(0.04 / (2.0 * 0.02));
    assert_weighs("2 * peak > 2 bar", "peak: 1.02 bar", Some(q), &[soft("told", q)]);
}

#[test]
fn a_reading_between_two_limits_sums_what_lies_between() {
    let q = below(0.02 / 0.02) - below(-0.03 / 0.02);
    let when = "peak > 1 bar and peak < 1.05 bar";
    assert_weighs(when, "peak: 1.03 bar", Some(q), &[soft("told", q)]);
}

#[test]
fn a_reading_that_may_be_a_slip_leaves_the_rest_spread_over_the_other_stretches() {
    let slip = |q: f64, others: f64| 0.9 * q + 0.1 * (1.0 - q) / others;
    let q = slip(below(0.03 / 0.02), 1.0);
    assert_weighs("misread > 1 bar", "misread: 1.03 bar", Some(q), &[soft("told", q)]);
    let q = slip(1.0, 1.0);
    assert_weighs("misread > 1 bar", "misread: 1.03 bar ± 0", Some(q), &[soft("told", q)]);
    let q = slip(below(0.02 / 0.02) - below(-0.03 / 0.02), 2.0);
    let between = "misread > 1 bar and misread < 1.05 bar";
    assert_weighs(between, "misread: 1.03 bar", Some(q), &[soft("told", q)]);
    // A working is as sure as the least sure of its readings.
    let q = slip(below(0.04 / 0.02_f64.hypot(0.03)), 1.0);
    assert_weighs("misread > held", "misread: 1.04 bar, held: 1 bar", Some(q), &[soft("told", q)]);
}

#[test]
fn a_slip_in_one_part_of_a_compound_leaves_the_other_alone() {
    let (one, other) = (below(0.03 / 0.02), below(-0.01 / 0.02));
    let one = 0.9 * one + 0.1 * (1.0 - one);
    let told = |when: &str| {
        let bench = Bench::new(&pack(when));
        let answers = "{misread: 1.03 bar, peak: 0.99 bar}";
        finding(&bench.replay(&format!("complaint: too_high\nanswers: {answers}\n")), "told")
    };
    let both = told("misread > 1 bar and peak > 1 bar").expect("both are known");
    assert!((both - one * other).abs() < 1e-9, "{both}");
    let either = told("misread > 1 bar or peak > 1 bar").expect("both are known");
    assert!((either - (one + other - one * other)).abs() < 1e-9, "{either}");
}

#[test]
fn a_reading_without_uncertainty_is_told_at_once() {
    assert_weighs("exact > 3", "exact: 4", Some(1.0), &[yes("told")]);
    assert_weighs("exact > 4", "exact: 4", Some(0.0), &[no("told")]);
    assert_weighs("exact >= 4", "exact: 4", Some(1.0), &[yes("told")]);
}

#[test]
fn a_compound_weighs_by_the_mean_over_the_patterns_of_its_parts() {
    // Of the four patterns of two parts, one makes an `and` true and three make it false.
    let both = [weighed("told", 0.9, 0.1 / 3.0)];
    assert_weighs(
        "hose_is_sound and flap_closes",
        "hose_is_sound: yes, flap_closes: yes",
        Some(0.9),
        &both,
    );
    let either = [weighed("told", 1.0 / 3.0, 0.0)];
    assert_weighs(
        "hose_is_sound or flap_closes",
        "hose_is_sound: yes, flap_closes: yes",
        Some(1.0),
        &either,
    );
    let q = below(0.03 / 0.02);
    let both = [weighed("told", 0.9 * q, (1.0 - 0.9 * q) / 3.0)];
    assert_weighs(
        "hose_is_sound and peak > 1 bar",
        "hose_is_sound: yes, peak: 1.03 bar",
        Some(0.9 * q),
        &both,
    );
}

#[test]
fn a_choice_in_a_compound_is_a_part_that_holds_or_not_however_many_options_it_has() {
    let q = 0.8 * 0.9;
    assert_weighs(
        "needle == climbs and hose_is_sound",
        "needle: climbs, hose_is_sound: yes",
        Some(q),
        &[weighed("told", q, (1.0 - q) / 3.0)],
    );
    // Climbing, level and neither, each with the hose sound or not: two patterns of six are true.
    let q = (0.8 + 0.2 / 3.0) * 0.9;
    let when = "(needle == climbs or needle == level) and hose_is_sound";
    assert_weighs(
        when,
        "needle: climbs, hose_is_sound: yes",
        Some(q),
        &[weighed("told", q / 2.0, (1.0 - q) / 4.0)],
    );
}

#[test]
fn no_information_in_a_compound_gives_no_weight() {
    assert_weighs(
        "peak > 1 bar and held > 1 bar",
        "peak: 1 bar, held: 1 bar",
        Some(0.25),
        &[weighed("told", 0.25, 0.25)],
    );
}

/// The chance that `peak` lies above 1 bar and above `held` by 0.01 bar, by Simpson's rule over
/// `peak`.
fn above_both(peak: f64, held: f64) -> f64 {
    let (start, end, steps) = (1.0, peak + 9.0 * 0.02, 4000);
    let width = (end - start) / f64::from(steps);
    let at = |x: f64| {
        let z = (x - peak) / 0.02;
        let density = (-z * z / 2.0).exp() / (0.02 * (2.0 * std::f64::consts::PI).sqrt());
        density * below((x - 0.01 - held) / 0.03)
    };
    let weights = (0..=steps).map(|step| match step {
        0 => 1.0,
        last if last == steps => 1.0,
        odd if odd % 2 == 1 => 4.0,
        _ => 2.0,
    });
    let points = weights.zip(0..=steps).map(|(w, step)| w * at(start + width * f64::from(step)));
    points.sum::<f64>() * width / 3.0
}

#[test]
fn parts_that_share_a_reading_are_weighed_by_their_joint() {
    let q = above_both(1.02, 1.0);
    let when = "peak > 1 bar and peak - held > 0.01 bar";
    let right = [weighed("told", q, (1.0 - q) / 3.0)];
    assert_weighs(when, "peak: 1.02 bar, held: 1 bar", Some(q), &right);
}

#[test]
fn no_and_unknown_is_no_and_yes_or_unknown_is_yes() {
    let both = "flap_closes and hose_is_sound";
    assert_weighs(both, "flap_closes: no", Some(0.0), &[no("told")]);
    assert_weighs(both, "flap_closes: yes", None, &[]);
    let either = "flap_closes or hose_is_sound";
    assert_weighs(either, "flap_closes: yes", Some(1.0), &[yes("told")]);
    assert_weighs(either, "flap_closes: no, hose_is_sound: unknown", None, &[]);
}

#[test]
fn what_an_unknown_part_leaves_open_adds_to_both_sides() {
    // No nine times in ten settles an `and`; the tenth time nothing is known.
    let told = "hose_is_sound: no";
    assert_weighs("hose_is_sound and flap_closes", told, Some(0.0), &[weighed("told", 0.1, 1.0)]);
}

#[test]
fn a_compound_that_an_unknown_part_leaves_open_has_no_probability() {
    // Yes nine times in ten leaves the `and` to the part that nobody knows.
    let told = "hose_is_sound: yes";
    assert_weighs("hose_is_sound and flap_closes", told, None, &[weighed("told", 0.9, 1.0)]);
    let told = "hose_is_sound: no";
    assert_weighs("hose_is_sound or flap_closes", told, None, &[weighed("told", 1.0, 0.9)]);
}

#[test]
fn an_assumption_alone_counts_neither_way() {
    assert_weighs("guessed > 0.7", "", None, &[]);
    let q = below(0.05 / 0.08);
    assert_weighs(
        "guessed > 0.7 and flap_closes",
        "flap_closes: yes",
        Some(q),
        &[weighed("told", q, (1.0 - q) / 3.0)],
    );
    assert_weighs("guessed > 0.7", "guessed: 0.75", Some(1.0), &[yes("told")]);
}

#[test]
fn only_what_a_person_answered_is_known() {
    assert_weighs("known(guessed) or flap_closes", "flap_closes: no", Some(0.0), &[no("told")]);
    assert_weighs(
        "known(guessed) and flap_closes",
        "guessed: 0.8, flap_closes: yes",
        Some(1.0),
        &[yes("told")],
    );
    assert_weighs(
        "known(needle) and flap_closes",
        "needle: unknown, flap_closes: yes",
        Some(0.0),
        &[no("told")],
    );
}

#[test]
fn that_nothing_was_answered_is_no_evidence() {
    assert_weighs("known(guessed) and guessed > 0.7", "", None, &[]);
    assert_weighs("not known(needle)", "needle: unknown", None, &[]);
}

#[test]
fn every_question_nobody_answered_is_open() {
    let told =
        Bench::new(&pack("flap_closes")).replay("complaint: too_high\nanswers: {peak: 1 bar}\n");
    let open = ids(&told, "open_questions");
    assert_eq!(
        open,
        ["hose_is_sound", "flap_closes", "needle", "held", "misread", "heard", "exact", "guessed"]
    );
}
