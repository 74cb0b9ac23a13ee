//! What readings cost: one answer more with so many of them behind it, and the conclusion with its plan.

#![allow(clippy::expect_used, reason = "a bench that cannot go on has nothing to measure")]

use std::fs;
use std::sync::Arc;

use boostwright::formula::Memo;
use boostwright::interview::{Round, fold_with};
use boostwright::report::{conclude, json};
use boostwright::rules::{Pack, PackSource, load_to_walk};
use boostwright::session::{read_session, take};
use divan::Bencher;

fn main() {
    divan::main();
}

/// Most readings: three in each round before the last.
const MOST: usize = 8;

/// The answers of one round that are readings, in order: tied open, lower down, and what makes the
/// ordinary pull one.
const READINGS: [&str; 3] = [
    "boost_with_gate_tied_open: 0.70; 0.69; 0.71 bar",
    "boost_tied_open_lower: 0.55; 0.55; 0.56 bar",
    "witness_travel: 8.2 mm",
];

fn demo() -> String {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/transcripts-demo/port_planned.yaml");
    fs::read_to_string(path).expect("the demo is there")
}

/// The planned port with so many readings. Beyond three they are those after boring, round by round.
fn interview(pack: &Pack, readings: usize, left_out: Option<&str>) -> Vec<Round> {
    let own = |round: usize| readings.saturating_sub(3 * round).min(3);
    let unread = "boost_tied_open_lower: unknown";
    let mut text = demo().replace(unread, READINGS[1]);
    text = text
        .replace(READINGS[1], &format!("{}\n      speed_tied_open_lower: 4500 rpm", READINGS[1]));
    for reading in &READINGS[own(0)..] {
        text = text.replace(&format!("      {reading}\n"), "");
    }
    for round in 1..readings.div_ceil(3) {
        let all = [
            "boost_with_gate_tied_open: 0.55; 0.55; 0.56 bar\n      speed_tied_open: 5900 rpm",
            "boost_tied_open_lower: 0.45; 0.45; 0.46 bar\n      speed_tied_open_lower: 4500 rpm",
            "peak_boost: 0.56 bar\n      speed_at_peak: 5900 rpm\n      witness_travel: 8.3 mm",
        ];
        let own = all[..own(round)].join("\n      ");
        text.push_str(&format!(
            "  - repair: open_the_port\n    answers:\n      port_diameter: {} mm\n      \
             rod_starts_to_move: 0.38 bar\n      rod_fully_out: 0.62 bar\n      rod_travel: 8.4 mm\n      \
             flap_lift: 7 mm\n      {own}\n",
            20 + round
        ));
    }
    let text = left_out.map_or_else(|| text.clone(), |line| text.replace(line, ""));
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("answers.yaml");
    fs::write(&path, text).expect("a file");
    let (session, source) = read_session(&path).expect("it reads");
    take(&session, &source, pack).expect("it fits the pack").rounds
}

fn pack() -> Pack {
    load_to_walk(&[PackSource::BuiltIn]).expect("the built-in pack loads").pack
}

/// Folds the same interview again with one answer more than what was folded before.
fn with_one_more(bencher: Bencher<'_, '_>, readings: usize, answer: &str) {
    let pack = pack();
    let (before, after) =
        (interview(&pack, readings, Some(answer)), interview(&pack, readings, None));
    bencher
        .with_inputs(|| {
            let memo: Arc<Memo> = Arc::default();
            drop(fold_with(&pack, &before, None, &memo));
            memo
        })
        .bench_local_values(|memo| fold_with(&pack, &after, None, &memo).round);
}

/// From a key to the next prompt, for an answer that is below no reading.
#[divan::bench(args = 0..=MOST, sample_count = 10, sample_size = 1)]
fn another_answer(bencher: Bencher<'_, '_>, readings: usize) {
    with_one_more(bencher, readings, "      planned_spark_gap: 0.7 mm\n");
}

/// From a key to the next prompt, for an answer that goes into every reading.
#[divan::bench(args = 0..=MOST, sample_count = 10, sample_size = 1)]
fn answer_below_the_readings(bencher: Bencher<'_, '_>, readings: usize) {
    with_one_more(bencher, readings, "      passage_diameter: 25 mm\n");
}

/// The conclusion with its plan, once all is folded.
#[divan::bench(args = 0..=MOST, sample_count = 10, sample_size = 1)]
fn conclusion(bencher: Bencher<'_, '_>, readings: usize) {
    let pack = pack();
    let rounds = interview(&pack, readings, None);
    let repair = rounds.last().and_then(|round| round.repair);
    bencher
        .with_inputs(|| fold_with(&pack, &rounds, None, &Arc::default()))
        .bench_local_values(|state| json(&conclude(&state, repair)).len());
}
