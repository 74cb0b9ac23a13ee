//! What is asked next: steps, branches, what is wanted before, what was put off, cautions.

use boostwright::interview::{Answer, Round, fold};
use serde_json::{Value, json};

use super::bench::{Bench, entry, ids, list, next};

const PACK: &str = "
complaints:
  too_high: {title: Boost too high, start: look}
  too_noisy: {title: It hisses, start: listen}
car_states:
  on_the_road: {title: on the road}
  cold: {title: cold, cautions: [stands]}
questions:
  gauge_zero: {text: Does the gauge read nothing at rest?, answer: yes_or_no}
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, unit: bar}
    not_before: [gauge_zero]
    cautions: [ears]
  spring:
    text: Spring
    answer: {measure: gauge_pressure}
    car: cold
  tied:
    text: Boost with the gate tied open
    answer: {measure: gauge_pressure}
    car: on_the_road
    setup: gate_tied
  noise: {text: Does it hiss?, answer: yes_or_no}
  rod: {text: Does the rod move?, answer: yes_or_no}
  hose: {text: Is the hose whole?, answer: yes_or_no}
  gauge_glass: {text: Is the glass whole?, answer: yes_or_no}
  mixture: {text: Lambda under boost, answer: {measure: number}}
setups:
  gate_tied: {title: gate held open with wire, put_back: Unhook the wire., cautions: [wire]}
workings:
  margin: {formula: peak - spring}
findings:
  hisses: {when: noise, leak: 0.05}
  not_hissing: {when: not noise, leak: 0.05}
  rod_stuck: {when: not rod, leak: 0.05}
  above_spring: {when: margin > 0 bar, leak: 0.05}
causes:
  leaky: {title: A leak, common: 0.05, brings: {hisses: 0.9}}
  stuck: {title: Stuck, common: 0.05, brings: {rod_stuck: 0.9, above_spring: 0.5}}
cautions:
  stands: {level: danger, text: Never on a jack alone.}
  ears: {text: Mind your ears.}
  wire: {level: danger, text: Mind the turbine.}
  lean:
    level: stop
    when: mixture > 0.95
    text: Lean under boost. No more pulls.
    forbids: [on_the_road]
steps:
  look:
    ask: [peak, spring]
    work: [margin]
    then:
      - {when: margin > 0.1 bar, go: go_on}
      - {when: hisses, go: open_up}
      - {when: not_hissing and rod, go: go_on}
      - {go: conclude}
  go_on:
    ask: [tied, mixture]
    then: [{go: listen}]
  open_up: {ask: [hose], then: [{go: conclude}]}
  listen:
    ask: [noise]
    then: [{go: look}]
";

fn replay_of(complaint: &str, answers: &str) -> Value {
    Bench::new(PACK).replay(&format!("complaint: {complaint}\nanswers: {{{answers}}}\n"))
}

fn replay(answers: &str) -> Value {
    replay_of("too_high", answers)
}

#[test]
fn a_question_comes_after_what_is_wanted_before_it() {
    assert_eq!(next(&replay("")), Some("gauge_zero"));
    assert_eq!(next(&replay("gauge_zero: yes")), Some("peak"));
    assert_eq!(replay("gauge_zero: yes")["next_question"]["text"], "Highest boost");
}

#[test]
fn a_question_is_not_asked_where_what_is_wanted_before_it_was_answered_badly() {
    for badly in ["no", "unknown"] {
        let told = replay(&format!("gauge_zero: {badly}"));
        assert_eq!(next(&told), Some("spring"));
        assert!(!ids(&told, "open_questions").contains(&"peak"));
    }
}

#[test]
fn a_question_that_does_not_fit_the_car_is_not_asked() {
    let pack = PACK.replace(
        "  hose: {text: Is the hose whole?, answer: yes_or_no}",
        "  hose: {text: Is the hose whole?, answer: yes_or_no, fits: rod and not hisses}",
    );
    let bench = Bench::new(&pack);
    let told = |more: &str| {
        bench.replay(&format!("complaint: too_noisy\nanswers: {{gauge_zero: no, spring: 0.5 bar, tied: unknown, mixture: 0.8, {more}}}\n"))
    };
    let open = |told: &Value| ids(told, "open_questions").contains(&"hose");
    // `and` is known not to hold from one side alone; what nobody knows keeps the question.
    assert!(open(&told("noise: unknown")));
    assert!(open(&told("noise: unknown, rod: yes")));
    assert!(!open(&told("noise: unknown, rod: no")));
    assert!(!open(&told("noise: yes")));
    assert_eq!(next(&told("noise: yes, gauge_glass: yes, rod: yes")), None);
}

#[test]
fn what_does_not_fit_the_car_is_not_waited_for() {
    let pack =
        PACK.replace("at rest?, answer: yes_or_no", "at rest?, answer: yes_or_no, fits: not rod");
    let bench = Bench::new(&pack);
    let told = |rod: &str| bench.replay(&format!("complaint: too_high\nanswers: {{rod: {rod}}}\n"));
    // Without a rod the gauge is asked first; with one there is nothing to ask of it.
    assert_eq!(next(&told("no")), Some("gauge_zero"));
    assert_eq!(next(&told("yes")), Some("peak"));
    assert!(ids(&told("yes"), "open_questions").contains(&"peak"));
}

#[test]
fn a_branch_on_a_working_is_taken_when_it_is_likelier_than_not() {
    let answers = "gauge_zero: yes, peak: 0.7 bar";
    assert_eq!(next(&replay(&format!("{answers}, spring: 0.5 bar"))), Some("tied"));
    // Half and half is not above one half.
    let even = format!("{answers}, spring: 0.6 bar ± 0.05, noise: no, rod: no, mixture: 0.8");
    let told = replay(&even);
    assert!(next(&told) != Some("tied"), "{told}");
}

#[test]
fn a_branch_on_a_finding_is_passed_over_where_nothing_is_known() {
    let walked = "gauge_zero: yes, peak: 0.5 bar, spring: 0.5 bar";
    // The walk is at its end: whatever tells most comes, in whichever step it stands. Of two that tell
    // as much the file's first.
    assert_eq!(next(&replay(walked)), Some("noise"));
    assert_eq!(next(&replay(&format!("{walked}, noise: unknown"))), Some("rod"));
}

#[test]
fn a_branch_on_findings_is_taken_when_they_are_likelier_than_not() {
    let walked = "gauge_zero: yes, peak: 0.5 bar, spring: 0.5 bar";
    assert_eq!(next(&replay(&format!("{walked}, noise: yes"))), Some("hose"));
    assert_eq!(next(&replay(&format!("{walked}, noise: no, rod: yes"))), Some("tied"));
    assert_eq!(next(&replay(&format!("{walked}, noise: no, rod: no"))), None);
}

#[test]
fn a_branch_may_ask_what_is_known() {
    let pack = PACK.replace("{when: hisses, go: open_up}", "{when: not known(noise), go: open_up}");
    let bench = Bench::new(&pack);
    let walked = "gauge_zero: yes, peak: 0.5 bar, spring: 0.5 bar";
    let replay =
        |more: &str| bench.replay(&format!("complaint: too_high\nanswers: {{{walked}{more}}}"));
    assert_eq!(next(&replay("")), Some("hose"));
    assert_eq!(next(&replay(", noise: unknown")), Some("hose"));
    assert_eq!(next(&replay(", noise: no")), Some("rod"));
}

#[test]
fn either_of_two_values_that_stand_for_one_another_is_enough() {
    // Both tell whether it hisses; with dear asking, two answers for what one tells would come last.
    let pack = PACK
        .replace(
            "hisses: {when: noise, leak: 0.05}",
            "hisses: {when: if known(hose) then not hose else gauge_glass, leak: 0.05}",
        )
        .replace("hisses: 0.9", "hisses: 0.98");
    let bench = Bench::new(&format!("{pack}pack: {{asking: 20 min}}\n"));
    let walked = "gauge_zero: yes, peak: 0.5 bar, spring: 0.5 bar";
    let replay =
        |more: &str| bench.replay(&format!("complaint: too_high\nanswers: {{{walked}{more}}}"));
    assert_eq!(next(&replay("")), Some("hose"));
    // Known by the first, the other has nothing to add; where the first can't be had, it stands in.
    assert_ne!(next(&replay(", hose: yes")), Some("gauge_glass"));
    assert_eq!(next(&replay(", hose: unknown")), Some("gauge_glass"));
}

#[test]
fn a_step_gives_way_to_what_tells_far_more_elsewhere() {
    // The step's own look hardly tells anything; what a step of the other complaint asks tells all.
    let pack = PACK
        .replace("    ask: [peak, spring]\n    work: [margin]", "    ask_best_of: [gauge_glass]")
        .replace("      - {when: margin > 0.1 bar, go: go_on}\n", "")
        .replace("      - {when: not_hissing and rod, go: go_on}\n", "")
        .replace("then: [{go: look}]", "then: [{go: go_on}]")
        .replace(
            "rod_stuck: {when: not rod, leak: 0.05}",
            "rod_stuck: {when: not rod, leak: 0.05}\n  dim: {when: not gauge_glass, leak: 0.05}",
        )
        .replace("rod_stuck: 0.9", "rod_stuck: 0.9, dim: 0.8")
        .replace("title: A leak, common: 0.05", "title: A leak, common: 0.3");
    let bench = Bench::new(&pack);
    let replay = |answers: &str| bench.replay(&format!("complaint: too_high\nanswers: {answers}"));
    assert_eq!(next(&replay("{gauge_zero: no, spring: 0.5 bar}")), Some("noise"));
    // Of one who can say little the steps of the complaint are kept to.
    assert_eq!(
        next(&replay("{gauge_zero: no, noise: unknown, rod: unknown}")),
        Some("gauge_glass")
    );
}

#[test]
fn half_of_what_tells_something_is_not_asked_where_the_other_half_cannot_be_had() {
    let pack = PACK
        .replace("    ask: [peak, spring]\n", "    ask_best_of: [spring, rod]\n")
        .replace("rod_stuck: 0.9, above_spring: 0.5", "rod_stuck: 0.5, above_spring: 0.99")
        .replace("peak - spring}", "peak - spring}\npack: {asking: 4 min}");
    let bench = Bench::new(&pack);
    let replay = |gauge: &str| {
        bench.replay(&format!("complaint: too_high\nanswers: {{gauge_zero: {gauge}, noise: no}}"))
    };
    // Boost over the spring wants both; a gauge that lies leaves one of them alone.
    assert_eq!(next(&replay("yes")), Some("spring"));
    assert_eq!(next(&replay("no")), Some("rod"));
}

#[test]
fn each_step_is_entered_once() {
    let walked = "gauge_zero: yes, peak: 0.9 bar, spring: 0.5 bar, tied: 0.3 bar, mixture: 0.8";
    assert_eq!(next(&replay(walked)), Some("noise"));
    // Listening leads back to looking, and so to the end.
    assert_eq!(next(&replay(&format!("{walked}, noise: no, rod: yes"))), None);
}

#[test]
fn several_complaints_are_walked_in_turn() {
    let told = replay_of("[too_noisy, too_high]", "");
    assert_eq!(next(&told), Some("noise"));
    let told = replay_of("[too_noisy, too_high]", "noise: no");
    assert_eq!(next(&told), Some("gauge_zero"));
    let one = replay_of("[too_high]", "");
    assert_eq!(one["complaint"], json!("too_high"));
}

#[test]
fn a_step_that_two_complaints_start_at_is_entered_once() {
    let pack = PACK.replace("title: It hisses, start: listen", "title: It hisses, start: look");
    let pack = Bench::new(&pack).loaded().pack;
    let mut round = Round { complaints: pack.complaints.indices().collect(), ..Round::default() };
    // With everything put aside the walk goes through to its end.
    pack.questions.indices().for_each(|question| round.give(question, Answer::CantSay));
    let path = fold(&pack, &[round], None).walk.path;
    assert_eq!(path, [pack.steps.find("look").unwrap()]);
}

#[test]
fn what_cannot_be_said_is_not_asked_again() {
    let told = replay("gauge_zero: yes, peak: unknown");
    assert_eq!(next(&told), Some("spring"));
    assert!(!ids(&told, "open_questions").contains(&"peak"));
}

#[test]
fn what_was_put_off_is_asked_again_when_nothing_else_is_left() {
    let told = replay("gauge_zero: yes, peak: later");
    assert_eq!(next(&told), Some("spring"));
    assert!(ids(&told, "open_questions").contains(&"peak"));
    let rest = "gauge_zero: yes, peak: later, spring: 0.5 bar, rod: no, noise: no";
    assert_eq!(next(&replay(rest)), Some("peak"));
}

#[test]
fn what_was_put_off_does_not_crowd_out_what_tells_less() {
    // Putting off what tells by far the most leaves the rest to be asked first.
    let pack = PACK
        .replace("    ask: [peak, spring]\n    work: [margin]", "    ask_best_of: [noise, rod]")
        .replace("title: A leak, common: 0.05", "title: A leak, common: 0.3");
    let bench = Bench::new(&pack);
    let replay = |answers: &str| bench.replay(&format!("complaint: too_high\nanswers: {answers}"));
    assert_eq!(next(&replay("{gauge_zero: no, spring: 0.5 bar}")), Some("noise"));
    let put_off = "gauge_zero: no, spring: 0.5 bar, noise: later";
    assert_eq!(next(&replay(&format!("{{{put_off}}}"))), Some("rod"));
    assert_eq!(next(&replay(&format!("{{{put_off}, rod: yes}}"))), Some("noise"));
}

#[test]
fn what_is_answered_off_the_path_counts_too() {
    let told = replay("noise: yes");
    let leaky = entry(&told, "causes", "leaky");
    assert_eq!(leaky["for"][0]["finding"], "hisses");
    assert_eq!(next(&told), Some("gauge_zero"));
}

#[test]
fn a_stop_caution_forbids_what_it_names_and_stands_first() {
    let walked = "gauge_zero: yes, peak: 0.9 bar, spring: 0.5 bar";
    let told = replay(walked);
    assert_eq!(next(&told), Some("tied"));
    assert_eq!(caution_ids(&told)[..], ["wire"]);
    let told = replay(&format!("{walked}, mixture: 1.1"));
    assert_eq!(next(&told), Some("noise"));
    assert!(!ids(&told, "open_questions").contains(&"tied"));
    let first = &list(&told, "cautions")[0];
    assert_eq!((first["id"].as_str(), first["level"].as_str()), (Some("lean"), Some("stop")));
    assert_eq!(first["in_force"], true);
    assert_eq!(first["text"], "Lean under boost. No more pulls.");
}

#[test]
fn the_cautions_of_a_question_its_setup_and_the_state_of_the_car_go_with_it() {
    assert_eq!(caution_ids(&replay("gauge_zero: yes"))[..], ["ears"]);
    assert_eq!(caution_ids(&replay("gauge_zero: yes, peak: 1 bar"))[..], ["stands"]);
}

fn caution_ids(told: &Value) -> Vec<&str> {
    list(told, "cautions").iter().map(|caution| caution["id"].as_str().unwrap()).collect()
}

#[test]
fn a_question_that_tells_nothing_is_open_but_never_asked() {
    let all = "gauge_zero: yes, peak: 0.5 bar, spring: 0.5 bar, noise: no, rod: no";
    let told = replay(all);
    assert!(ids(&told, "open_questions").contains(&"gauge_glass"));
    assert_eq!(next(&told), None);
}

#[test]
fn a_reading_makes_stale_what_it_disturbs() {
    let pack = PACK.replace("    car: cold\n", "    car: cold\n    invalidates: [rod]\n");
    let bench = Bench::new(&pack);
    let told = bench.replay("complaint: too_high\nanswers: {rod: no, spring: 0.5 bar}\n");
    assert!(ids(&told, "open_questions").contains(&"rod"));
    let told = bench.replay("complaint: too_high\nanswers: {spring: 0.5 bar, rod: no}\n");
    assert!(!ids(&told, "open_questions").contains(&"rod"));
}
