//! Workings as printed: values in coherent SI with their bands, formula, source and assumptions;
//! the keys of the whole conclusion.

use serde_json::Value;

use super::bench::{Bench, entry, finding, list, number};

const PACK: &str = "
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  peak: {text: Highest boost, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.02 bar}}
  spring: {text: Spring, answer: {measure: gauge_pressure, unit: psi, uncertainty: 2 %}}
  bore: {text: Bore of the port, answer: {measure: length, unit: mm}}
  speed: {text: Engine speed, answer: {measure: rotation}}
  air: {text: Air, answer: {measure: temperature}}
  share: {text: Duty, answer: {measure: number, unit: '%'}}
  coefficient: {text: Coefficient, answer: {measure: number, from: 0.4, to: 1, typical: 0.75 ± 0.08}}
  dialled: {text: On the dial, answer: {measure: gauge_pressure, read_with: [dial]}}
  curve:
    text: Pressure against travel
    answer: {table: {pressure: gauge_pressure, travel: length}}
instruments:
  dial: {title: dial gauge, class: 1.6 %, span: 1.6 bar}
sources:
  book: {title: A book of the trade, where: chapter 3}
workings:
  over: {formula: peak - spring, says: 'Over by {over}.', source: [book]}
  part: {formula: coefficient * bore ^ 2}
  twice_speed: {formula: 2 * speed}
  warmer: {formula: air + 10 K}
  duty: {formula: share / 2}
  on_dial: {formula: dialled - 0.1 bar}
  bent: {formula: abs(peak - 1 bar)}
  root: {formula: 'sqrt((peak - spring) / (1 bar))'}
  at_travel: {formula: 'interpolate(curve, travel = 5 mm)'}
  area: {formula: circle_area(bore)}
findings:
  over_much: {when: over > 0.1 bar, leak: 0.02}
causes:
  stuck: {title: Stuck, common: 0.05, brings: {over_much: 0.9}}
steps:
  look: {ask: [peak], work: [over], then: [{go: conclude}]}
";

const PSI: f64 = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);

fn replay(answers: &str) -> Value {
    Bench::new(PACK).replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"))
}

fn close(found: f64, right: f64) -> bool {
    (found - right).abs() <= 1e-6 * right.abs().max(1e-9)
}

fn assert_worked(told: &Value, id: &str, value: f64, uncertainty: f64, unit: &str) {
    let line = entry(told, "workings", id);
    assert!(close(number(line, "value"), value), "{line}");
    assert!(close(number(line, "standard_uncertainty"), uncertainty), "{line}");
    assert_eq!(line["unit"], unit, "{line}");
    assert!(close(number(line, "low"), value - 1.96 * uncertainty), "{line}");
    assert!(close(number(line, "high"), value + 1.96 * uncertainty), "{line}");
    assert_eq!(line["band_from"], "first_order", "{line}");
}

#[test]
fn a_working_is_printed_in_pascal_with_its_band_formula_and_source() {
    let told = replay("peak: 0.92 bar, spring: 6 psi");
    let uncertainty = 2e3_f64.hypot(0.02 * 6.0 * PSI);
    assert_worked(&told, "over", 0.92e5 - 6.0 * PSI, uncertainty, "Pa");
    let line = entry(&told, "workings", "over");
    assert_eq!(line["formula"], "peak - spring");
    assert!(line["source"].as_str().unwrap().contains("A book of the trade"));
    assert_eq!(line["assumed"], serde_json::json!([]));
    let q = 1.0 - libm::erfc((0.92e5 - 6.0 * PSI - 1e4) / uncertainty / 2.0_f64.sqrt()) / 2.0;
    assert!((finding(&told, "over_much").unwrap() - q).abs() < 1e-7);
}

#[test]
fn what_a_person_writes_behind_the_value_is_its_uncertainty() {
    let told = replay("peak: 0.92 bar ± 0.05, spring: 6 psi ± 1 %");
    let uncertainty = 5e3_f64.hypot(0.01 * 6.0 * PSI);
    assert_worked(&told, "over", 0.92e5 - 6.0 * PSI, uncertainty, "Pa");
}

#[test]
fn every_quantity_is_printed_in_its_coherent_unit_and_rotation_in_rpm() {
    let told = replay("speed: 5500 rpm, air: 20 °C, share: 50 %, bore: 24 mm");
    assert_worked(&told, "twice_speed", 11_000.0, 0.0, "rpm");
    assert_worked(&told, "warmer", 303.15, 0.0, "K");
    assert_worked(&told, "duty", 0.25, 0.0, "1");
    // An area of 24 mm across: 452.389 mm² (π/4·d²).
    assert_worked(&told, "area", 452.389_342e-6, 0.0, "m2");
    assert!(!entry(&told, "workings", "area")["source"].as_str().unwrap().is_empty());
}

#[test]
fn what_nobody_measured_is_named_as_assumed() {
    let told = replay("bore: 24 mm");
    assert_worked(&told, "part", 0.75 * 0.024 * 0.024, 0.08 * 0.024 * 0.024, "m2");
    let assumed = &entry(&told, "workings", "part")["assumed"];
    assert_eq!(*assumed, serde_json::json!(["coefficient"]));
    let told = replay("bore: 24 mm, coefficient: 0.8");
    assert_eq!(entry(&told, "workings", "part")["assumed"], serde_json::json!([]));
}

#[test]
fn an_instrument_gives_the_uncertainty_of_its_class_and_span() {
    // The printed limit taken as a rectangular distribution: JCGM 100:2008, 4.3.7.
    let told = replay("dialled: 0.9 bar");
    assert_worked(&told, "on_dial", 0.8e5, 0.016 * 1.6e5 / 3.0_f64.sqrt(), "Pa");
}

#[test]
fn a_table_is_read_between_its_rows() {
    let rows = "[{pressure: 0.4 bar, travel: 2 mm}, {pressure: 0.8 bar, travel: 10 mm}]";
    let told = replay(&format!("curve: {rows}"));
    assert_worked(&told, "at_travel", 0.55e5, 0.0, "Pa");
}

#[test]
fn where_the_first_order_fails_the_band_is_drawn() {
    // The magnitude of what may be on either side of nothing.
    let told = replay("peak: 1.005 bar");
    let line = entry(&told, "workings", "bent");
    assert_eq!(line["band_from"], "monte_carlo");
    assert!(close(number(line, "value"), 500.0), "{line}");
    let (low, high) = (number(line, "low"), number(line, "high"));
    assert!(low >= 0.0 && high > low, "{line}");
    assert!(close(number(line, "standard_uncertainty"), (high - low) / 2.0 / 1.96), "{line}");
    // The folded normal distribution: 95 % of |0.25 + z| lie below 2.029 in uncertainties, 2.5 %
    // below 0.032 (from the normal distribution function, solved by hand).
    let chance_below = |x: f64| {
        let below = |z: f64| libm::erfc(-z / 2.0_f64.sqrt()) / 2.0;
        below(x / 2e3 - 0.25) - below(-x / 2e3 - 0.25)
    };
    assert!((chance_below(low) - 0.025).abs() < 0.006, "{low}");
    assert!((chance_below(high) - 0.975).abs() < 0.006, "{high}");
}

#[test]
fn what_cannot_be_calculated_is_no_working() {
    let told = replay("peak: 0.4 bar ± 0.001, spring: 6 psi ± 0.01");
    let workings: Vec<&str> =
        list(&told, "workings").iter().map(|line| line["id"].as_str().unwrap()).collect();
    assert!(workings.contains(&"over") && !workings.contains(&"root"), "{workings:?}");
    assert!(!workings.contains(&"twice_speed"), "nobody gave the speed: {workings:?}");
}

#[test]
fn the_keys_of_the_contract_are_all_there() {
    let told = replay("peak: 0.92 bar, spring: 6 psi");
    for key in [
        "complaint",
        "round",
        "next_question",
        "open_questions",
        "workings",
        "findings",
        "causes",
        "likely_sets",
        "next_work",
        "cautions",
        "contradiction",
        "inference",
    ] {
        assert!(told.get(key).is_some(), "no {key}");
    }
    let keys = |value: &Value, wanted: &[&str]| {
        for key in wanted {
            assert!(value.get(key).is_some(), "no {key} in {value}");
        }
    };
    keys(&replay("")["next_question"], &["id", "text"]);
    let working = ["id", "value", "unit", "standard_uncertainty", "low", "high", "band_from"];
    keys(entry(&told, "workings", "over"), &working);
    keys(entry(&told, "workings", "over"), &["formula", "source", "assumed"]);
    keys(entry(&told, "findings", "over_much"), &["id", "probability"]);
    let cause = entry(&told, "causes", "stuck");
    keys(cause, &["id", "title", "probability", "for", "against"]);
    keys(&cause["for"][0], &["finding", "times"]);
    keys(&told["likely_sets"][0], &["causes", "probability"]);
    keys(&told["inference"], &["exact", "left_out"]);
}
