//! Why a cause is thought likely, and what would overturn the order.

use boostwright::ranking::{
    Belief, Factor, FactorAt, Finding, Link, Network, Overturn, Pattern, Wrong, overturns,
    posterior, without_each,
};
use rand::RngExt;
use rayon::ThreadPoolBuilder;

use super::{oracle, random_network};

/// The evidence with one finding taken out, written from the definition.
fn left_out(factors: &[Factor], at: usize, finding: usize) -> Vec<Factor> {
    let mut rest: Vec<Factor> = factors.to_vec();
    if let Factor::Group { findings, patterns } = &factors[at] {
        let place = findings.iter().position(|f| *f == finding).expect("of the group");
        let without = |truths: &[bool]| [&truths[..place], &truths[place + 1..]].concat();
        let kept: Vec<usize> = findings.iter().copied().filter(|f| *f != finding).collect();
        let merged = patterns
            .iter()
            .map(|p| {
                let alike = patterns.iter().filter(|o| without(&o.truths) == without(&p.truths));
                Pattern {
                    truths: without(&p.truths),
                    weight: alike.map(|other| other.weight).sum(),
                }
            })
            .fold(Vec::<Pattern>::new(), |mut unique, pattern| {
                if unique.iter().all(|p| p.truths != pattern.truths) {
                    unique.push(pattern);
                }
                unique
            });
        if !kept.is_empty() {
            rest[at] = Factor::Group { findings: kept, patterns: merged };
            return rest;
        }
    }
    rest.remove(at);
    rest
}

#[test]
fn odds_with_over_odds_without_agree_with_enumeration() {
    let mut compared = 0;
    for case in 100..250 {
        let mut rng = random_network::chance(case);
        let (causes, findings) = (rng.random_range(2..=7), rng.random_range(2..=10));
        let network = random_network::network(&mut rng, causes, findings, 4);
        let factors = random_network::factors(&mut rng, &network, 0.7);
        let Ok(got) = posterior(&network, &Belief::start(), &factors) else { continue };
        let with = oracle::posterior(&network, &[], &factors).expect("possible");
        for without in without_each(&network, &Belief::start(), &factors, &got) {
            let rest = left_out(&factors, without.at.index, without.finding);
            let sets = oracle::posterior(&network, &[], &rest).expect("less is possible");
            for cause in 0..causes {
                let (p, q) = (oracle::marginal(&with, cause), oracle::marginal(&sets, cause));
                // Odds near certainty are all rounding, on either side.
                if p.min(1.0 - p).min(q).min(1.0 - q) < 1e-6 {
                    continue;
                }
                let right = p / (1.0 - p) / (q / (1.0 - q));
                let times = without.times(&got, cause).expect("known");
                assert!((times / right - 1.0).abs() < 1e-8, "case {case}: {times} against {right}");
                compared += 1;
            }
        }
    }
    assert!(compared > 1000, "only {compared} compared");
}

/// Two causes, each with its own tell-tale, and a complaint both bring.
fn two_suspects() -> Network {
    let link = |cause, strength| Link { cause, strength };
    Network::new(
        vec![0.05, 0.04],
        vec![
            Finding { leak: 0.0, links: vec![link(0, 0.9), link(1, 0.9)] },
            Finding { leak: 0.05, links: vec![link(0, 0.9)] },
            Finding { leak: 0.05, links: vec![link(1, 0.9)] },
        ],
    )
    .expect("made of chances")
}

#[test]
fn a_finding_with_no_leak_and_one_cause_makes_it_infinitely_likelier() {
    let network = Network::new(
        vec![0.1],
        vec![Finding { leak: 0.0, links: vec![Link { cause: 0, strength: 0.5 }] }],
    )
    .expect("made of chances");
    let factors = [Factor::yes(0)];
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    let without = without_each(&network, &Belief::start(), &factors, &got);
    assert_eq!(without[0].times(&got, 0), Some(f64::INFINITY));
    assert_eq!(without[0].times(&got, 1), None);
}

#[test]
fn the_one_answer_that_holds_the_lead_is_named() {
    let network = two_suspects();
    let factors = [Factor::yes(0), Factor::no(1)];
    let got = posterior(&network, &Belief::start(), &factors).expect("possible");
    assert_eq!(got.lead(), Some(1));
    let without = without_each(&network, &Belief::start(), &factors, &got);
    let named: Vec<(FactorAt, Wrong, usize)> =
        overturns(&network, &Belief::start(), &factors, &got, &without)
            .into_iter()
            .map(|Overturn { at, wrong, lead, .. }| (at, wrong, lead))
            .collect();
    let tell_tale = FactorAt { round: 0, index: 1 };
    // Were the complaint itself false, both causes would be unlikely, the first ruled down by its
    // missing tell-tale as before: the lead stays.
    assert_eq!(named, [(tell_tale, Wrong::Worthless, 0), (tell_tale, Wrong::TurnedRound, 0)]);
}

#[test]
fn the_number_of_threads_changes_neither_a_digit_nor_the_order() {
    let mut rng = random_network::chance(7);
    let network = random_network::network(&mut rng, 30, 40, 6);
    let factors = random_network::factors(&mut rng, &network, 0.6);
    let start = Belief::start();
    let got = posterior(&network, &start, &factors).expect("possible");
    let on = |threads: usize| {
        let pool = ThreadPoolBuilder::new().num_threads(threads).build().expect("threads to spare");
        pool.install(|| {
            let without = without_each(&network, &start, &factors, &got);
            let overturns = overturns(&network, &start, &factors, &got, &without);
            (without, overturns)
        })
    };
    let (without, overturned) = on(1);
    assert!(without.len() > 20 && !overturned.is_empty(), "nothing to compare");
    assert_eq!(on(4), (without, overturned));
}
