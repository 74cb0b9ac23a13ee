//! How the cost of ranking grows with causes, findings and findings seen to be true.
//!
//! `cargo bench --bench ranking`. The networks are invented: each cause brings a handful of findings,
//! mostly of its own part of the car, and a few causes are really there when the answers are drawn.

#![allow(clippy::expect_used, reason = "a network that the bench itself drew is sound")]
#![allow(clippy::print_stdout, reason = "what was measured is told beside how long it took")]

use boostwright::ranking::{
    Belief, Factor, Finding, Link, Network, Observable, Repair, information, overturns, plan,
    posterior, without_each,
};
use divan::{Bencher, black_box};
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

fn main() {
    for size in SIZES {
        let (network, factors) = network(size);
        let inference =
            posterior(&network, &Belief::start(), &factors).expect("possible").inference();
        println!("{size}: left out {:.1e}, {:?}", inference.left_out, inference.rests_on);
    }
    divan::main();
}

/// A size to measure.
#[derive(Debug, Clone, Copy)]
struct Size {
    causes: usize,
    findings: usize,
    answered: usize,
    positive: usize,
    /// How many findings a cause brings.
    brings: usize,
    /// How many of the answers carry doubt.
    doubtful: usize,
}

impl std::fmt::Display for Size {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { causes, findings, answered, positive, brings, doubtful } = self;
        write!(
            f,
            "{causes}/{findings}/{answered} {positive} true, {doubtful} doubtful, {brings} links"
        )
    }
}

const BUILT_IN: Size =
    Size { causes: 100, findings: 160, answered: 40, positive: 10, brings: 5, doubtful: 12 };
const LARGE: Size =
    Size { causes: 300, findings: 900, answered: 120, positive: 25, brings: 6, doubtful: 20 };

const SIZES: [Size; 14] = [
    Size { positive: 0, ..BUILT_IN },
    Size { positive: 5, ..BUILT_IN },
    BUILT_IN,
    Size { positive: 20, ..BUILT_IN },
    Size { doubtful: 0, ..BUILT_IN },
    Size { doubtful: 30, ..BUILT_IN },
    Size { brings: 10, ..BUILT_IN },
    Size { causes: 200, findings: 320, answered: 80, ..BUILT_IN },
    LARGE,
    Size { positive: 50, ..LARGE },
    Size { brings: 12, ..LARGE },
    Size { doubtful: 90, ..LARGE },
    Size { brings: 20, doubtful: 30, ..BUILT_IN },
    Size { brings: 20, doubtful: 90, ..LARGE },
];

/// A network and answers to it, the same on every run.
fn network(size: Size) -> (Network, Vec<Factor>) {
    let mut rng = Xoshiro256PlusPlus::seed_from_u64(7);
    let mut findings = vec![Finding { leak: 0.02, links: Vec::new() }; size.findings];
    for cause in 0..size.causes {
        let home = cause * size.findings / size.causes;
        for _ in 0..size.brings {
            let near = (home + rng.random_range(0..20)) % size.findings;
            let far = rng.random_range(0..size.findings);
            let at = if rng.random_bool(0.7) { near } else { far };
            if findings[at].links.iter().all(|link| link.cause != cause) {
                findings[at].links.push(Link { cause, strength: rng.random_range(0.1..0.95) });
            }
        }
    }
    let priors = (0..size.causes).map(|_| rng.random_range(0.005..0.05)).collect();
    let factors = (0..size.answered)
        .map(|index| {
            let finding =
                (index * size.findings / size.answered + rng.random_range(0..2)) % size.findings;
            let yes = index * size.positive % size.answered < size.positive;
            let doubt = index * size.doubtful % size.answered < size.doubtful;
            match (yes, doubt) {
                (true, true) => Factor::doubtful(finding, 0.9),
                (true, false) => Factor::yes(finding),
                (false, true) => Factor::doubtful(finding, 0.1),
                (false, false) => Factor::no(finding),
            }
        })
        .collect();
    (Network::new(priors, findings).expect("made of chances"), factors)
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn weigh_the_evidence(bencher: Bencher<'_, '_>, size: Size) {
    let (network, factors) = network(size);
    bencher.bench(|| posterior(black_box(&network), &Belief::start(), black_box(&factors)));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn leave_out_each_finding(bencher: Bencher<'_, '_>, size: Size) {
    let (network, factors) = network(size);
    let start = Belief::start();
    let got = posterior(&network, &start, &factors).expect("possible");
    bencher.bench(|| without_each(black_box(&network), &start, black_box(&factors), &got));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn turn_each_answer_round(bencher: Bencher<'_, '_>, size: Size) {
    let (network, factors) = network(size);
    let start = Belief::start();
    let got = posterior(&network, &start, &factors).expect("possible");
    let without = without_each(&network, &start, &factors, &got);
    bencher.bench(|| overturns(black_box(&network), &start, black_box(&factors), &got, &without));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn value_a_hundred_questions(bencher: Bencher<'_, '_>, size: Size) {
    let (network, factors) = network(size);
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    let bundles: Vec<Vec<Observable>> = (0..100)
        .map(|index| {
            let one = |finding: usize| Observable::Finding {
                finding: finding % size.findings,
                sure: 0.95,
            };
            if index % 4 == 0 {
                vec![one(index), one(index + 7), one(index + 40)]
            } else {
                vec![one(index)]
            }
        })
        .collect();
    bencher.bench(|| information(black_box(&network), &got, black_box(&bundles)));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn order_twenty_repairs(bencher: Bencher<'_, '_>, size: Size) {
    let (network, factors) = network(size);
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    let mut likely: Vec<usize> = (0..size.causes).collect();
    likely.sort_by(|a, b| got.probabilities()[*b].total_cmp(&got.probabilities()[*a]));
    let repair = |cause: &usize| Repair {
        mends: vec![*cause],
        succeeds: 0.9,
        minutes: f64::from(20 + u32::try_from(*cause).expect("a few hundred causes")),
        check: Some(10.0),
    };
    let repairs: Vec<Repair> = likely.iter().take(20).map(repair).collect();
    bencher.bench(|| plan(black_box(&got), &likely, &repairs, 600.0));
}
