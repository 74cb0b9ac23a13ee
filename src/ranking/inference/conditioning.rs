//! The sum over all sets of a component whose evidence couples too many causes for variable
//! elimination.
//!
//! Conditioning (Koller & Friedman 2009, §9.5): some causes are decided, the others open. The sum over
//! the open ones is taken as if none of them interacted, which is right where few of them are likely or
//! they act on different evidence. Where pairs of them say otherwise, the branch with the largest error
//! is split at the cause that pairs worst, best-first as in branch and bound, until the error is small
//! altogether. Deciding the instances that matter and estimating the rest is Horvitz, Suermondt &
//! Cooper's bounded conditioning (*Uncertainty in Artificial Intelligence* 5, 1989), and going outward
//! from the sets of few causes Henrion's (Search-based methods to bound diagnostic probabilities in
//! very large belief nets, 1991); the error here is an estimate from pairs where theirs is a bound.
//! Where that many branches don't bring it down, `sampling` corrects what they leave.

use std::collections::BTreeMap;

use super::branch::Branch;
use super::component::Component;
use super::effects::Effects;
use super::markov_chain::{Drawn, Sweeps, draw_sets};
use super::priority_queue::PriorityQueue;
use super::rests_on::RestsOn;
use super::sampling::Correction;
use super::weighted_sets::{Member, WeightedSetsBuilder};

/// How much work an estimate is worth. Work is counted, not timed: the same evidence gives the same
/// digits on any machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// Between two questions: a few hundredths of a second at most.
    Question,
    /// Where something is concluded: on until no chance is in doubt by more than a hundredth, or half
    /// a second or so is spent.
    Conclusion,
}

impl Effort {
    /// Most branches that are split best-first.
    fn branches(self) -> usize {
        match self {
            Self::Question => 300,
            Self::Conclusion => 600,
        }
    }

    /// Most branches weighed altogether, those that draws come through among them.
    fn work(self) -> usize {
        match self {
            Self::Question => 1_500,
            Self::Conclusion => 30_000,
        }
    }

    /// How long Markov chains run where the branches' sum is of no use.
    fn sweeps(self) -> Sweeps {
        match self {
            Self::Question => Sweeps { before: 30, counted: 60, kept: 480 },
            Self::Conclusion => Sweeps { before: 100, counted: 1_200, kept: 1_600 },
        }
    }

    /// Most draws.
    fn draws(self) -> usize {
        match self {
            Self::Question => 500,
            Self::Conclusion => 20_000,
        }
    }
}

/// The sum over all sets of a component, as far as it is known.
pub(super) struct EstimatedSum {
    /// Its natural logarithm; Markov chains tell only shares of it.
    pub(super) log_total: Option<f64>,
    /// The probabilities of each variable's states.
    pub(super) states: Vec<Vec<f64>>,
    /// By how much each of them may be off.
    pub(super) doubts: Vec<Vec<f64>>,
    /// What it was found by.
    pub(super) rests_on: RestsOn,
    /// The likeliest sets; of Markov chains, sets as often as they were drawn.
    pub(super) sets: WeightedSetsBuilder,
    /// What the sum was made of; none of it where Markov chains took its place.
    pub(super) branches: Vec<Branch>,
}

/// No more of the sum than this stays uncertain without a draw: nobody acts on so little.
const MAX_ERROR: f64 = 2e-3;

/// Draws go on until no probability is in doubt by more than this.
const MAX_DOUBT: f64 = 8e-3;

/// Where pairs of open causes leave so much of the branches' sum uncertain, what draws from them say is
/// as likely as not another sum's: the sets that matter are hardly ever drawn.
const ALL_OF_IT: f64 = 0.999;

/// In more doubt than this after the first draws, the branches are no fair stand-in for the sum.
const UNFIT: f64 = 0.1;

/// So many are drawn between two looks at the doubt.
const DRAWS_AT_ONCE: u16 = 250;

/// A component with this many effects and states counts once for each branch; one of twice as many
/// counts twice.
const USUAL_SIZE: usize = 6_000;

/// Share of the sum below which a set is not worth a place in the list.
const NEGLIGIBLE: f64 = 1e-9;

/// So many branches are weighed between two looks at the whole sum.
const BETWEEN_LOOKS: usize = 24;

/// Sums; nothing where no set has a weight.
pub(super) fn estimated_sum(component: &Component, effort: Effort) -> Option<EstimatedSum> {
    let effects = Effects::new(component);
    let size = (effects.all.len() + effects.priors.len()).div_ceil(USUAL_SIZE).max(1);
    let (branches, error) = branches(&effects, effort.branches() / size);
    let mut sum = BranchSum::of(&effects, branches)?;
    if error <= MAX_ERROR {
        return Some(sum.with_error(&effects, error));
    }
    let chains = || draw_sets(&effects, effort.sweeps());
    if error >= ALL_OF_IT
        && let Some(chains) = chains()
    {
        return Some(by_chains(&effects, chains));
    }
    let correction = corrected(&effects, &sum, effort, size);
    let doubt = correction.doubt(&sum.states);
    if doubt > UNFIT
        && let Some(chains) = chains()
        && chains.doubt() < doubt
    {
        return Some(by_chains(&effects, chains));
    }
    sum.correct(&correction);
    Some(sum.listed(&effects))
}

/// What draws from the branches say of their sum: as many as it takes, or as the effort allows.
fn corrected(effects: &Effects<'_>, sum: &BranchSum, effort: Effort, size: usize) -> Correction {
    let mut correction = Correction::new(effects.priors.len());
    let (mut weighed, mut drawn) = (sum.branches.len() * size, 0);
    while drawn < effort.draws() && weighed < effort.work() {
        let most = (effort.work() - weighed) / size;
        weighed += size * correction.draw(effects, &sum.branches, &sum.shares, DRAWS_AT_ONCE, most);
        drawn += usize::from(DRAWS_AT_ONCE);
        let doubt = correction.doubt(&sum.states);
        if doubt <= MAX_DOUBT || doubt > UNFIT {
            break;
        }
    }
    correction
}

/// What Markov chains found.
fn by_chains(effects: &Effects<'_>, chains: Drawn) -> EstimatedSum {
    let mut sets = WeightedSetsBuilder::default();
    let mut counts: BTreeMap<Vec<usize>, u32> = BTreeMap::new();
    for set in chains.sets {
        *counts.entry(set).or_default() += 1;
    }
    for (set, count) in counts {
        let member = |state: &usize| {
            let variable = effects.states_of.partition_point(|states| states.end <= *state);
            let place = *state - effects.states_of[variable].start;
            let variable = &effects.component.variables[variable];
            Member::of(variable, variable.states[place])
        };
        sets.push(set.iter().filter_map(member), f64::from(count).ln());
    }
    EstimatedSum {
        log_total: None,
        states: effects.by_variable(&chains.states),
        doubts: effects.by_variable(&chains.doubts),
        rests_on: RestsOn::Chains,
        sets,
        branches: Vec::new(),
    }
}

/// At most so many branches, which share out all sets among them, and what share of their sum is
/// uncertain.
fn branches(effects: &Effects<'_>, most: usize) -> (Vec<Branch>, f64) {
    let mut open = PriorityQueue::new();
    let queue = |open: &mut PriorityQueue<Branch>, branch: Branch| {
        open.push(branch.log_sum + branch.error.ln(), branch);
    };
    queue(&mut open, Branch::root(effects));
    let mut closed: Vec<Branch> = Vec::new();
    let (mut weighed, mut next_look) = (1, 1);
    while weighed < most {
        if weighed >= next_look {
            if error(|| open.iter().chain(&closed)) <= MAX_ERROR {
                break;
            }
            next_look = weighed + BETWEEN_LOOKS;
        }
        let Some(branch) = open.pop() else { break };
        let Some(variable) = branch.split_on else {
            closed.push(branch);
            continue;
        };
        for child in branch.split(effects, variable) {
            weighed += 1;
            if child.log_sum > f64::NEG_INFINITY {
                queue(&mut open, child);
            }
        }
    }
    let error = error(|| open.iter().chain(&closed));
    closed.extend(open.into_items());
    (closed, error)
}

/// Share of the sum that is uncertain. Summed anew each time: the first sums may be far too large, and
/// what is small beside them would be lost.
fn error<'b, I: Iterator<Item = &'b Branch>>(branches: impl Fn() -> I) -> f64 {
    let scale = branches().map(|branch| branch.log_sum).fold(f64::NEG_INFINITY, f64::max);
    let (mut sum, mut error) = (0.0, 0.0);
    for branch in branches() {
        let own = (branch.log_sum - scale).exp();
        sum += own;
        error += own * branch.error;
    }
    if sum > 0.0 { error / sum } else { 0.0 }
}

/// The branches added up.
struct BranchSum {
    branches: Vec<Branch>,
    /// Each branch's share of the sum.
    shares: Vec<f64>,
    log_total: f64,
    /// The probability of each state, and by how much it may be off.
    states: Vec<f64>,
    doubts: Vec<f64>,
}

impl BranchSum {
    fn of(effects: &Effects<'_>, branches: Vec<Branch>) -> Option<Self> {
        let scale = branches.iter().map(|branch| branch.log_sum).fold(f64::NEG_INFINITY, f64::max);
        if scale == f64::NEG_INFINITY {
            return None;
        }
        let mut shares: Vec<f64> =
            branches.iter().map(|branch| (branch.log_sum - scale).exp()).collect();
        let sum: f64 = shares.iter().sum();
        shares.iter_mut().for_each(|share| *share /= sum);
        let mut states = vec![0.0; effects.priors.len()];
        for (branch, share) in branches.iter().zip(&shares) {
            for (sum, marginal) in states.iter_mut().zip(&branch.marginals) {
                *sum += share * marginal;
            }
        }
        let doubts = vec![0.0; states.len()];
        Some(Self { branches, shares, log_total: scale + sum.ln(), states, doubts })
    }

    /// As it is, with this share of it uncertain.
    fn with_error(mut self, effects: &Effects<'_>, error: f64) -> EstimatedSum {
        self.doubts.fill(error);
        EstimatedSum { rests_on: RestsOn::Pairs, ..self.listed(effects) }
    }

    fn correct(&mut self, correction: &Correction) {
        self.log_total += correction.log_times();
        (self.states, self.doubts) = correction.corrected(&self.states);
    }

    /// With its likeliest sets.
    fn listed(self, effects: &Effects<'_>) -> EstimatedSum {
        let list = |min_log_weight: f64| {
            let mut sets = WeightedSetsBuilder::default();
            self.branches.iter().for_each(|one| one.list(effects, min_log_weight, &mut sets));
            sets
        };
        // Where the sum is taken far too large, no set is worth a place beside it.
        let sets = Some(list(self.log_total + NEGLIGIBLE.ln())).filter(|sets| !sets.is_empty());
        let sets = sets.unwrap_or_else(|| list(f64::NEG_INFINITY));
        EstimatedSum {
            log_total: Some(self.log_total),
            states: effects.by_variable(&self.states),
            doubts: effects.by_variable(&self.doubts),
            rests_on: RestsOn::Draws,
            sets,
            branches: self.branches,
        }
    }
}
