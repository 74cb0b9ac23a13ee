//! Chances, sets and predictions of small networks against brute force.

use boostwright::ranking::{Belief, Factor, Network, Refusal, RestsOn, posterior};
use rand::RngExt;

use super::oracle::{self, Round, Sets};
use super::random_network;

/// The room promises this much on small networks; rounding alone is near 1e-13.
const TOLERANCE: f64 = 1e-9;

/// A set below this may be nothing but rounding (1 − (1 − 0.3)/0.7), on either side.
const ROUNDING: f64 = 1e-12;

fn belief(past: &[Round]) -> Belief {
    past.iter().fold(Belief::start(), |belief, round| {
        belief.after_repair(&round.factors, &round.mended, round.succeeds).expect("a chance")
    })
}

/// What a finding's chance may be off by: over a part that is not listed whole, the likeliest sets
/// (all but a ten-thousandth of the mass) speak for the rest. It only serves the choice of questions.
const LOOKED_AT: f64 = 5e-4;

fn compare(label: &str, network: &Network, past: &[Round], factors: &[Factor]) {
    let wanted = oracle::posterior(network, past, factors);
    let got = posterior(network, &belief(past), factors);
    let (wanted, got) = match (wanted, got) {
        (None, Err(Refusal::Contradiction { factors })) => {
            assert!(!factors.is_empty(), "{label}: a contradiction names factors");
            return;
        }
        (Some(wanted), Ok(got)) => (wanted, got),
        (wanted, got) => {
            panic!("{label}: wanted {} sets, got {got:?}", wanted.map_or(0, |s| s.len()))
        }
    };
    assert_eq!(got.inference().rests_on, RestsOn::AllSets, "{label}");
    for (cause, probability) in got.probabilities().iter().enumerate() {
        let right = oracle::marginal(&wanted, cause);
        assert!(
            (probability - right).abs() < TOLERANCE,
            "{label}: cause {cause} {probability} against {right}"
        );
    }
    compare_sets(label, &wanted, &got);
    for finding in 0..network.findings().len() {
        let right: f64 = wanted
            .iter()
            .map(|(set, mass)| mass * oracle::chance_of_finding(network, finding, *set))
            .sum();
        let chance = got.probability_of(network, finding).expect("known");
        assert!(
            (chance - right).abs() < LOOKED_AT,
            "{label}: finding {finding} {chance} against {right}"
        );
    }
}

fn compare_sets(label: &str, wanted: &Sets, got: &boostwright::ranking::Posterior) {
    let mut right: Vec<f64> = wanted.values().copied().filter(|mass| *mass > ROUNDING).collect();
    right.sort_by(|a, b| b.total_cmp(a));
    let sets = got.likely_sets(10);
    assert!(sets.len() >= right.len().min(10), "{label}: {} sets of {}", sets.len(), right.len());
    for (set, best) in sets.iter().zip(&right) {
        let mask = set.causes.iter().fold(0, |mask, cause| mask | 1 << cause);
        assert!((set.probability - wanted[&mask]).abs() < TOLERANCE, "{label}: {set:?}");
        assert!((set.probability - best).abs() < TOLERANCE, "{label}: {set:?} in place of {best}");
    }
}

#[test]
fn a_thousand_random_networks_agree_with_enumeration() {
    for case in 0..1000 {
        let mut rng = random_network::chance(case);
        let (causes, findings) = (rng.random_range(1..=9), rng.random_range(1..=16));
        let network = random_network::network(&mut rng, causes, findings, 5);
        let factors = random_network::factors(&mut rng, &network, 0.7);
        let past = match case % 3 {
            0 => vec![],
            1 => vec![random_network::past_round(&mut rng, &network, 0.5)],
            _ => (0..2).map(|_| random_network::past_round(&mut rng, &network, 0.3)).collect(),
        };
        compare(&format!("case {case}"), &network, &past, &factors);
    }
}

#[test]
fn sixteen_causes_and_twenty_four_findings_agree_with_enumeration() {
    for case in 5000..5006 {
        let mut rng = random_network::chance(case);
        let network = random_network::network(&mut rng, 16, 24, 8);
        let factors = random_network::factors(&mut rng, &network, 0.8);
        let past = if case % 2 == 0 {
            vec![]
        } else {
            vec![random_network::past_round(&mut rng, &network, 0.2)]
        };
        compare(&format!("case {case}"), &network, &past, &factors);
    }
}
