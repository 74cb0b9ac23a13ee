//! The causes' chances with one piece of evidence otherwise, from the sets already listed.
//!
//! Used where a part was not weighed exactly: its sets were hard to find, and looking for them again
//! for each answer would take too long. Each set's old factor is taken off and the new one put on. A
//! set that the old evidence ruled out was not listed and stays out.

use super::factor::Factor;
use super::listing::Member;
use super::network::{Finding, Network};
use super::posterior::Posterior;
use super::solve::Solution;

/// One piece of evidence, given in `round`, and what stands in its place.
pub(super) struct Change<'a> {
    pub(super) round: usize,
    pub(super) old: &'a Factor,
    pub(super) new: Option<&'a Factor>,
}

/// Most sets of a block that are reweighed, the likeliest of them.
const MOST_SETS: usize = 2_000;

/// For each cause of the network the weight of the listed sets of a block that hold it, and that of
/// all of them.
pub(super) type Sums = (Vec<f64>, f64);

/// What the sets of a posterior add up to before anything is changed, by block; nothing for blocks
/// that were weighed exactly.
pub(super) fn unchanged(network: &Network, posterior: &Posterior) -> Vec<Option<Sums>> {
    let sums = |block: &Solution| sums(network, posterior, block, MOST_SETS, |_, listed| listed);
    posterior.blocks.iter().map(|block| (!block.exact).then(|| sums(block))).collect()
}

/// Puts the changed chances of the causes of `blocks` into `probabilities`; they must be all the
/// blocks the evidence speaks of. `before` is what [`unchanged`] gives.
pub(super) fn relist(
    network: &Network,
    posterior: &Posterior,
    before: &[Option<Sums>],
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
    let mean = |block: &usize, weights: &[f64]| {
        let sets = posterior.blocks[*block].listing.sets();
        let kept: f64 =
            weights.iter().zip(sets).map(|(weight, (members, _))| weight * old.keep(members)).sum();
        kept * inverse(weights.iter().sum())
    };
    let means: Vec<f64> = match blocks {
        [_] => vec![1.0],
        _ => blocks.iter().zip(&off).map(|(block, weights)| mean(block, weights)).collect(),
    };
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
        let block_of = &posterior.blocks[*block];
        let after = sums(network, posterior, block_of, weights.len(), |place, _| weights[place]);
        match &before[*block] {
            Some(before) => put_chances(block_of, before, &after, probabilities),
            None => {
                let before = sums(network, posterior, block_of, weights.len(), |_, listed| listed);
                put_chances(block_of, &before, &after, probabilities);
            }
        }
    }
}

/// Evidence with what each cause leaves of the chance that its findings are false.
struct Seen<'a> {
    factor: &'a Factor,
    round: usize,
    /// For each finding, its chance of being false with no cause there.
    quiet: Vec<f64>,
    /// By cause, and within a cause by finding: what it leaves of each of these chances. Flat, since
    /// it is read for each member of thousands of sets.
    keeps: Vec<f64>,
}

impl<'a> Seen<'a> {
    fn new(network: &Network, factor: &'a Factor, round: usize) -> Self {
        let findings: Vec<&Finding> =
            factor.findings().iter().filter_map(|index| network.findings().get(*index)).collect();
        let mut keeps = vec![1.0; network.priors().len() * findings.len()];
        for (place, finding) in findings.iter().enumerate() {
            for link in &finding.links {
                keeps[link.cause * findings.len() + place] = 1.0 - link.strength;
            }
        }
        let quiet = findings.iter().map(|finding| 1.0 - finding.leak).collect();
        Self { factor, round, quiet, keeps }
    }

    /// Its value with these causes there, and with the causes of other blocks bringing none of its
    /// findings with the chance `others`; `room` is room to work in.
    fn value(&self, members: &[Member], others: f64, room: &mut Vec<f64>) -> f64 {
        room.clear();
        room.extend(self.quiet.iter().map(|quiet| quiet * others));
        for keeps in self.keeps(members) {
            for (chance, keep) in room.iter_mut().zip(keeps) {
                *chance *= keep;
            }
        }
        self.factor.value(room)
    }

    /// Chance that none of these causes brings the first finding.
    fn keep(&self, members: &[Member]) -> f64 {
        self.keeps(members).filter_map(|keeps| keeps.first()).product()
    }

    /// What each of the causes leaves that was still there.
    fn keeps<'s>(&'s self, members: &'s [Member]) -> impl Iterator<Item = &'s [f64]> {
        let there = members.iter().filter(|m| self.round < m.leaves);
        let findings = self.quiet.len();
        there.map(move |m| &self.keeps[m.cause * findings..][..findings])
    }
}

/// The first `count` sets of a block added up, each with the weight that is given for its place and
/// the one it was listed with.
fn sums(
    network: &Network,
    posterior: &Posterior,
    block: &Solution,
    count: usize,
    weight: impl Fn(usize, f64) -> f64,
) -> Sums {
    let (mut sums, mut total) = (vec![0.0; network.priors().len()], 0.0);
    for (place, (members, listed)) in block.listing.sets().take(count).enumerate() {
        let weight = weight(place, listed);
        total += weight;
        for member in members.iter().filter(|m| posterior.now < m.leaves) {
            sums[member.cause] += weight;
        }
    }
    (sums, total)
}

/// The listed sets don't hold all the probability, so only what the change does to the odds is taken
/// from them.
fn put_chances(block: &Solution, before: &Sums, after: &Sums, probabilities: &mut [f64]) {
    let ((before, all_before), (after, all_after)) = (before, after);
    if *all_after <= 0.0 {
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
