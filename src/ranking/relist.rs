//! The causes' chances with one piece of evidence otherwise, from the sets already listed.
//!
//! Used where a part was not weighed exactly: its sets were hard to find, and looking for them again
//! for each answer would take too long. Each set's old factor is taken off and the new one put on. A
//! set that the old evidence ruled out was not listed and stays out.

use super::factor::Factor;
use super::listing::Member;
use super::network::Network;
use super::posterior::Posterior;

/// One piece of evidence, given in `round`, and what stands in its place.
pub(super) struct Change<'a> {
    pub(super) round: usize,
    pub(super) old: &'a Factor,
    pub(super) new: Option<&'a Factor>,
}

/// Most sets of a block that are reweighed, the likeliest of them.
const MOST_SETS: usize = 2_000;

/// Puts the changed chances of the causes of `blocks` into `probabilities`; they must be all the
/// blocks the evidence speaks of.
pub(super) fn relist(
    network: &Network,
    posterior: &Posterior,
    blocks: &[usize],
    change: &Change<'_>,
    probabilities: &mut [f64],
) {
    let old = Seen::new(network, change.old, change.round);
    let new = change.new.map(|new| Seen::new(network, new, change.round));
    let mut room = Vec::new();
    let off: Vec<Vec<f64>> = blocks
        .iter()
        .map(|block| {
            let sets = posterior.blocks[*block].listing.sets().take(MOST_SETS);
            sets.map(|(members, weight)| weight * inverse(old.value(members, 1.0, &mut room)))
                .collect()
        })
        .collect();
    // Evidence that speaks of several blocks without tying them is a single finding seen to be false.
    let means: Vec<f64> = blocks
        .iter()
        .zip(&off)
        .map(|(block, weights)| {
            let sets = posterior.blocks[*block].listing.sets();
            let kept: f64 = weights
                .iter()
                .zip(sets)
                .map(|(weight, (members, _))| weight * old.keep(members))
                .sum();
            kept * inverse(weights.iter().sum())
        })
        .collect();
    for (place, (block, weights)) in blocks.iter().zip(&off).enumerate() {
        let others = means
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != place)
            .map(|(_, mean)| mean)
            .product();
        let sets = posterior.blocks[*block].listing.sets();
        let mut on = |members: &[Member]| {
            new.as_ref().map_or(1.0, |new| new.value(members, others, &mut room))
        };
        let weights: Vec<f64> =
            weights.iter().zip(sets).map(|(off, (members, _))| off * on(members)).collect();
        put_chances(posterior, *block, &weights, probabilities);
    }
}

/// Evidence with what each cause leaves of the chance that its findings are false.
struct Seen<'a> {
    factor: &'a Factor,
    round: usize,
    /// For each finding: its chance of being false with no cause there, and what each cause leaves of
    /// it, by index.
    findings: Vec<(f64, Vec<f64>)>,
}

impl<'a> Seen<'a> {
    fn new(network: &Network, factor: &'a Factor, round: usize) -> Self {
        let findings = factor.findings().iter().filter_map(|index| network.findings().get(*index));
        let findings = findings.map(|finding| {
            let mut keeps = vec![1.0; network.priors().len()];
            for link in &finding.links {
                keeps[link.cause] = 1.0 - link.strength;
            }
            (1.0 - finding.leak, keeps)
        });
        Self { factor, round, findings: findings.collect() }
    }

    /// Its value with these causes there, and with the causes of other blocks bringing none of its
    /// findings with the chance `others`; `room` is room to work in.
    fn value(&self, members: &[Member], others: f64, room: &mut Vec<f64>) -> f64 {
        room.clear();
        let findings = self.findings.iter();
        room.extend(findings.map(|(quiet, keeps)| quiet * others * self.kept(keeps, members)));
        self.factor.value(room)
    }

    /// Chance that none of these causes brings the first finding.
    fn keep(&self, members: &[Member]) -> f64 {
        self.findings.first().map_or(1.0, |(_, keeps)| self.kept(keeps, members))
    }

    fn kept(&self, keeps: &[f64], members: &[Member]) -> f64 {
        members.iter().filter(|m| self.round < m.leaves).map(|m| keeps[m.cause]).product()
    }
}

/// The listed sets don't hold all the probability, so only what the change does to the odds is taken
/// from them.
fn put_chances(posterior: &Posterior, block: usize, weights: &[f64], probabilities: &mut [f64]) {
    let block = &posterior.blocks[block];
    let sums = |weight: &dyn Fn(usize, f64) -> f64| {
        let (mut sums, mut total) = (vec![0.0; probabilities.len()], 0.0);
        for (place, (members, listed)) in block.listing.sets().take(weights.len()).enumerate() {
            let weight = weight(place, listed);
            total += weight;
            for member in members.iter().filter(|m| posterior.now < m.leaves) {
                sums[member.cause] += weight;
            }
        }
        (sums, total)
    };
    let (before, all_before) = sums(&|_, listed| listed);
    let (after, all_after) = sums(&|place, _| weights[place]);
    if all_after <= 0.0 {
        return;
    }
    for (cause, chance) in &block.probabilities {
        let (before, after) = (before[*cause] / all_before, after[*cause] / all_after);
        let change = odds(after) / odds(before);
        let changed = odds(*chance) * change;
        let chance = if changed.is_finite() { changed / (1.0 + changed) } else { after };
        probabilities[*cause] = chance.clamp(0.0, 1.0);
    }
}

fn odds(chance: f64) -> f64 {
    chance / (1.0 - chance)
}

/// 1 over a number above 0; 0 for what the old evidence ruled out.
fn inverse(value: f64) -> f64 {
    if value > 0.0 { 1.0 / value } else { 0.0 }
}
