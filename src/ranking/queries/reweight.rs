//! The causes' chances with one piece of evidence otherwise, from the sets already listed.
//!
//! Used where a part was not weighed exactly: its sets were hard to find, and looking for them again
//! for each answer would take too long. Each set's old factor is taken off and the new one put on. A
//! set that the old evidence ruled out was not listed and stays out.

use std::borrow::Cow;

use super::posterior::Posterior;
use crate::ranking::inference::solve::Solution;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::{Finding, Network};

/// One piece of evidence, given in `round`, and what stands in its place.
pub(super) struct Change<'a> {
    pub(super) round: usize,
    pub(super) old: &'a Factor,
    pub(super) new: Option<&'a Factor>,
}

/// Most sets of a block that are reweighed, the likeliest of them.
const MOST_SETS: usize = 2_000;

/// The likeliest sets of a block by cause: evidence speaks of few causes, and each is in few sets.
#[derive(Clone)]
pub(super) struct Listed {
    /// By cause of the network: the places of the sets that hold it, and the round before which it is
    /// there in each.
    holding: Vec<Vec<(usize, usize)>>,
    /// Of each set.
    weights: Vec<f64>,
    /// What they add up to.
    before: Sums,
}

/// For each cause of the network the weight of the sets that hold it, and that of all of them.
type Sums = (Vec<f64>, f64);

/// The sets of a posterior by block; nothing for blocks that were weighed exactly.
pub(super) fn listed(network: &Network, posterior: &Posterior) -> Vec<Option<Listed>> {
    let by_cause = |block: &Solution| Listed::new(network, posterior, block, MOST_SETS);
    posterior.blocks.iter().map(|block| (!block.exact).then(|| by_cause(block))).collect()
}

impl Listed {
    fn new(network: &Network, posterior: &Posterior, block: &Solution, most: usize) -> Self {
        let mut holding = vec![Vec::new(); network.priors().len()];
        let mut weights = Vec::new();
        for (place, (members, weight)) in block.listing.sets().take(most).enumerate() {
            weights.push(weight);
            for member in members {
                holding[member.cause].push((place, member.leaves));
            }
        }
        let mut listed = Self { holding, weights, before: Sums::default() };
        listed.before = listed.sums(&listed.weights, posterior.now);
        listed
    }

    /// The sets added up with these weights.
    fn sums(&self, weights: &[f64], now: usize) -> Sums {
        let sum = |holding: &Vec<(usize, usize)>| {
            let there = holding.iter().filter(|(_, leaves)| now < *leaves);
            there.map(|(place, _)| weights[*place]).sum()
        };
        (self.holding.iter().map(sum).collect(), weights.iter().sum())
    }
}

/// Puts the changed chances of the causes of `blocks` into `probabilities`; they must be all the
/// blocks the evidence speaks of. `listed` is what [`listed`] gives.
pub(super) fn relist(
    network: &Network,
    posterior: &Posterior,
    listed: &[Option<Listed>],
    blocks: &[usize],
    change: &Change<'_>,
    probabilities: &mut [f64],
) {
    // All sets of a block that was weighed exactly.
    let whole =
        |block: usize| Listed::new(network, posterior, &posterior.blocks[block], usize::MAX);
    let listed: Vec<Cow<'_, Listed>> = blocks
        .iter()
        .map(|block| match &listed[*block] {
            Some(listed) => Cow::Borrowed(listed),
            None => Cow::Owned(whole(*block)),
        })
        .collect();
    let old = Seen { network, factor: change.old, round: change.round };
    let new = change.new.map(|new| Seen { factor: new, ..old });
    let off: Vec<Vec<f64>> = listed
        .iter()
        .map(|listed| {
            let values = old.values(listed, 1.0);
            listed
                .weights
                .iter()
                .zip(values)
                .map(|(weight, value)| weight * inverse(value))
                .collect()
        })
        .collect();
    // Evidence that speaks of several blocks without tying them is a single finding seen to be false.
    let mean = |listed: &Listed, weights: &[f64]| {
        let kept: f64 =
            weights.iter().zip(old.kept(listed)).map(|(weight, kept)| weight * kept).sum();
        kept * inverse(weights.iter().sum())
    };
    let means: Vec<f64> = match blocks {
        [_] => vec![1.0],
        _ => listed.iter().zip(&off).map(|(listed, weights)| mean(listed, weights)).collect(),
    };
    for (place, (listed, off)) in listed.iter().zip(off).enumerate() {
        let others = means.iter().enumerate().filter(|(other, _)| *other != place);
        let others = others.map(|(_, mean)| mean).product();
        let weights = match &new {
            Some(new) => {
                off.iter().zip(new.values(listed, others)).map(|(off, on)| off * on).collect()
            }
            None => off,
        };
        let after = listed.sums(&weights, posterior.now);
        put_chances(&posterior.blocks[blocks[place]], &listed.before, &after, probabilities);
    }
}

/// Evidence given in a round.
#[derive(Clone, Copy)]
struct Seen<'a> {
    network: &'a Network,
    factor: &'a Factor,
    round: usize,
}

impl Seen<'_> {
    /// Its value with the causes of each set there, and with the causes of other blocks bringing none
    /// of its findings with the chance `others`.
    fn values(&self, listed: &Listed, others: f64) -> Vec<f64> {
        let findings: Vec<&Finding> = self.findings().collect();
        let quiet: Vec<f64> =
            findings.iter().map(|finding| (1.0 - finding.leak) * others).collect();
        let mut chances = quiet.repeat(listed.weights.len());
        for (place, finding) in findings.iter().enumerate() {
            self.each_kept(listed, finding, |set, keep| {
                chances[set * findings.len() + place] *= keep;
            });
        }
        chances.chunks(findings.len().max(1)).map(|chances| self.factor.value(chances)).collect()
    }

    /// Chance that none of the causes of each set brings the first finding.
    fn kept(&self, listed: &Listed) -> Vec<f64> {
        let mut chances = vec![1.0; listed.weights.len()];
        if let Some(finding) = self.findings().next() {
            self.each_kept(listed, finding, |set, keep| chances[set] *= keep);
        }
        chances
    }

    fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.factor.findings().iter().filter_map(|index| self.network.findings().get(*index))
    }

    /// Calls with each set and what a cause in it, if still there, leaves of the chance that a finding
    /// is false.
    fn each_kept(&self, listed: &Listed, finding: &Finding, mut call: impl FnMut(usize, f64)) {
        for link in &finding.links {
            for (set, leaves) in &listed.holding[link.cause] {
                if self.round < *leaves {
                    call(*set, 1.0 - link.strength);
                }
            }
        }
    }
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
