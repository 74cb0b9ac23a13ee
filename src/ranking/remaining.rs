//! How likely something is still wrong after some repairs.

use std::collections::HashMap;

use super::plan::Repair;
use super::posterior::Posterior;

/// Share of the probability of a block whose sets need not be looked at.
const NEGLIGIBLE: f64 = 1e-9;

/// Most different sets of a block to tell apart; the least likely go first.
const MOST_SETS: usize = 512;

/// A posterior reduced to the causes that matter for the work.
pub(super) struct Remaining {
    /// For each block its sets of relevant causes, with weights that sum to 1.
    blocks: Vec<Vec<(Vec<usize>, f64)>>,
    /// The blocks that some repair touches.
    touched: Vec<usize>,
    /// Chance that no relevant cause is present in the other blocks.
    untouched_right: f64,
    /// For each cause the repairs that mend it, and how surely.
    mended_by: Vec<Vec<(usize, f64)>>,
    /// For each repair the relevant causes it mends, and the blocks these are in.
    mends: Vec<(Vec<usize>, Vec<usize>)>,
    probabilities: Vec<f64>,
}

impl Remaining {
    /// Reduces a posterior; causes out of range must have been refused before.
    pub(super) fn new(posterior: &Posterior, relevant: &[usize], repairs: &[Repair]) -> Self {
        let mut is_relevant = vec![false; posterior.probabilities().len()];
        relevant.iter().for_each(|cause| is_relevant[*cause] = true);
        let mut mended_by = vec![Vec::new(); is_relevant.len()];
        let mut mends = Vec::with_capacity(repairs.len());
        let block_of = posterior.block_of();
        for (index, repair) in repairs.iter().enumerate() {
            let mut own: Vec<usize> =
                repair.mends.iter().copied().filter(|cause| is_relevant[*cause]).collect();
            own.sort_unstable();
            own.dedup();
            own.iter().for_each(|cause| mended_by[*cause].push((index, repair.succeeds)));
            let mut blocks: Vec<usize> = own.iter().map(|cause| block_of[*cause]).collect();
            blocks.sort_unstable();
            blocks.dedup();
            mends.push((own, blocks));
        }
        let mut touched: Vec<usize> =
            mends.iter().flat_map(|(_, blocks)| blocks).copied().collect();
        touched.sort_unstable();
        touched.dedup();
        let mut remaining = Self {
            blocks: (0..posterior.blocks.len())
                .map(|block| reduce(posterior, block, &is_relevant))
                .collect(),
            untouched_right: 1.0,
            touched,
            mended_by,
            mends,
            probabilities: posterior.probabilities().to_vec(),
        };
        let blocks = remaining.blocks.iter().enumerate();
        let others = blocks.filter(|(block, _)| remaining.touched.binary_search(block).is_err());
        remaining.untouched_right =
            others.map(|(_, sets)| remaining.gone(sets, &[], |_| true)).product();
        remaining
    }

    /// Whether a repair could mend anything.
    pub(super) fn helps(&self, repair: usize) -> bool {
        self.mended(&[], repair) > 0.0
    }

    /// How many causes a repair is expected to mend after those done.
    pub(super) fn mended(&self, done: &[usize], repair: usize) -> f64 {
        let left = |cause: &usize| {
            let succeeds =
                self.mended_by[*cause].iter().find(|(by, _)| *by == repair).map_or(0.0, |by| by.1);
            self.probabilities[*cause] * self.survives(*cause, done) * succeeds
        };
        self.mends[repair].0.iter().map(left).sum()
    }

    /// Chance that any relevant cause is present after the repairs done.
    pub(super) fn not_right(&self, done: &[usize]) -> f64 {
        let touched =
            self.touched.iter().map(|block| self.gone(&self.blocks[*block], done, |_| true));
        1.0 - self.untouched_right * touched.product::<f64>()
    }

    /// Chance that any relevant cause that `repair` mends is present after the repairs done.
    pub(super) fn present(&self, done: &[usize], repair: usize) -> f64 {
        let (causes, blocks) = &self.mends[repair];
        let own = |cause: usize| causes.binary_search(&cause).is_ok();
        1.0 - blocks.iter().map(|block| self.gone(&self.blocks[*block], done, own)).product::<f64>()
    }

    /// Chance that none of the causes picked is present in this block after the repairs done.
    fn gone(
        &self,
        sets: &[(Vec<usize>, f64)],
        done: &[usize],
        pick: impl Fn(usize) -> bool,
    ) -> f64 {
        let of_set = |causes: &[usize]| -> f64 {
            causes
                .iter()
                .filter(|cause| pick(**cause))
                .map(|cause| 1.0 - self.survives(*cause, done))
                .product()
        };
        sets.iter().map(|(causes, weight)| weight * of_set(causes)).sum()
    }

    /// Chance that a cause, if present, outlasts the repairs done.
    fn survives(&self, cause: usize, done: &[usize]) -> f64 {
        let tried = self.mended_by[cause].iter().filter(|(repair, _)| done.contains(repair));
        tried.map(|(_, succeeds)| 1.0 - succeeds).product()
    }
}

/// The sets of a block with the irrelevant causes dropped, alike ones put together.
fn reduce(posterior: &Posterior, block: usize, is_relevant: &[bool]) -> Vec<(Vec<usize>, f64)> {
    let mut merged: HashMap<Vec<usize>, f64> = HashMap::new();
    for (members, weight) in posterior.blocks[block].listing.sets() {
        let here = members.iter().filter(|m| posterior.now < m.leaves && is_relevant[m.cause]);
        let mut causes: Vec<usize> = here.map(|m| m.cause).collect();
        causes.sort_unstable();
        *merged.entry(causes).or_default() += weight;
    }
    let mut sets: Vec<(Vec<usize>, f64)> = merged.into_iter().collect();
    sets.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    let mut left = 1.0;
    let kept = sets.iter().take_while(|(_, weight)| {
        let more = left > NEGLIGIBLE;
        left -= weight;
        more
    });
    let kept = kept.count().min(MOST_SETS);
    sets.truncate(kept);
    let total: f64 = sets.iter().map(|(_, weight)| weight).sum();
    sets.iter_mut().for_each(|(_, weight)| *weight /= total);
    sets
}
