//! What is believed about the causes once everything seen is weighed.

use super::minimal_conflict;
use crate::ranking::inference::component::parts;
use crate::ranking::inference::solve::{Solution, solve};
use crate::ranking::inference::weighted_sets::Listing;
use crate::ranking::model::belief::Belief;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::Network;
use crate::ranking::refusal::{FactorAt, Refusal};

/// A set of causes present now, and how likely exactly this set is.
#[derive(Debug, Clone, PartialEq)]
pub struct LikelySet {
    /// The causes, ascending; empty where all is as it should be.
    pub causes: Vec<usize>,
    /// Chance that these are present and no others.
    pub probability: f64,
}

/// What the figure for the mass left out rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestsOn {
    /// Nothing was left out: every set counts in every probability.
    AllSets,
    /// Some causes were decided one by one, the others taken as if they didn't heed one another, and
    /// each pair of those asked how far that is wrong. An estimate, not a bound: what three of them
    /// do together is not looked at.
    Pairs,
}

/// How far the numbers can be trusted as numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inference {
    /// Whether each cause's probability counts every set.
    pub exact: bool,
    /// About this share of the probability was not looked at set by set and might be spread otherwise;
    /// 0 where exact.
    pub left_out: f64,
    /// What `left_out` rests on.
    pub rests_on: RestsOn,
}

/// The causes after the evidence.
#[derive(Debug, Clone)]
pub struct Posterior {
    pub(super) probabilities: Vec<f64>,
    pub(super) blocks: Vec<Solution>,
    /// The number of the present round.
    pub(super) now: usize,
    inference: Inference,
}

/// Weighs the evidence of this round's `factors` on the `belief` earlier rounds left.
///
/// Refused where an index or a number is out of range, and where what was seen cannot all be true.
pub fn posterior(
    network: &Network,
    belief: &Belief,
    factors: &[Factor],
) -> Result<Posterior, Refusal> {
    belief.check(network)?;
    factors.iter().try_for_each(|factor| factor.check(network))?;
    let evidence = evidence(belief, factors);
    let blocks: Option<Vec<Solution>> = parts(network, &evidence, belief)
        .and_then(|parts| parts.iter().map(|part| solve(part, belief.rounds())).collect());
    match blocks {
        Some(blocks) => Ok(Posterior::new(network, belief.rounds(), blocks)),
        None => Err(minimal_conflict::contradiction(network, belief, evidence)),
    }
}

/// All factors, the past rounds' first.
pub(super) fn evidence<'a>(
    belief: &'a Belief,
    factors: &'a [Factor],
) -> Vec<(FactorAt, &'a Factor)> {
    let past = belief.past().iter().map(|round| round.factors.as_slice());
    past.chain(std::iter::once(factors))
        .enumerate()
        .flat_map(|(round, list)| {
            list.iter().enumerate().map(move |(index, factor)| (FactorAt { round, index }, factor))
        })
        .collect()
}

impl Posterior {
    fn new(network: &Network, now: usize, blocks: Vec<Solution>) -> Self {
        let mut probabilities = vec![0.0; network.priors().len()];
        for (cause, probability) in blocks.iter().flat_map(|block| &block.probabilities) {
            probabilities[*cause] = *probability;
        }
        let left_out = 1.0 - blocks.iter().map(|block| 1.0 - block.left_out).product::<f64>();
        let exact = blocks.iter().all(|block| block.exact);
        let rests_on = if exact { RestsOn::AllSets } else { RestsOn::Pairs };
        Self { probabilities, blocks, now, inference: Inference { exact, left_out, rests_on } }
    }

    /// Chance of each cause being present now, by index.
    pub fn probabilities(&self) -> &[f64] {
        &self.probabilities
    }

    /// The likeliest cause; of equals the first. None in a network without causes.
    pub fn lead(&self) -> Option<usize> {
        lead(&self.probabilities)
    }

    /// The index of the block each cause is in.
    pub(super) fn block_of(&self) -> Vec<usize> {
        let mut block_of = vec![0; self.probabilities.len()];
        for (index, block) in self.blocks.iter().enumerate() {
            block.probabilities.iter().for_each(|(cause, _)| block_of[*cause] = index);
        }
        block_of
    }

    /// How far the numbers can be trusted.
    pub fn inference(&self) -> Inference {
        self.inference
    }

    /// The `count` likeliest sets of causes present now, likeliest first; sets of chance 0 are left
    /// out.
    pub fn likely_sets(&self, count: usize) -> Vec<LikelySet> {
        let mut best = vec![LikelySet { causes: Vec::new(), probability: 1.0 }];
        for block in &self.blocks {
            let own = present_sets(&block.listing, block.listed, self.now, count);
            best = product(&best, &own, count);
        }
        best
    }

    /// Chance of a finding being true, were it looked at now. Over a part too large to be listed
    /// whole it is good to about 1e-4: the likeliest sets speak for the rest.
    pub fn chance_of(&self, network: &Network, finding: usize) -> Result<f64, Refusal> {
        let finding = network.finding(finding)?;
        let mut keep = vec![1.0; self.probabilities.len()];
        for link in &finding.links {
            *keep.get_mut(link.cause).ok_or(Refusal::UnknownCause { cause: link.cause })? =
                1.0 - link.strength;
        }
        let quiet: f64 = self
            .blocks
            .iter()
            .filter(|block| block.probabilities.iter().any(|(cause, _)| keep[*cause] < 1.0))
            .map(|block| mean_product(&block.listing, self.now, &keep))
            .product();
        Ok(1.0 - (1.0 - finding.leak) * quiet)
    }
}

/// Index of the largest; of equals the first.
pub(super) fn lead(probabilities: &[f64]) -> Option<usize> {
    let best = probabilities.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    probabilities.iter().position(|p| *p == best)
}

/// Mean over the listed sets of the product of `keep` over the causes present now.
fn mean_product(listing: &Listing, now: usize, keep: &[f64]) -> f64 {
    let (mut sum, mut total) = (0.0, 0.0);
    for (members, weight) in listing.sets() {
        let product: f64 =
            members.iter().filter(|m| now < m.leaves).map(|m| keep[m.cause]).product();
        sum += weight * product;
        total += weight;
    }
    sum / total
}

/// The best sets of one block, those that differ only in the past put together.
fn present_sets(listing: &Listing, listed: f64, now: usize, count: usize) -> Vec<LikelySet> {
    let mut sets: Vec<LikelySet> = Vec::new();
    // With no repair between, each listed set is a present set, and the list is sorted already.
    let distinct = listing.sets().all(|(members, _)| members.iter().all(|m| now < m.leaves));
    let enough = if distinct { count } else { listing.len() };
    for (members, weight) in listing.sets().take(enough) {
        let mut causes: Vec<usize> =
            members.iter().filter(|m| now < m.leaves).map(|m| m.cause).collect();
        causes.sort_unstable();
        sets.push(LikelySet { causes, probability: weight * listed });
    }
    if !distinct {
        sets.sort_by(|a, b| a.causes.cmp(&b.causes));
        sets.dedup_by(|later, first| {
            let same = later.causes == first.causes;
            if same {
                first.probability += later.probability;
            }
            same
        });
    }
    best_of(sets, count)
}

/// The best unions of a set from each side.
fn product(left: &[LikelySet], right: &[LikelySet], count: usize) -> Vec<LikelySet> {
    let mut sets = Vec::with_capacity(left.len() * right.len());
    for a in left {
        for b in right {
            let mut causes = [a.causes.as_slice(), b.causes.as_slice()].concat();
            causes.sort_unstable();
            sets.push(LikelySet { causes, probability: a.probability * b.probability });
        }
    }
    best_of(sets, count)
}

fn best_of(mut sets: Vec<LikelySet>, count: usize) -> Vec<LikelySet> {
    sets.retain(|set| set.probability > 0.0);
    sets.sort_by(|a, b| {
        b.probability.total_cmp(&a.probability).then_with(|| a.causes.cmp(&b.causes))
    });
    sets.truncate(count);
    sets
}
