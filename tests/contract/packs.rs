//! What a pack may leave out, and a second pack laid over the built-in one.

use boostwright::rules::Severity;

use super::bench::{Bench, cause, entry, finding, ids, next, number};
use super::enumeration::{assert_agrees, seen, yes};

/// Nothing but what is required.
const LEAST: &str = "
complaints:
  too_high: {title: Boost too high, start: look}
car_states:
  cold: {title: cold}
questions:
  hose: {text: Is the hose whole?, answer: yes_or_no}
findings:
  hose_open: {when: not hose, leak: 0.02}
causes:
  hose_off: {title: The hose is off, common: 0.04, brings: {hose_open: 0.9}}
steps:
  look: {then: [{go: conclude}]}
";

/// One of everything, each with every field that the contract shows.
const MOST: &str = "
complaints:
  too_high:
    title: Boost too high
    start: look
    shows: [far_over]
car_states:
  cold:
    title: cold, on stands
    cautions: [stands]
questions:
  peak:
    text: Highest boost
    answer:
      measure: gauge_pressure
      unit: bar
      from: 0 bar
      to: 3 bar
      read_with: [dial]
    how: Watch the needle.
    car: cold
    minutes: 10
    tools: [gauge]
    holds: each_run
    cautions: [stands]
    setup: tied_open
    repeats: 3
  hose:
    text: Is the hose whole?
    answer: yes_or_no
    sure: 90 in 100
    not_before: [level]
    invalidates: [travel]
  level:
    text: Does the gauge read nothing at rest?
    answer: yes_or_no
  coefficient:
    text: A coefficient
    answer:
      measure: number
      from: 0.4
      to: 1
      typical: 0.75 ± 0.08
      uncertainty: 0.02
  needle:
    text: What does the needle do?
    answer:
      choose:
        climbs: keeps climbing
        level: stays
  travel:
    text: Pressure against travel
    answer:
      table:
        pressure: gauge_pressure
        travel: length
setups:
  tied_open:
    title: gate held open with wire
    put_back: Unhook the wire.
instruments:
  dial:
    title: dial gauge
    class: 1.6 %
    span: 1.6 bar
relations:
  twice:
    given: [what]
    formula: 2 * what
workings:
  over:
    formula: peak - 0.5 bar
    says: Boost passes the spring by {over}.
curves:
  over_by_spring:
    over: spring
    from: 0.2 bar
    to: 0.8 bar
    steps: 5
    formula: twice(peak - spring)
findings:
  far_over:
    when: over > 0.2 bar
    says: Boost is far over the spring.
    leak: 2 in 100
  climbing:
    when: needle == climbs
    leak: 2 in 100
  hose_open:
    when: not hose
    leak: 2 in 100
causes:
  hose_off:
    title: The hose is off
    common: 3 in 100
    brings:
      far_over: nearly_always
      hose_open: always
    confirmed_by: [hose]
  gate_small:
    title: The gate is too small
    common: 4 in 100
    brings:
      far_over: nearly_always
      climbing: usually
repairs:
  new_hose:
    title: Fit a new hose
    mends: [hose_off]
    succeeds: 95 in 100
    minutes: 20
    cautions: [stands]
    invalidates: [hose]
    predicts:
      peak: expected
  bigger_gate:
    title: Open the port
    mends: [gate_small]
cautions:
  stands:
    level: danger
    text: Never under a car on a jack alone.
  far_too_high:
    level: stop
    when: peak > 1.5 bar
    text: No more pulls.
    forbids: [tied_open]
steps:
  look:
    ask: [peak, needle]
    work: [over]
    then:
      - when: far_over
        go: narrow
      - go: conclude
  narrow:
    ask_best_of: [hose, coefficient]
    until: clear
    then:
      - go: conclude
";

/// MOST without the line that holds `field`, and the lines indented under it.
fn without(field: &str) -> String {
    let mut lines: Vec<&str> = Vec::new();
    let mut skipped: Option<usize> = None;
    let mut found = false;
    let depth = |line: &str| line.len() - line.trim_start().len();
    for line in MOST.lines() {
        if skipped.is_some_and(|above| depth(line) > above) {
            continue;
        }
        skipped = None;
        if !found && line.trim_start() == field {
            found = true;
            skipped = Some(depth(line));
        } else {
            lines.push(line);
        }
    }
    assert!(found, "no line {field}");
    lines.join("\n") + "\n"
}

fn errors(pack: &str) -> Vec<String> {
    let faults = Bench::new(pack).loaded().faults;
    let errors = faults.list.iter().filter(|fault| fault.severity == Severity::Error);
    errors.map(|fault| fault.message()).collect()
}

const EXPECTED: &str = "workings:\n  expected:\n    formula: peak - over\n";

fn complete(pack: &str) -> String {
    pack.replace("workings:\n", EXPECTED)
}

#[test]
fn a_pack_with_nothing_but_what_is_required_runs() {
    let told = Bench::new(LEAST).replay("complaint: too_high\nanswers: {hose: no}\n");
    assert_agrees(&told, LEAST, &seen(&[yes("hose_open")]));
    let told = Bench::new(LEAST).replay("complaint: too_high\nanswers: {}\n");
    assert_agrees(&told, LEAST, &[]);
    // No step asks it, yet it tells.
    assert_eq!(next(&told), Some("hose"));
}

#[test]
fn the_words_of_the_contract_are_all_known() {
    assert_eq!(errors(&complete(MOST)), Vec::<String>::new());
}

#[test]
fn what_is_required_is_missed() {
    let required = [
        ("title: Boost too high", "title"),
        ("start: look", "start"),
        ("title: cold, on stands", "title"),
        ("text: Highest boost", "text"),
        ("when: needle == climbs", "when"),
        ("leak: 2 in 100", "leak"),
        ("title: The hose is off", "title"),
        ("common: 3 in 100", "common"),
    ];
    for (line, field) in required {
        let found = errors(&complete(&without(line)));
        assert!(found.iter().any(|error| error.contains(field)), "{line}: {found:?}");
    }
    let answer = LEAST.replace(", answer: yes_or_no", "");
    let brings = LEAST.replace(", brings: {hose_open: 0.9}", "");
    let then = LEAST.replace("then: [{go: conclude}]", "ask: [hose]");
    for (pack, field) in [(answer, "answer"), (brings, "brings"), (then, "then")] {
        let found = errors(&pack);
        assert!(found.iter().any(|error| error.contains(field)), "{field}: {found:?}");
    }
}

#[test]
fn any_other_lack_leaves_the_pack_running() {
    let optional = [
        "shows: [far_over]",
        "cautions: [stands]",
        "unit: bar",
        "from: 0 bar",
        "to: 3 bar",
        "read_with: [dial]",
        "how: Watch the needle.",
        "car: cold",
        "minutes: 10",
        "tools: [gauge]",
        "holds: each_run",
        "setup: tied_open",
        "repeats: 3",
        "sure: 90 in 100",
        "not_before: [level]",
        "invalidates: [travel]",
        "typical: 0.75 ± 0.08",
        "uncertainty: 0.02",
        "title: gate held open with wire",
        "put_back: Unhook the wire.",
        "title: dial gauge",
        "class: 1.6 %",
        "span: 1.6 bar",
        "formula: 2 * what",
        "formula: peak - 0.5 bar",
        "says: Boost passes the spring by {over}.",
        "over: spring",
        "from: 0.2 bar",
        "to: 0.8 bar",
        "steps: 5",
        "formula: twice(peak - spring)",
        "says: Boost is far over the spring.",
        "confirmed_by: [hose]",
        "title: Fit a new hose",
        "mends: [hose_off]",
        "succeeds: 95 in 100",
        "minutes: 20",
        "invalidates: [hose]",
        "predicts:",
        "title: Open the port",
        "level: danger",
        "text: Never under a car on a jack alone.",
        "level: stop",
        "when: peak > 1.5 bar",
        "text: No more pulls.",
        "forbids: [tied_open]",
        "ask: [peak, needle]",
        "work: [over]",
        "ask_best_of: [hose, coefficient]",
        "until: clear",
    ];
    for line in optional {
        let pack = complete(&without(line));
        assert_eq!(errors(&pack), Vec::<String>::new(), "without {line}");
        let told = Bench::new(&pack).replay("complaint: too_high\nanswers: {hose: no}\n");
        assert!(cause(&told, "hose_off") > 0.03, "without {line}");
    }
}

#[test]
fn what_reads_a_working_without_formula_is_never_known() {
    let bench = Bench::new(&complete(&without("formula: peak - 0.5 bar")));
    let answers = "{peak: 0.9 bar, needle: climbs, hose: no, level: yes}";
    let told = bench.replay(&format!("complaint: too_high\nanswers: {answers}\n"));
    // Shown by the complaint, and decided by no answer.
    assert_eq!(finding(&told, "far_over"), Some(1.0));
    assert_eq!(finding(&told, "hose_open"), Some(0.9));
    assert!(told["workings"].as_array().unwrap().is_empty());
}

#[test]
fn a_question_takes_5_minutes_unless_it_says_otherwise() {
    let told = Bench::new(LEAST).replay("complaint: too_high\nanswers: {}\n");
    let check = entry(&told, "next_work", "hose");
    assert_eq!((check["kind"].as_str(), number(check, "minutes")), (Some("check"), 5.0));
}

#[test]
fn a_repair_succeeds_nine_times_in_ten_unless_it_says_otherwise() {
    let pack = format!("{LEAST}repairs:\n  new_hose: {{mends: [hose_off]}}\n");
    let told = Bench::new(&pack).replay("complaint: too_high\nanswers: {hose: no}\n");
    let repair = entry(&told, "next_work", "new_hose");
    assert_eq!(repair["kind"], "repair");
    assert!((number(repair, "chance") - 0.9 * cause(&told, "hose_off")).abs() < 1e-12);
}

/// A question, a finding and a cause of somebody else's, over the built-in pack.
const OVERLAY: &str = "
questions:
  bonnet_painted_red:
    text: Is the bonnet painted red?
    answer: yes_or_no
findings:
  bonnet_is_red:
    when: bonnet_painted_red
    leak: 10 in 100
causes:
  red_paint:
    title: Red paint
    common: 2 in 100
    brings: {bonnet_is_red: always}
";

#[test]
fn one_file_over_the_built_in_pack_brings_its_question_finding_and_cause() {
    let bench = Bench::new(OVERLAY);
    let replay = |answers: &str| {
        let complaint = "complaint: boost_too_high_controller_off";
        bench.replay_over_built_in(&format!("{complaint}\nanswers: {{{answers}}}\n"))
    };
    let (before, red, blue) =
        (replay(""), replay("bonnet_painted_red: yes"), replay("bonnet_painted_red: no"));
    assert!(ids(&before, "open_questions").contains(&"bonnet_painted_red"));
    assert!(!ids(&red, "open_questions").contains(&"bonnet_painted_red"));
    assert_eq!(finding(&before, "bonnet_is_red"), None);
    assert_eq!(finding(&red, "bonnet_is_red"), Some(1.0));
    // One cause and one finding that nothing else touches: Bayes by hand.
    let (prior, told, silent) = (0.02, 1.0 - 0.9 * 0.01, 0.9 * 0.01);
    let with = prior * told / (prior * told + (1.0 - prior) * 0.1);
    let without = prior * silent / (prior * silent + (1.0 - prior) * 0.9);
    assert!((cause(&before, "red_paint") - prior).abs() < 1e-9);
    assert!((cause(&red, "red_paint") - with).abs() < 1e-9);
    assert!((cause(&blue, "red_paint") - without).abs() < 1e-9);
    let line = entry(&red, "causes", "red_paint");
    assert_eq!(line["for"][0]["finding"], "bonnet_is_red");
}

#[test]
fn a_pack_above_replaces_only_what_it_says_it_replaces() {
    let below = Bench::new(LEAST);
    let above = |head: &str| {
        let pack =
            format!("{head}causes:\n  hose_off: {{title: Another, common: 0.5, brings: {{}}}}\n");
        let above = Bench::new(&pack);
        let sources = [below.pack(), above.pack()].map(boostwright::rules::PackSource::Folder);
        boostwright::rules::load(&sources).unwrap()
    };
    assert!(above("").faults.any_error(), "an id of the pack below is taken");
    let replaced = above("pack: {name: above, replaces: [hose_off]}\n");
    assert!(!replaced.faults.any_error(), "{}", replaced.faults.draw(false).join("\n"));
    let place = replaced.pack.causes.find("hose_off").unwrap();
    assert_eq!(replaced.pack.causes[place].title, "Another");
}

#[test]
fn a_strength_is_a_word_or_a_number_and_a_chance_a_number_or_a_count_in_a_hundred() {
    let worded = LEAST.replace("hose_open: 0.9", "hose_open: usually");
    let counted = LEAST.replace("common: 0.04", "common: 4 in 100");
    for pack in [worded, counted] {
        let told = Bench::new(&pack).replay("complaint: too_high\nanswers: {hose: no}\n");
        assert_agrees(&told, &pack, &seen(&[yes("hose_open")]));
    }
}
