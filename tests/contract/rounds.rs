//! Rounds: a repair between each two, what still holds, what counts again, and the verdict.

use serde_json::{Value, json};

use super::bench::{Bench, cause, entry, finding, ids, number};
use super::enumeration::{Round, Seen, Unit, assert_agrees, no, soft, yes};

const PACK: &str = "
complaints:
  too_high:
    title: Boost too high
    start: look
    shows: [above_spring]
questions:
  peak:
    text: Highest boost
    answer: {measure: gauge_pressure, unit: bar, from: 0 bar, to: 3 bar, uncertainty: 0.02 bar}
    holds: each_run
  hose: {text: Is the hose whole?, answer: yes_or_no, sure: 0.9}
  clamp: {text: Is the clamp tight?, answer: yes_or_no}
  badge: {text: Is the badge on the lid?, answer: yes_or_no, holds: car}
  noise: {text: Does it hiss?, answer: yes_or_no}
findings:
  above_spring: {when: peak > 0.6 bar, leak: 0.02}
  hose_open: {when: not hose, leak: 0.03}
  hose_or_clamp: {when: not hose or not clamp, leak: 0.05}
  badge_off: {when: not badge, leak: 0.1}
  hisses: {when: noise, leak: 0.08}
causes:
  hose_off:
    title: The hose is off
    common: 6 in 100
    brings: {above_spring: always, hose_open: nearly_always, hose_or_clamp: always, hisses: 0.4}
  clamp_loose:
    title: The clamp is loose
    common: 4 in 100
    brings: {above_spring: often, hose_or_clamp: usually, hisses: usually}
  wrong_badge:
    title: Another model
    common: 0.05
    brings: {badge_off: 0.9, above_spring: sometimes}
repairs:
  new_hose:
    title: Fit a new hose
    mends: [hose_off]
    succeeds: 8 in 10
    invalidates: [hose]
    predicts: {peak: spring}
  tighten: {title: Tighten the clamp, mends: [clamp_loose, hose_off]}
workings:
  spring: {formula: 0.5 bar + 0 * peak}
steps:
  look:
    ask: [peak, hose, clamp, badge, noise]
    then: [{go: conclude}]
";

fn replay(rounds: &[&str]) -> Value {
    let rounds: Vec<String> = rounds.iter().map(|round| format!("- {{{round}}}\n")).collect();
    Bench::new(PACK).replay(&format!("rounds:\n{}", rounds.concat()))
}

fn round(seen: &[Seen]) -> Round {
    Round { seen: seen.to_vec(), ..Round::default() }
}

fn mended(seen: &[Seen], causes: &[&str], succeeds: f64) -> Round {
    let mended = causes.iter().map(|cause| (*cause).to_owned()).collect();
    Round { seen: seen.to_vec(), mended, succeeds }
}

const FIRST: &str = "complaint: too_high, answers: {hose: no, clamp: yes}";

/// What the look at the hose weighs with the clamp tight, where it is open with this probability: the
/// look is right, or wrong, for both findings. Of the four patterns of the compound's two parts three make
/// it true, one makes it false.
fn hose(open: f64) -> Seen {
    let unit =
        |id: &str| Unit { findings: vec![id.to_owned()], possible: vec![vec![true], vec![false]] };
    let is = |truth: bool, weight: f64| vec![(vec![truth], weight)];
    Seen::Together {
        units: vec![unit("hose_open"), unit("hose_or_clamp")],
        states: vec![
            (open, vec![is(true, 1.0), is(true, 1.0 / 3.0)]),
            (1.0 - open, vec![is(false, 1.0), is(false, 1.0)]),
        ],
    }
}

/// What the first round's answers weigh.
fn first() -> Vec<Seen> {
    vec![yes("above_spring"), hose(0.9)]
}

#[test]
fn a_mended_cause_survives_where_the_repair_failed_and_the_rest_stay() {
    let told = replay(&[FIRST, "repair: new_hose, answers: {}"]);
    assert_eq!(told["round"], json!(2));
    assert_agrees(&told, PACK, &[mended(&first(), &["hose_off"], 0.8), round(&[])]);
    let before = replay(&[FIRST]);
    let left = 0.2 * cause(&before, "hose_off");
    assert!((cause(&told, "hose_off") - left).abs() < 1e-9);
    assert!((cause(&told, "clamp_loose") - cause(&before, "clamp_loose")).abs() < 1e-9);
}

#[test]
fn a_repair_that_does_not_say_succeeds_nine_times_in_ten_for_every_cause_it_mends() {
    let told = replay(&[FIRST, "repair: tighten, answers: {}"]);
    let first = mended(&first(), &["clamp_loose", "hose_off"], 0.9);
    assert_agrees(&told, PACK, &[first, round(&[])]);
}

#[test]
fn what_still_holds_is_known_but_not_counted_twice() {
    let told = replay(&[
        "complaint: too_high, answers: {badge: no, clamp: yes, peak: 0.9 bar}",
        "repair: new_hose, answers: {noise: no}",
    ]);
    assert_eq!(finding(&told, "badge_off"), Some(1.0));
    let first = [yes("above_spring"), yes("badge_off")];
    let first = mended(&first, &["hose_off"], 0.8);
    assert_agrees(&told, PACK, &[first, round(&[no("hisses")])]);
}

#[test]
fn what_a_repair_made_stale_or_holds_for_one_run_is_open_again() {
    let answers = "complaint: too_high, \
        answers: {peak: 0.9 bar, hose: no, clamp: yes, badge: yes, noise: no}";
    let told = replay(&[answers, "repair: new_hose, answers: {}"]);
    assert_eq!(ids(&told, "open_questions"), ["peak", "hose"]);
    assert_eq!(finding(&told, "above_spring"), None);
    assert_eq!(finding(&told, "hose_open"), None);
    assert_eq!(finding(&told, "badge_off"), Some(0.0));
    // The other repair disturbs nothing but what holds for one run.
    let told = replay(&[answers, "repair: tighten, answers: {}"]);
    assert_eq!(ids(&told, "open_questions"), ["peak"]);
}

#[test]
fn a_finding_with_a_new_answer_below_it_counts_again() {
    let told = replay(&[FIRST, "repair: new_hose, answers: {hose: yes}"]);
    // The clamp's answer holds; the compound rests on the hose's new one.
    assert_agrees(&told, PACK, &[mended(&first(), &["hose_off"], 0.8), round(&[hose(0.1)])]);
}

#[test]
fn an_answer_given_again_is_new_evidence() {
    let told = replay(&[
        "complaint: too_high, answers: {badge: no}",
        "repair: new_hose, answers: {badge: no}",
    ]);
    let first = mended(&[yes("above_spring"), yes("badge_off")], &["hose_off"], 0.8);
    assert_agrees(&told, PACK, &[first, round(&[yes("badge_off")])]);
}

#[test]
fn what_cannot_be_said_after_the_repair_counts_neither_way() {
    let told = replay(&[FIRST, "repair: new_hose, answers: {hose: unknown, peak: later}"]);
    assert_eq!(finding(&told, "hose_open"), None);
    assert_agrees(&told, PACK, &[mended(&first(), &["hose_off"], 0.8), round(&[])]);
}

#[test]
fn three_rounds_go_on_from_one_another() {
    let told = replay(&[
        FIRST,
        "repair: new_hose, answers: {peak: 0.9 bar, hose: yes}",
        "repair: tighten, answers: {peak: 0.4 bar, noise: no}",
    ]);
    assert_eq!(told["round"], json!(3));
    let second = [hose(0.1), soft("above_spring", 1.0 - libm::erfc(15.0 / 2.0_f64.sqrt()) / 2.0)];
    let third = [soft("above_spring", libm::erfc(10.0 / 2.0_f64.sqrt()) / 2.0), no("hisses")];
    let rounds = [
        mended(&first(), &["hose_off"], 0.8),
        mended(&second, &["clamp_loose", "hose_off"], 0.9),
        round(&third),
    ];
    assert_agrees(&told, PACK, &rounds);
}

/// The verdict on a new hose with these readings before and after.
fn verdict(before: &str, after: &str) -> Value {
    let told = replay(&[
        &format!("complaint: too_high, answers: {{peak: {before}}}"),
        &format!("repair: new_hose, answers: {{{after}}}"),
    ]);
    told["verdict"].clone()
}

#[test]
fn the_verdict_holds_the_reading_after_against_the_one_before() {
    let cases = [
        ("peak: 0.5 bar", "cured"),
        ("peak: 0.8 bar", "better"),
        ("peak: 1 bar", "unchanged"),
        ("peak: 1.3 bar", "worse"),
        ("noise: no", "not_comparable"),
        ("", "not_comparable"),
    ];
    for (after, word) in cases {
        let verdict = verdict("1 bar", after);
        assert_eq!(verdict["verdict"], word, "{after}: {verdict}");
        let probability = number(&verdict, "probability");
        assert!(probability > 0.5 && probability <= 1.0, "{after}: {probability}");
    }
}

#[test]
fn the_verdict_gives_the_numbers_before_after_and_predicted() {
    let verdict = verdict("1 bar", "peak: 0.55 bar");
    for (key, value, uncertainty) in
        [("before", 1e5, 2e3), ("after", 0.55e5, 2e3), ("predicted", 0.5e5, 0.0)]
    {
        let figure = &verdict[key];
        assert!((number(figure, "value") - value).abs() < 1e-6, "{key}: {figure}");
        assert!((number(figure, "standard_uncertainty") - uncertainty).abs() < 1e-3, "{figure}");
        assert_eq!(figure["unit"], "Pa");
    }
    // 0.6 bar is what the complaint shows itself by: 2.5 uncertainties off.
    let cured = 1.0 - libm::erfc(2.5 / 2.0_f64.sqrt()) / 2.0;
    assert!((number(&verdict, "probability") - cured).abs() < 1e-9);
}

#[test]
fn a_repair_that_is_proposed_says_what_it_should_bring_in_numbers() {
    let told = replay(&["complaint: too_high, answers: {peak: 0.9 bar, hose: no}"]);
    let repair = entry(&told, "next_work", "new_hose");
    assert_eq!(repair["kind"], "repair");
    assert!(repair["expect"].as_str().unwrap().contains("0.5 bar"), "{repair}");
    let right = 0.8 * cause(&told, "hose_off");
    assert!((number(repair, "chance") - right).abs() < 1e-9, "{repair}");
    assert!((number(repair, "minutes") - 60.0).abs() < 1e-9, "{repair}");
}

#[test]
fn the_first_round_has_no_verdict() {
    assert_eq!(replay(&[FIRST])["verdict"], Value::Null);
}

#[test]
fn a_round_with_readings_is_looked_at_once_however_many_follow() {
    use std::fmt::Write as _;
    use std::time::Duration;

    use boostwright::interview::fold;
    use boostwright::rules::{PackSource, load_to_walk};
    use boostwright::session::{read_session_text, take};

    let pack = load_to_walk(&[PackSource::BuiltIn]).expect("the built-in rules").pack;
    let mut text = "rounds:\n".to_owned();
    for round in 0..60 {
        let opening = ["repair: renew_the_signal_hose", "complaint: boost_too_high_controller_off"];
        let _ = write!(
            text,
            "- {}\n  answers: {{boost_seen: 1.0{} bar, boost_with_gate_tied_open: 0.6{} bar, \
             speed_tied_open: 5000 rpm}}\n",
            opening[usize::from(round == 0)],
            round % 10,
            round % 7
        );
    }
    let (session, source) = read_session_text("many.yaml", text).expect("sound answers");
    let taken = take(&session, &source, &pack).expect("known questions");
    let clock = crate::clock::Clock::start();
    assert_eq!(fold(&pack, &taken.rounds, None).round, 60);
    // Each round looked at again for all that follow took ten times as long.
    assert!(clock.worked() < Duration::from_secs(8), "{:?}", clock.worked());
}
