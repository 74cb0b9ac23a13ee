//! Expected information against its definition.

use std::collections::BTreeMap;

use boostwright::ranking::{Belief, Network, Observable, Refusal, information, posterior};
use rand::{Rng, RngExt};

use super::{oracle, random_network};

/// The chance of each report of one observable, with exactly the causes of `set` present.
fn reports(network: &Network, observable: &Observable, set: u32) -> Vec<f64> {
    let chance = |finding: usize, truth: bool| {
        let yes = oracle::chance_of_finding(network, finding, set);
        if truth { yes } else { 1.0 - yes }
    };
    let (truths, sure): (Vec<f64>, f64) = match observable {
        Observable::Finding { finding, sure } => {
            (vec![chance(*finding, true), chance(*finding, false)], *sure)
        }
        Observable::Group { findings, patterns, sure } => {
            let weights: Vec<f64> = patterns
                .iter()
                .map(|p| {
                    findings
                        .iter()
                        .zip(p)
                        .map(|(finding, truth)| chance(*finding, *truth))
                        .product()
                })
                .collect();
            let total: f64 = weights.iter().sum();
            let even = 1.0 / weights.len() as f64;
            (weights.iter().map(|w| if total > 0.0 { w / total } else { even }).collect(), *sure)
        }
    };
    let wrong = (1.0 - sure) / (truths.len() - 1) as f64;
    (0..truths.len())
        .map(|report| {
            truths
                .iter()
                .enumerate()
                .map(|(truth, p)| p * if truth == report { sure } else { wrong })
                .sum()
        })
        .collect()
}

/// Σ p(set, reports)·log2(p(set, reports) / (p(set)·p(reports))), term by term.
fn by_definition(network: &Network, sets: &oracle::Sets, bundle: &[Observable]) -> f64 {
    let mut joint: Vec<(u32, Vec<usize>, f64)> =
        sets.iter().map(|(set, mass)| (*set, vec![], *mass)).collect();
    for observable in bundle {
        joint = joint
            .into_iter()
            .flat_map(|(set, seen, mass)| {
                let reports = reports(network, observable, set);
                reports.into_iter().enumerate().map(move |(report, chance)| {
                    (set, [seen.as_slice(), &[report]].concat(), mass * chance)
                })
            })
            .collect();
    }
    let mut of_reports: BTreeMap<Vec<usize>, f64> = BTreeMap::new();
    for (_, seen, mass) in &joint {
        *of_reports.entry(seen.clone()).or_default() += mass;
    }
    joint
        .iter()
        .filter(|(_, _, mass)| *mass > 0.0)
        .map(|(set, seen, mass)| mass * (mass / (sets[set] * of_reports[seen])).log2())
        .sum()
}

fn bundle(rng: &mut impl Rng, findings: usize) -> Vec<Observable> {
    let sure =
        |rng: &mut dyn Rng| if rng.random_bool(0.3) { 1.0 } else { rng.random_range(0.6..1.0) };
    let mut bundle = vec![Observable::Finding { finding: 0, sure: sure(rng) }];
    if findings > 3 && rng.random_bool(0.5) {
        let patterns = vec![vec![true, false], vec![false, true], vec![false, false]];
        bundle.push(Observable::Group { findings: vec![1, 2], patterns, sure: sure(rng) });
        bundle.push(Observable::Finding { finding: 3, sure: sure(rng) });
    }
    bundle
}

#[test]
fn the_worth_of_a_bundle_agrees_with_the_definition_of_mutual_information() {
    for case in 300..500 {
        let mut rng = random_network::chance(case);
        let (causes, findings) = (rng.random_range(1..=7), rng.random_range(1..=10));
        let network = random_network::network(&mut rng, causes, findings, 5);
        let factors: Vec<_> = random_network::factors(&mut rng, &network, 0.5);
        let Ok(got) = posterior(&network, &Belief::start(), &factors) else { continue };
        let sets = oracle::posterior(&network, &[], &factors).expect("possible");
        let bundle = bundle(&mut rng, findings);
        let right = by_definition(&network, &sets, &bundle);
        let bits = information(&network, &got, std::slice::from_ref(&bundle)).expect("in range")[0];
        assert!((bits - right).abs() < 1e-9, "case {case}: {bits} against {right}");
    }
}

#[test]
fn an_answer_that_is_a_coin_toss_tells_nothing() {
    let mut rng = random_network::chance(9);
    let network = random_network::network(&mut rng, 5, 6, 4);
    let got = posterior(&network, &Belief::start(), &[]).expect("possible");
    let bundles = vec![vec![Observable::Finding { finding: 2, sure: 0.5 }]];
    assert!(information(&network, &got, &bundles).expect("in range")[0] < 1e-12);
}

#[test]
fn observations_together_are_worth_no_less_than_the_best_of_them() {
    let mut rng = random_network::chance(10);
    let network = random_network::network(&mut rng, 8, 6, 4);
    let got = posterior(&network, &Belief::start(), &[]).expect("possible");
    let one = |finding| Observable::Finding { finding, sure: 0.95 };
    let bundles = vec![vec![one(0)], vec![one(1)], vec![one(0), one(1)]];
    let bits = information(&network, &got, &bundles).expect("in range");
    assert!(bits[2] >= bits[0].max(bits[1]), "{bits:?}");
    assert!(bits[0] > 0.0 && bits[1] > 0.0, "{bits:?}");
}

#[test]
fn a_bundle_that_names_a_finding_twice_is_refused() {
    let mut rng = random_network::chance(11);
    let network = random_network::network(&mut rng, 3, 3, 2);
    let got = posterior(&network, &Belief::start(), &[]).expect("possible");
    let one = Observable::Finding { finding: 1, sure: 1.0 };
    let refusal = information(&network, &got, &[vec![one.clone(), one]]);
    assert!(matches!(refusal, Err(Refusal::BadGroup { .. })), "{refusal:?}");
}
