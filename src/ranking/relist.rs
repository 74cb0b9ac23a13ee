//! The causes' chances with one piece of evidence otherwise, from the sets already listed.
//!
//! Used where a part was not weighed exactly: its sets were hard to find, and looking for them again
//! for each answer would take too long. Each set's old factor is taken off and the new one put on. A
//! set that the old evidence ruled out was not listed and stays out.

use super::factor::Factor;
use super::listing::Member;
use super::network::{Finding, Network};
use super::posterior::Posterior;

/// One piece of evidence, given in `round`, and what stands in its place.
pub(super) struct Change<'a> {
    pub(super) round: usize,
    pub(super) old: &'a Factor,
    pub(super) new: Option<&'a Factor>,
}

/// Puts the changed chances of the causes of `blocks` into `probabilities`; they must be all the
/// blocks the evidence speaks of.
pub(super) fn relist(
    network: &Network,
    posterior: &Posterior,
    blocks: &[usize],
    change: &Change<'_>,
    probabilities: &mut [f64],
) {
    let round = change.round;
    let off: Vec<Vec<f64>> = blocks
        .iter()
        .map(|block| {
            let sets = posterior.blocks[*block].listing.sets();
            sets.map(|(members, weight)| {
                weight * inverse(value(network, change.old, members, round, 1.0))
            })
            .collect()
        })
        .collect();
    // Evidence that speaks of several blocks without tying them is a single finding seen to be false.
    let first = change.old.findings().first().and_then(|finding| network.findings().get(*finding));
    let means: Vec<f64> = blocks
        .iter()
        .zip(&off)
        .map(|(block, weights)| {
            first.map_or(1.0, |finding| mean_keep(posterior, *block, weights, finding, round))
        })
        .collect();
    for (place, (block, weights)) in blocks.iter().zip(&off).enumerate() {
        let others = means
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != place)
            .map(|(_, mean)| mean)
            .product();
        let on = each_set(posterior, *block, |members| {
            change.new.map_or(1.0, |new| value(network, new, members, round, others))
        });
        let weights: Vec<f64> = weights.iter().zip(on).map(|(off, on)| off * on).collect();
        put_chances(posterior, *block, &weights, probabilities);
    }
}

/// A number for each listed set of a block.
fn each_set(posterior: &Posterior, block: usize, number: impl Fn(&[Member]) -> f64) -> Vec<f64> {
    posterior.blocks[block].listing.sets().map(|(members, _)| number(members)).collect()
}

/// The value of a factor with these causes there, and with the causes of other blocks bringing none of
/// its findings with the chance `others`.
fn value(network: &Network, factor: &Factor, members: &[Member], round: usize, others: f64) -> f64 {
    let findings = factor.findings().iter().filter_map(|finding| network.findings().get(*finding));
    let chance_no: Vec<f64> = findings
        .map(|finding| (1.0 - finding.leak) * others * keep(finding, members, round))
        .collect();
    factor.value(&chance_no)
}

/// Chance that none of these causes brings the finding.
fn keep(finding: &Finding, members: &[Member], round: usize) -> f64 {
    let there = |cause: usize| members.iter().any(|m| m.cause == cause && round < m.leaves);
    finding.links.iter().filter(|link| there(link.cause)).map(|link| 1.0 - link.strength).product()
}

fn mean_keep(
    posterior: &Posterior,
    block: usize,
    weights: &[f64],
    finding: &Finding,
    round: usize,
) -> f64 {
    let keeps = each_set(posterior, block, |members| keep(finding, members, round));
    let kept: f64 = weights.iter().zip(keeps).map(|(weight, keep)| weight * keep).sum();
    kept * inverse(weights.iter().sum())
}

fn put_chances(posterior: &Posterior, block: usize, weights: &[f64], probabilities: &mut [f64]) {
    let total: f64 = weights.iter().sum();
    if total <= 0.0 {
        return;
    }
    let block = &posterior.blocks[block];
    for (cause, _) in &block.probabilities {
        probabilities[*cause] = 0.0;
    }
    for ((members, _), weight) in block.listing.sets().zip(weights) {
        for member in members.iter().filter(|m| posterior.now < m.leaves) {
            probabilities[member.cause] += weight / total;
        }
    }
}

/// 1 over a number above 0; 0 for what the old evidence ruled out.
fn inverse(value: f64) -> f64 {
    if value > 0.0 { 1.0 / value } else { 0.0 }
}
