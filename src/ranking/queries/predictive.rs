//! What the causes do to a few findings: the different chances these can have over all likely sets of
//! causes, and how likely each is.

use std::collections::HashMap;

use super::information::Observable;
use super::posterior::Posterior;
use crate::ranking::inference::weighted_sets::Listing;
use crate::ranking::model::network::Network;

/// Up to so many sets of a block are all looked at.
const SHORT: usize = 512;

/// Share of the probability of a longer block whose sets need not be looked at.
const NEGLIGIBLE: f64 = 1e-6;

/// Most sets of a block to look at.
const MOST_SETS: usize = 1_024;

/// Most different states of the observed findings to tell apart; the least likely go first.
const MOST_CASES: usize = 512;

/// States of the observed findings, each with a weight.
pub(super) struct Cases {
    findings: usize,
    /// For each case the chance of each finding being false, one case after the other.
    chances_no: Vec<f64>,
    pub(super) weights: Vec<f64>,
}

impl Cases {
    fn new(findings: usize) -> Self {
        Self { findings, chances_no: Vec::new(), weights: Vec::new() }
    }

    fn with_room(findings: usize, cases: usize) -> Self {
        let chances_no = Vec::with_capacity(findings * cases);
        Self { findings, chances_no, weights: Vec::with_capacity(cases) }
    }

    fn push(&mut self, chances_no: impl Iterator<Item = f64>, weight: f64) {
        self.chances_no.extend(chances_no);
        self.weights.push(weight);
    }

    /// Each case: the chances of the findings being false, and its weight.
    pub(super) fn iter(&self) -> impl Iterator<Item = (&[f64], f64)> {
        self.chances_no.chunks_exact(self.findings.max(1)).zip(self.weights.iter().copied())
    }

    /// Every case of one with every case of the other, the likeliest of them.
    fn times(&self, other: &Self) -> Self {
        let mut product = Self::with_room(self.findings, self.weights.len() * other.weights.len());
        for (a, weight) in self.iter() {
            for (b, share) in other.iter() {
                product.push(a.iter().zip(b).map(|(a, b)| a * b), weight * share);
            }
        }
        product.likeliest()
    }

    fn likeliest(self) -> Self {
        if self.weights.len() <= MOST_CASES {
            return self;
        }
        let mut order: Vec<usize> = (0..self.weights.len()).collect();
        let heavier = |a: &usize, b: &usize| self.weights[*b].total_cmp(&self.weights[*a]);
        order.select_nth_unstable_by(MOST_CASES, heavier);
        let mut kept = Self::with_room(self.findings, MOST_CASES);
        for index in order.into_iter().take(MOST_CASES) {
            let chances = &self.chances_no[index * self.findings..][..self.findings];
            kept.push(chances.iter().copied(), self.weights[index]);
        }
        kept
    }
}

/// A posterior made ready for many observations.
pub(super) struct Spread<'a> {
    network: &'a Network,
    posterior: &'a Posterior,
    /// How many sets of each block to look at.
    prefixes: Vec<usize>,
    block_of: Vec<usize>,
}

impl<'a> Spread<'a> {
    pub(super) fn new(network: &'a Network, posterior: &'a Posterior) -> Self {
        let prefixes = posterior.blocks.iter().map(|block| prefix(&block.listing)).collect();
        Self { network, posterior, prefixes, block_of: posterior.block_of() }
    }

    /// The observations in groups that share no block with each other.
    pub(super) fn tied<'b>(&self, bundle: &'b [Observable]) -> Vec<Vec<&'b Observable>> {
        let mut groups: Vec<(Vec<&Observable>, Vec<usize>)> = Vec::new();
        for observable in bundle {
            let mut group = (vec![observable], self.blocks(observable.findings()));
            let shares = |blocks: &Vec<usize>| blocks.iter().any(|block| group.1.contains(block));
            let (tied, apart): (Vec<_>, Vec<_>) =
                groups.into_iter().partition(|(_, blocks)| shares(blocks));
            for (observables, blocks) in tied {
                group.0.extend(observables);
                group.1.extend(blocks);
            }
            groups = apart;
            groups.push(group);
        }
        groups.into_iter().map(|(observables, _)| observables).collect()
    }

    /// The blocks that bring any of these findings.
    fn blocks(&self, findings: &[usize]) -> Vec<usize> {
        let found = findings.iter().filter_map(|finding| self.network.findings().get(*finding));
        let links = found.flat_map(|finding| &finding.links).filter(|link| link.strength > 0.0);
        let mut blocks: Vec<usize> = links.map(|link| self.block_of[link.cause]).collect();
        blocks.sort_unstable();
        blocks.dedup();
        blocks
    }

    /// The states the findings of these observations can be in.
    pub(super) fn cases(&self, together: &[&Observable]) -> Cases {
        let findings: Vec<usize> =
            together.iter().flat_map(|observable| observable.findings()).copied().collect();
        let mut all = Cases::new(findings.len());
        let found = findings.iter().filter_map(|finding| self.network.findings().get(*finding));
        all.push(found.clone().map(|finding| 1.0 - finding.leak), 1.0);
        let mut keeps: HashMap<usize, Vec<f64>> = HashMap::new();
        for (place, finding) in found.enumerate() {
            for link in finding.links.iter().filter(|link| link.strength > 0.0) {
                let own = keeps.entry(link.cause).or_insert_with(|| vec![1.0; findings.len()]);
                own[place] = 1.0 - link.strength;
            }
        }
        for block in self.blocks(&findings) {
            all = all.times(&self.project(block, &keeps, findings.len()));
        }
        all
    }

    /// What the sets of one block do to the findings, sets that do the same put together.
    fn project(&self, block: usize, keeps: &HashMap<usize, Vec<f64>>, findings: usize) -> Cases {
        let Posterior { blocks, now, .. } = self.posterior;
        let listing = &blocks[block].listing;
        let linked: Vec<&Vec<f64>> =
            blocks[block].probabilities.iter().filter_map(|(cause, _)| keeps.get(cause)).collect();
        let mut bit_of = vec![None; self.block_of.len()];
        let causes = blocks[block].probabilities.iter().map(|(cause, _)| *cause);
        for (bit, cause) in causes.filter(|cause| keeps.contains_key(cause)).enumerate() {
            bit_of[cause] = Some(bit);
        }
        let mut merged: HashMap<Vec<usize>, usize> = HashMap::new();
        let mut cases = Cases::new(findings);
        let mut bits = Vec::new();
        for (members, weight) in listing.sets().take(self.prefixes[block]) {
            bits.clear();
            bits.extend(members.iter().filter(|m| *now < m.leaves).filter_map(|m| bit_of[m.cause]));
            bits.sort_unstable();
            if let Some(known) = merged.get(bits.as_slice()) {
                cases.weights[*known] += weight;
                continue;
            }
            let product =
                |place: usize| bits.iter().map(|bit: &usize| linked[*bit][place]).product();
            cases.push((0..findings).map(product), weight);
            merged.insert(bits.clone(), cases.weights.len() - 1);
        }
        cases
    }
}

/// How many sets of a listing hold all but a negligible share of it; a short list is taken whole.
fn prefix(listing: &Listing) -> usize {
    if listing.len() <= SHORT {
        return listing.len();
    }
    let mut left = 1.0;
    let needed = listing.sets().take_while(|(_, weight)| {
        let more = left > NEGLIGIBLE;
        left -= weight;
        more
    });
    needed.count().min(MOST_SETS)
}
