//! What a pack says once holds as if it were written out at each place: named conditions, sets of
//! arguments, and what its head says of all questions.

use boostwright::rules::{FileText, Loaded, PackSource, load};
use serde_json::Value;

use super::bench::Bench;

/// The same pack twice: with names, and with what they stand for written out.
const NAMED: &str = "
pack: {usual: {sure: 90 in 100, slips: 3 in 100}}
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  gate: {text: Which gate?, answer: {choose: {inside: inside, outside: outside, none: none}}}
  moved_by: {text: What moves it?, answer: {choose: {boost: boost, vacuum: vacuum, motor: motor}}}
  peak: {text: Highest boost, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.05 bar}}
  port: {text: Port, answer: {measure: length, unit: mm, uncertainty: 0.2 mm}, fits: flap_on_boost}
  coefficient: {text: Coefficient, answer: {measure: number, typical: 0.75 ± 0.08}}
  hisses: {text: Does it hiss?, answer: yes_or_no, fits: on_boost}
  looked: {text: Was it looked at?, answer: yes_or_no, sure: 1}
conditions:
  on_boost: moved_by != motor and moved_by != vacuum
  flap_on_boost: gate == inside and on_boost
  far_over: peak > 0.9 bar
  loud_or_high: hissing or far_over
arguments:
  hot_gas:
    values:
      temperature: 900 K ± 50
      back_pressure: 120 kPa
      gamma: 1.3
      gas_constant: 290 J/(kg K)
relations:
  through: {given: [area, before], formula: 'nozzle_flow(area, pressure = before, hot_gas)'}
workings:
  flow: {formula: 'coefficient * through(circle_area(port), 240 kPa)'}
  cold_flow: {formula: 'nozzle_flow(area = circle_area(port), pressure = 200 kPa, temperature = 300 K, hot_gas)'}
  counted: {formula: 'only_if(far_over, peak)'}
findings:
  high: {when: far_over and on_boost, leak: 2 in 100}
  held: {when: not far_over and on_boost, leak: 0.3}
  hissing: {when: hisses, leak: 4 in 100}
  telling: {when: loud_or_high, leak: 6 in 100}
  little: {when: flow < 0.1 kg/s and flap_on_boost, leak: 1 in 10}
causes:
  port_small: {title: Small port, common: 4 in 100, fits: flap_on_boost, brings: {high: 0.8, little: 0.9}}
  hose_leaks: {title: Leaking hose, common: 6 in 100, fits: on_boost and not held, brings: {hissing: 0.7, telling: 0.6}}
  motor_weak: {title: Weak motor, common: 3 in 100, fits: not on_boost, brings: {held: 0.5}}
cautions:
  mind: {when: loud_or_high, text: Mind your ears.}
steps:
  look: {ask: [gate, peak], then: [{when: flap_on_boost, go: more}, {go: conclude}]}
  more: {ask: [port, hisses], then: [{go: conclude}]}
";

const WRITTEN_OUT: &str = "
complaints:
  too_high: {title: Boost too high, start: look}
questions:
  gate: {text: Which gate?, sure: 0.9, answer: {choose: {inside: inside, outside: outside, none: none}}}
  moved_by: {text: What moves it?, sure: 0.9, answer: {choose: {boost: boost, vacuum: vacuum, motor: motor}}}
  peak: {text: Highest boost, answer: {measure: gauge_pressure, unit: bar, uncertainty: 0.05 bar, slips: 0.03}}
  port: {text: Port, answer: {measure: length, unit: mm, uncertainty: 0.2 mm, slips: 0.03}, fits: gate == inside and (moved_by != motor and moved_by != vacuum)}
  coefficient: {text: Coefficient, answer: {measure: number, typical: 0.75 ± 0.08}}
  hisses: {text: Does it hiss?, answer: yes_or_no, sure: 0.9, fits: moved_by != motor and moved_by != vacuum}
  looked: {text: Was it looked at?, answer: yes_or_no}
relations:
  through: {given: [area, before], formula: 'nozzle_flow(area, pressure = before, temperature = 900 K ± 50, back_pressure = 120 kPa, gamma = 1.3, gas_constant = 290 J/(kg K))'}
workings:
  flow: {formula: 'coefficient * through(circle_area(port), 240 kPa)'}
  cold_flow: {formula: 'nozzle_flow(area = circle_area(port), pressure = 200 kPa, temperature = 300 K, back_pressure = 120 kPa, gamma = 1.3, gas_constant = 290 J/(kg K))'}
  counted: {formula: 'only_if(peak > 0.9 bar, peak)'}
findings:
  high: {when: peak > 0.9 bar and (moved_by != motor and moved_by != vacuum), leak: 2 in 100}
  held: {when: not (peak > 0.9 bar) and (moved_by != motor and moved_by != vacuum), leak: 0.3}
  hissing: {when: hisses, leak: 4 in 100}
  telling: {when: hissing or peak > 0.9 bar, leak: 6 in 100}
  little: {when: flow < 0.1 kg/s and (gate == inside and (moved_by != motor and moved_by != vacuum)), leak: 1 in 10}
causes:
  port_small: {title: Small port, common: 4 in 100, fits: gate == inside and (moved_by != motor and moved_by != vacuum), brings: {high: 0.8, little: 0.9}}
  hose_leaks: {title: Leaking hose, common: 6 in 100, fits: moved_by != motor and moved_by != vacuum and not held, brings: {hissing: 0.7, telling: 0.6}}
  motor_weak: {title: Weak motor, common: 3 in 100, fits: not (moved_by != motor and moved_by != vacuum), brings: {held: 0.5}}
cautions:
  mind: {when: hissing or peak > 0.9 bar, text: Mind your ears.}
steps:
  look: {ask: [gate, peak], then: [{when: gate == inside and (moved_by != motor and moved_by != vacuum), go: more}, {go: conclude}]}
  more: {ask: [port, hisses], then: [{go: conclude}]}
";

/// A conclusion without what tells one pack's text from another's.
fn told(pack: &str, answers: &str) -> Value {
    let mut told =
        Bench::new(pack).replay(&format!("complaint: too_high\nanswers: {{{answers}}}\n"));
    without_texts(&mut told);
    told
}

/// Takes out the formulas as they are written, and the digest of the rules.
fn without_texts(told: &mut Value) {
    match told {
        Value::Object(fields) => {
            let of_text = ["formula", "formula_in_short", "with_numbers", "digest", "packs"];
            fields.retain(|key, _| !of_text.contains(&key.as_str()));
            fields.values_mut().for_each(without_texts);
        }
        Value::Array(items) => items.iter_mut().for_each(without_texts),
        _ => {}
    }
}

#[test]
fn what_is_named_once_comes_out_as_what_is_written_out_everywhere() {
    let answers = [
        "peak: 0.92 bar",
        "peak: 0.92 bar, port: 27 mm",
        "gate: inside, moved_by: boost, peak: 1.1 bar, port: 27 mm, hisses: yes",
        "gate: outside, moved_by: motor, peak: 0.85 bar",
        "moved_by: vacuum, hisses: unknown, peak: 0.7 bar",
        "hisses: no, coefficient: 0.8",
    ];
    for answers in answers {
        let (named, written) = (told(NAMED, answers), told(WRITTEN_OUT, answers));
        assert!(named["causes"].as_array().is_some_and(|causes| causes.len() == 3), "{named}");
        assert_eq!(named, written, "{answers}");
    }
}

fn laid(packs: &[&str]) -> Loaded {
    let text = |rules: &&str| {
        let text = (*rules).to_owned().into();
        PackSource::Texts(vec![FileText { name: "rules.yaml".to_owned(), text }])
    };
    load(&packs.iter().map(text).collect::<Vec<_>>()).unwrap()
}

/// How often an answer to a question is right.
fn right(loaded: &Loaded, id: &str) -> f64 {
    let pack = &loaded.pack;
    pack.questions[pack.questions.find(id).unwrap()].right()
}

const BELOW: &str = "
pack: {usual: {sure: 90 in 100, slips: 1 in 100}}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
  clamp: {text: Is the clamp tight?, answer: yes_or_no, sure: 8 in 10}
  peak: {text: Highest boost, answer: {measure: gauge_pressure}}
  air: {text: Air, answer: {measure: absolute_pressure, typical: 1 bar ± 0.03}}
";

#[test]
fn what_a_head_says_of_its_questions_holds_for_no_other_pack() {
    let silent = "
pack: {replaces: [hose]}
questions:
  hose: {text: Is the whole hose whole?, answer: yes_or_no}
  needle: {text: Does the needle move?, answer: yes_or_no}
  spring: {text: Spring, answer: {measure: gauge_pressure}}
";
    let loaded = laid(&[BELOW, silent]);
    assert!(!loaded.faults.any_error(), "{:?}", loaded.faults.draw(false));
    let below = [("clamp", 0.8), ("peak", 0.99), ("air", 1.0)];
    let above = [("hose", 1.0), ("needle", 1.0), ("spring", 1.0)];
    for (id, wanted) in below.into_iter().chain(above) {
        assert!((right(&loaded, id) - wanted).abs() < 1e-12, "{id}: {}", right(&loaded, id));
    }
    let own = silent.replace("{replaces", "{usual: {sure: 0.7, slips: 0.2}, replaces");
    let loaded = laid(&[BELOW, &own]);
    let above = [("hose", 0.7), ("needle", 0.7), ("spring", 0.8)];
    for (id, wanted) in below.into_iter().chain(above) {
        assert!((right(&loaded, id) - wanted).abs() < 1e-12, "{id}: {}", right(&loaded, id));
    }
}
