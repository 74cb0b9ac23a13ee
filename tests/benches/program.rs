//! What a person waits for: the program starting, one fold after a key press, a whole replay.

#![allow(clippy::expect_used, reason = "a bench that cannot go on has nothing to measure")]

use std::process::Command;

use boostwright::interview::{State, fold};
use boostwright::report::{conclude, json};
use boostwright::rules::{Pack, PackSource, load, load_to_walk};
use boostwright::session::{read_session, take};

fn main() {
    divan::main();
}

fn built_in() -> Pack {
    load(&[PackSource::BuiltIn]).expect("the built-in pack loads").pack
}

/// The demo with the most answers.
fn longest_demo() -> std::path::PathBuf {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/transcripts-demo");
    std::fs::read_dir(folder)
        .expect("the demos are there")
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "yaml"))
        .max_by_key(|path| path.metadata().map_or(0, |about| about.len()))
        .expect("a demo")
}

fn rounds(pack: &Pack) -> Vec<boostwright::interview::Round> {
    let (session, source) = read_session(&longest_demo()).expect("the demo reads");
    take(&session, &source, pack).expect("the demo fits the pack").rounds
}

/// The whole process: arguments, the built-in pack read and linked, one line printed.
#[divan::bench(sample_count = 20)]
fn start_up() {
    let status = Command::new(env!("CARGO_BIN_EXE_boostwright")).args(["pack", "list"]).output();
    assert!(status.expect("the program runs").status.success());
}

#[divan::bench]
fn load_the_built_in_pack() -> Pack {
    built_in()
}

/// The same as an interview needs it.
#[divan::bench]
fn load_it_for_an_interview() -> Pack {
    load_to_walk(&[PackSource::BuiltIn]).expect("the built-in pack loads").pack
}

/// One fold of the longest demo with the sums of the fold before it at hand, as after a key press.
#[divan::bench]
fn one_fold(bencher: divan::Bencher<'_, '_>) {
    let pack = built_in();
    let rounds = rounds(&pack);
    let memo = std::sync::Arc::default();
    let first = boostwright::interview::fold_with(&pack, &rounds, None, &memo);
    drop(first);
    bencher.bench_local(|| {
        let state: State<'_> = boostwright::interview::fold_with(&pack, &rounds, None, &memo);
        state.round
    });
}

/// The longest demo folded from nothing and concluded.
#[divan::bench(sample_count = 20)]
fn replay_the_longest_demo(bencher: divan::Bencher<'_, '_>) {
    let pack = built_in();
    let rounds = rounds(&pack);
    bencher.bench_local(|| {
        let state = fold(&pack, &rounds, None);
        json(&conclude(&state, rounds.last().and_then(|round| round.repair))).len()
    });
}
