//! After a repair: where the reading fell in what was forecast, by the forecast's own distribution.

use serde_json::Value;

use super::bench::{Bench, number};

/// The forecast is 0.2 bar and 0.3 bar of a squared standard normal number, which has a χ² distribution
/// of one degree: nothing below 0.2 bar, and a long tail above.
const PACK: &str = "
complaints:
  too_high:
    title: Boost too high
    start: look
    shows: [above_spring]
    judged_by: peak
    better: lower
    gone_when: peak < 0.6 bar and peak > 0.1 bar
questions:
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, unit: bar, from: 0 bar, to: 4 bar, uncertainty: 0.02 bar}
    holds: each_run
  hose: {text: Is the hose whole?, answer: yes_or_no, holds: until_touched}
  stray:
    text: How far off is the spring?
    answer: {measure: number, from: -9, to: 9, typical: 0 ± 1}
findings:
  above_spring: {when: peak > 0.6 bar, leak: 0.02}
  hose_open: {when: not hose, leak: 0.03}
causes:
  hose_off:
    title: The hose is off
    common: 6 in 100
    brings: {above_spring: always, hose_open: nearly_always}
repairs:
  new_hose: {title: Fit a new hose, mends: [hose_off], invalidates: [hose], predicts: {peak: foretold}}
workings:
  foretold: {formula: 0.2 bar + 0.3 bar * stray * stray + 0 * peak}
steps:
  look:
    ask: [peak, hose]
    then: [{go: conclude}]
";

fn verdict(after: &str) -> Value {
    let rounds = format!(
        "rounds:\n- {{complaint: too_high, answers: {{peak: 2 bar, hose: no}}}}\n\
         - {{repair: new_hose, answers: {{peak: {after}}}}}\n"
    );
    Bench::new(PACK).replay(&rounds)["verdict"].clone()
}

/// Integrals by scipy 1.17.1 (`quad`) over the normal density of the squared number; the gauge's 0.02 bar
/// on top.
#[test]
fn the_reading_is_held_against_the_distribution_of_the_forecast_itself() {
    // Far out in the long tail, and still one in fifteen: by its standard uncertainty alone it would lie outside.
    let far = verdict("1.55 bar");
    assert!((number(&far, "chance") - 2.0 * 0.033_92).abs() < 0.004, "{far}");
    assert_eq!(far["model_held"], true, "{far}");
    let expected = &far["expected_reading"];
    assert!((number(expected, "low") / 1e5 - 0.181_9).abs() < 0.003, "{expected}");
    assert!((number(expected, "high") / 1e5 - 1.707_6).abs() < 0.03, "{expected}");
    assert_eq!(verdict("1.80 bar")["model_held"], false);
    // A little lower than any such spring would bring, and far inside its standard uncertainty.
    let low = verdict("0.12 bar");
    assert!(number(&low, "chance") < 1e-3, "{low}");
    assert_eq!(low["model_held"], false, "{low}");
}

#[test]
fn far_below_what_was_wanted_is_no_cure() {
    assert_eq!(verdict("0.45 bar")["verdict"], "cured");
    assert_ne!(verdict("0.04 bar")["verdict"], "cured");
}
