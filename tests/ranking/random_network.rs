//! Random networks and evidence, the same on every run.

use boostwright::ranking::{Factor, Finding, Link, Network, Pattern};
use rand::{Rng, RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::oracle::Round;

/// The generator for one case.
pub(super) fn chance(case: u64) -> Xoshiro256PlusPlus {
    Xoshiro256PlusPlus::seed_from_u64(case)
}

/// A network of the given size, each finding with 1 to `most_links` causes.
pub(super) fn network(
    rng: &mut impl Rng,
    causes: usize,
    findings: usize,
    most_links: usize,
) -> Network {
    let priors = (0..causes).map(|_| rng.random_range(0.005..0.3)).collect();
    let findings = (0..findings).map(|_| finding(rng, causes, most_links)).collect();
    Network::new(priors, findings).expect("made of chances")
}

fn finding(rng: &mut impl Rng, causes: usize, most_links: usize) -> Finding {
    let wanted = rng.random_range(1..=most_links.min(causes));
    let mut links: Vec<Link> = Vec::new();
    while links.len() < wanted {
        let cause = rng.random_range(0..causes);
        if links.iter().all(|l| l.cause != cause) {
            let strength = if rng.random_bool(0.05) { 1.0 } else { rng.random_range(0.05..0.99) };
            links.push(Link { cause, strength });
        }
    }
    let leak = if rng.random_bool(0.1) { 0.0 } else { rng.random_range(0.001..0.1) };
    Finding { leak, links }
}

/// Evidence on about `share` of the findings: hard, doubtful, and in exclusive groups.
pub(super) fn factors(rng: &mut impl Rng, network: &Network, share: f64) -> Vec<Factor> {
    let mut factors = Vec::new();
    let mut finding = 0;
    while finding < network.findings().len() {
        let group = rng.random_range(2..=4_usize);
        if rng.random_bool(0.1) && finding + group <= network.findings().len() {
            factors.push(exclusive(rng, finding, group));
            finding += group;
            continue;
        }
        if rng.random_bool(share) {
            factors.push(match rng.random_range(0..4) {
                0 => Factor::yes(finding),
                1 => Factor::no(finding),
                _ => Factor::doubtful(finding, rng.random_range(0.0..1.0)),
            });
        }
        finding += 1;
    }
    factors
}

fn exclusive(rng: &mut impl Rng, first: usize, count: usize) -> Factor {
    let mut patterns: Vec<Pattern> = (0..count)
        .map(|own| Pattern {
            truths: (0..count).map(|i| i == own).collect(),
            weight: rng.random_range(0.0..1.0),
        })
        .collect();
    if rng.random_bool(0.5) {
        patterns.push(Pattern { truths: vec![false; count], weight: rng.random_range(0.0..1.0) });
    }
    Factor::Group { findings: (first..first + count).collect(), patterns }
}

/// A round that is over, with a repair of one or two causes.
pub(super) fn past_round(rng: &mut impl Rng, network: &Network, share: f64) -> Round {
    let causes = network.priors().len();
    let mut mended = vec![rng.random_range(0..causes), rng.random_range(0..causes)];
    mended.sort_unstable();
    mended.dedup();
    Round { factors: factors(rng, network, share), mended, succeeds: rng.random_range(0.0..1.0) }
}
