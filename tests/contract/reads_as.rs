//! Strengths that are worked out from what a reading should be with a cause and without it, against
//! closed forms: all is normally distributed, so that densities are too.

use super::bench::{Bench, cause};

/// The density of a normal distribution, but for 1/√(2π).
fn density(off: f64, deviation: f64) -> f64 {
    (-(off / deviation).powi(2) / 2.0).exp() / deviation
}

fn told(pack: &str, answers: &str) -> serde_json::Value {
    Bench::new(pack).replay(&format!("complaint: odd\nanswers: {{{answers}}}\n"))
}

const GAUGE: &str = "
complaints:
  odd: {title: Something is odd, start: look}
questions:
  shown: {text: Shown, answer: {measure: gauge_pressure, unit: bar, from: 0 bar, to: 2 bar, uncertainty: 0.03 bar, slips: 4 in 100}}
findings:
  over: {when: 'reads_as(shown, with = 0.5 bar + (0.2 ± 0.08 bar), without = 0.5 bar, good_to = 0.04 bar)', leak: 0}
  under: {when: 'reads_as(shown, with = 0.5 bar - (0.2 ± 0.08 bar), without = 0.5 bar, good_to = 0.04 bar)', leak: 0}
causes:
  high: {title: High, common: 0.1, brings: {over: always}}
  low: {title: Low, common: 0.2, brings: {under: always}}
repairs: {renew: {mends: [high, low]}}
steps:
  look: {ask: [shown], then: [{go: conclude}]}
";

/// Three ways exclude one another: neither, over, under. A cause shows its own in 99 of 100; with both
/// present each is as likely, (0.99·0.01 each, 0.01² neither, over all three). A slip, 4 in 100, shows
/// either other way.
#[test]
fn a_reading_weighs_by_its_density_with_each_cause_and_with_none() {
    let (error, wide) = (0.03_f64.hypot(0.04), 0.03_f64.hypot(0.04).hypot(0.08));
    for shown in [0.44, 0.5, 0.58, 0.62, 0.8] {
        let ways =
            [density(shown - 0.5, error), density(shown - 0.7, wide), density(shown - 0.3, wide)];
        let all: f64 = ways.iter().sum();
        let slipped = |way: f64| 0.96 * way / all + 0.04 * (1.0 - way / all) / 2.0;
        let [none, over, under] = ways.map(slipped);
        let one = |way: f64| 0.99 * way + 0.01 * none;
        let both = (0.0099 * (over + under) + 0.0001 * none) / 0.0199;
        let (neither, high) = (0.9 * 0.8 * none, 0.1 * 0.8 * one(over));
        let (low, two) = (0.9 * 0.2 * one(under), 0.1 * 0.2 * both);
        let right = (high + two) / (neither + high + low + two);
        let printed = cause(&told(GAUGE, &format!("shown: {shown} bar")), "high");
        // Some thousand draws, evenly spread, in place of the integral.
        assert!((printed - right).abs() < 2e-3, "{shown}: {printed}, not {right}");
    }
}

/// `loss` is what the model works with; two readings teach it, and a blockage adds 0.5 bar to one.
const TAUGHT: &str = "
complaints:
  odd: {title: Something is odd, start: look}
questions:
  loss: {text: Loss, answer: {measure: pressure_difference, unit: bar, from: 0 bar, to: 3 bar, typical: 1 bar ± 0.2}}
  lost: {text: Lost, answer: {measure: pressure_difference, unit: bar, from: 0 bar, to: 3 bar, uncertainty: 0.05 bar, slips: 0}}
  twice: {text: Twice, answer: {measure: pressure_difference, unit: bar, from: 0 bar, to: 6 bar, uncertainty: 0.1 bar, slips: 0}}
readings:
  once_read: {of: lost, should_be: loss, good_to: 0.05 bar}
  twice_read: {of: twice, should_be: 2 * loss, good_to: 0.1 bar}
findings:
  much: {when: 'reads_as(lost, with = loss + 0.5 bar, without = loss, good_to = 0.05 bar)', leak: 0}
causes:
  blocked: {title: Blocked, common: 0.2, brings: {much: always}}
repairs: {clear: {mends: [blocked]}}
steps:
  look: {ask: [lost, twice], then: [{go: conclude}]}
";

/// Linear and normal, so that precisions add up. A reading must not have taught what it is held against:
/// that would bring the sound value to wherever it was read.
#[test]
fn a_reading_is_held_against_what_the_others_taught_and_not_itself() {
    let error = 0.05_f64.hypot(0.05);
    // Precision of the loss: 1/0.2² of the typical value, 2²/(0.1² + 0.1²) of the other reading.
    let (first, other): (f64, f64) = (1.0 / 0.04, 4.0 / 0.02);
    let after = ((first + other * 1.2) / (first + other), (first + other).powf(-0.5));
    for (answers, (middle, deviation)) in
        [("lost: 1.3 bar", (1.0, 0.2)), ("lost: 1.45 bar, twice: 2.4 bar", after)]
    {
        let read = if answers.contains("twice") { 1.45 } else { 1.3 };
        let scatter = f64::hypot(deviation, error);
        let (without, with) =
            (density(read - middle, scatter), density(read - middle - 0.5, scatter));
        let brought = 0.2 * (0.99 * with + 0.01 * without);
        let right = brought / (brought + 0.8 * without);
        let printed = cause(&told(TAUGHT, answers), "blocked");
        assert!((printed - right).abs() < 0.01, "{answers}: {printed}, not {right}");
    }
}
