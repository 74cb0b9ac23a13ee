//! Readings: an answer that a formula should have given teaches what goes into that formula. All
//! formulas here are straight lines, so that the closed form is exact (Gelman et al., *Bayesian Data
//! Analysis*, 3rd ed., 3.5 and 14.7): with a reading y = a·x + e of an input x ~ N(m, v), e ~ N(0, s²),
//! x becomes N(m + k(y − a·m), v(1 − k·a)) with k = v·a/(a²·v + s²).

use serde_json::Value;

use super::bench::{Bench, entry, number};

const PACK: &str = "
complaints:
  loose: {title: The bracket is loose, start: look}
questions:
  gap: {text: Gap, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.1 mm}, holds: each_run}
  play: {text: Play, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.1 mm}, holds: each_run}
  slot: {text: Slot, answer: {measure: length, unit: mm, from: 0 mm, to: 9 mm, uncertainty: 0.1 mm}, holds: each_run}
  width: {text: Width, answer: {measure: length, unit: mm, from: 0 mm, to: 90 mm, uncertainty: 0.2 mm, typical: 20 mm ± 2}}
  shim: {text: Shim, answer: {measure: length, unit: mm, from: 0 mm, to: 90 mm, uncertainty: 0.1 mm, typical: 10 mm ± 1}}
workings:
  area_like: {formula: 2 * width}
  both: {formula: width + shim}
readings:
  gap_read: {of: gap, should_be: width / 10, good_to: 0.1 mm}
  play_read: {of: play, should_be: (width + shim) / 10, good_to: 0.1 mm, when: width > 0 mm}
  slot_read: {of: slot, should_be: width / 10, good_to: 5 %}
repairs:
  new_shim: {title: Another shim, invalidates: [shim]}
  new_bracket: {title: Another bracket, invalidates: [width]}
steps:
  look: {ask: [gap, play, slot], work: [area_like, both], then: [{go: conclude}]}
";

fn replay(rounds: &[&str]) -> Value {
    let rounds: Vec<String> = rounds.iter().map(|round| format!("- {{{round}}}\n")).collect();
    Bench::new(PACK).replay(&format!("rounds:\n{}", rounds.concat()))
}

/// Value and standard uncertainty in millimetres; the median and the outer points of a thousand draws
/// place them to about a twentieth of the standard uncertainty.
fn assert_worked(told: &Value, id: &str, value: f64, uncertainty: f64) {
    let line = entry(told, "workings", id);
    assert!((number(line, "value") * 1e3 - value).abs() < 0.06 * uncertainty, "{line}");
    let own = number(line, "standard_uncertainty") * 1e3;
    assert!((own / uncertainty - 1.0).abs() < 0.06, "{line}");
}

#[test]
fn a_reading_moves_and_narrows_what_goes_into_its_formula() {
    let told = replay(&["complaint: loose, answers: {gap: 2.2 mm}"]);
    // k = 4·0.1/(0.01·4 + 0.02) = 6.667; width = 20 + 6.667·0.2 = 21.333, variance 4·(1 − 0.667).
    assert_worked(&told, "area_like", 42.667, 2.0 * (4.0_f64 / 3.0).sqrt());
    assert_eq!(entry(&told, "workings", "area_like")["band_from"], "conditioned");
}

#[test]
fn a_formula_may_be_good_to_a_share_of_the_reading() {
    let told = replay(&["complaint: loose, answers: {slot: 2.2 mm}"]);
    // s² = 0.1² + (0.05·2.2)² = 0.0221, k = 4·0.1/(0.04 + 0.0221).
    let k = 0.4 / 0.062_1;
    assert_worked(&told, "area_like", 2.0 * (20.0 + k * 0.2), 2.0 * (4.0 * (1.0 - 0.1 * k)).sqrt());
}

#[test]
fn inputs_that_share_a_reading_hang_together() {
    let told = replay(&["complaint: loose, answers: {play: 3.3 mm}"]);
    // The sum itself: prior N(30, 5), read as 33 mm with s² = 2 (in tenths): k = 5/7.
    assert_worked(&told, "both", 30.0 + 3.0 * 5.0 / 7.0, (5.0_f64 * 2.0 / 7.0).sqrt());
    // The width alone: N(20, 4), covariance with the sum 4: 20 + 4/7·3, variance 4 − 16/7.
    assert_worked(
        &told,
        "area_like",
        2.0 * (20.0 + 12.0 / 7.0),
        2.0 * (4.0_f64 - 16.0 / 7.0).sqrt(),
    );
}

#[test]
fn what_a_repair_does_not_touch_stays_learnt() {
    let told = replay(&[
        "complaint: loose, answers: {gap: 2.2 mm}",
        "repair: new_shim, answers: {shim: 12 mm}",
    ]);
    assert_worked(&told, "area_like", 42.667, 2.0 * (4.0_f64 / 3.0).sqrt());
    let told =
        replay(&["complaint: loose, answers: {gap: 2.2 mm}", "repair: new_bracket, answers: {}"]);
    assert_worked(&told, "area_like", 40.0, 4.0);
}

#[test]
fn readings_of_two_rounds_add_up() {
    let told = replay(&[
        "complaint: loose, answers: {gap: 2.2 mm}",
        "repair: new_shim, answers: {gap: 2.2 mm}",
    ]);
    // Two like readings of variance 0.02: precision 1/4 + 2·0.01/0.02 = 1.25, the mean off the prior's
    // by 2·0.1·0.2/0.02 over it.
    assert_worked(&told, "area_like", 2.0 * (20.0 + 2.0 / 1.25), 2.0 * 0.8_f64.sqrt());
}

#[test]
fn a_measured_value_is_the_prior_where_there_is_one() {
    let told = replay(&["complaint: loose, answers: {gap: 2.2 mm, width: 20 mm}"]);
    // N(20, 0.04): k = 0.04·0.1/(0.01·0.04 + 0.02).
    let k = 0.004 / 0.020_4;
    assert_worked(
        &told,
        "area_like",
        2.0 * (20.0 + k * 0.2),
        2.0 * (0.04_f64 * (1.0 - 0.1 * k)).sqrt(),
    );
}

#[test]
fn a_reading_that_can_hardly_be_is_believed_less() {
    let told = replay(&["complaint: loose, answers: {gap: 4 mm}"]);
    // Off by 2 mm where √(0.04 + 0.02) = 0.245 mm is expected: widened until it is 1.96 of it, so that
    // k·a = 0.04/(2/1.96)².
    let k = 0.1 * 4.0 / (2.0_f64 / 1.959_964).powi(2);
    assert_worked(&told, "area_like", 2.0 * (20.0 + k * 2.0), 2.0 * (4.0 * (1.0 - 0.1 * k)).sqrt());
}
