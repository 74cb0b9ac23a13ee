//! Brute force, written from the definitions alone: every set of causes gets its weight, round after
//! round. Shares no code with the library beyond the types it reads.

use std::collections::BTreeMap;

use boostwright::ranking::{Factor, Network};

/// A round: what was seen, and what was mended after it with which chance.
pub(super) struct Round {
    pub(super) factors: Vec<Factor>,
    pub(super) mended: Vec<usize>,
    pub(super) succeeds: f64,
}

/// Sets of causes as bit masks, with their weights.
pub(super) type Sets = BTreeMap<u32, f64>;

/// Chance of the finding with exactly the causes of `set` present.
pub(super) fn chance_of_finding(network: &Network, finding: usize, set: u32) -> f64 {
    let finding = &network.findings()[finding];
    let mut quiet = 1.0 - finding.leak;
    for link in &finding.links {
        if set & (1 << link.cause) != 0 {
            quiet *= 1.0 - link.strength;
        }
    }
    1.0 - quiet
}

/// The weight of one piece of evidence with exactly the causes of `set` present.
pub(super) fn weight(network: &Network, factor: &Factor, set: u32) -> f64 {
    match factor {
        Factor::Single { finding, yes, no } => {
            let chance = chance_of_finding(network, *finding, set);
            yes * chance + no * (1.0 - chance)
        }
        Factor::Group { findings, patterns } => {
            let chance = |truths: &[bool]| -> f64 {
                let mut all = 1.0;
                for (finding, truth) in findings.iter().zip(truths) {
                    let chance = chance_of_finding(network, *finding, set);
                    all *= if *truth { chance } else { 1.0 - chance };
                }
                all
            };
            let above: f64 = patterns.iter().map(|p| p.weight * chance(&p.truths)).sum();
            let below: f64 = patterns.iter().map(|p| chance(&p.truths)).sum();
            if below == 0.0 { 0.0 } else { above / below }
        }
        Factor::Joint(joint) => {
            let mut sum = 0.0;
            for off in 0..1_usize << joint.slips().len() {
                let mut product = 1.0;
                for (bit, slip) in joint.slips().iter().enumerate() {
                    product *= if off & 1 << bit == 0 { slip.right } else { slip.off };
                }
                for part in joint.parts() {
                    let mut place = 0;
                    for (bit, slip) in part.slips.iter().enumerate() {
                        place += if off & 1 << slip == 0 { 0 } else { 1 << bit };
                    }
                    product *= weight(network, &part.factors[place], set);
                }
                sum += product;
            }
            sum
        }
    }
}

/// The sets before anything was seen.
pub(super) fn prior(network: &Network) -> Sets {
    let priors = network.priors();
    (0..1_u32 << priors.len())
        .map(|set| {
            let weight = priors
                .iter()
                .enumerate()
                .map(|(i, p)| if set & (1 << i) != 0 { *p } else { 1.0 - p });
            (set, weight.product())
        })
        .collect()
}

/// The sets weighed by evidence, not normalised.
pub(super) fn weigh(network: &Network, sets: &Sets, factors: &[Factor]) -> Sets {
    sets.iter()
        .map(|(set, mass)| {
            (*set, mass * factors.iter().map(|f| weight(network, f, *set)).product::<f64>())
        })
        .collect()
}

/// The sets after a repair: each mended cause present is gone with the chance `succeeds`.
fn mend(sets: &Sets, cause: usize, succeeds: f64) -> Sets {
    let mut after = Sets::new();
    for (set, mass) in sets {
        if set & (1 << cause) == 0 {
            *after.entry(*set).or_default() += mass;
        } else {
            *after.entry(*set).or_default() += mass * (1.0 - succeeds);
            *after.entry(set & !(1 << cause)).or_default() += mass * succeeds;
        }
    }
    after
}

/// The sets after all rounds, summing to 1; `None` where the evidence is impossible.
pub(super) fn posterior(network: &Network, past: &[Round], factors: &[Factor]) -> Option<Sets> {
    let mut sets = prior(network);
    for round in past {
        sets = weigh(network, &sets, &round.factors);
        for cause in &round.mended {
            sets = mend(&sets, *cause, round.succeeds);
        }
    }
    normal(weigh(network, &sets, factors))
}

/// Scales to sum 1.
pub(super) fn normal(sets: Sets) -> Option<Sets> {
    let total: f64 = sets.values().sum();
    (total > 0.0).then(|| sets.into_iter().map(|(set, mass)| (set, mass / total)).collect())
}

/// Chance of one cause.
pub(super) fn marginal(sets: &Sets, cause: usize) -> f64 {
    sets.iter().filter(|(set, _)| **set & (1 << cause) != 0).map(|(_, mass)| mass).sum()
}
