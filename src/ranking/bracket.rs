//! Branch and bound for a part whose evidence ties too many causes together for a sweep.
//!
//! Some causes are decided, the others open. What the open ones can add is bracketed in closed form:
//! each multiplies the weight of a set by a factor within known ends, whatever others come along, so
//! the sum over all their combinations lies between two products. The bracket that is widest is split
//! at the cause that makes it wide, until all of them together are narrow enough. Searching sets
//! outward with bounds on the rest is Henrion's (Search-based methods to bound diagnostic
//! probabilities in very large belief nets, 1991); what one more cause can change is bounded in the
//! same spirit.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::part::Part;
use super::reach::{Range, Reach};

/// How far to go.
pub(super) struct Limits {
    /// Share of the sum that may stay unknown.
    pub(super) unknown: f64,
    /// Most brackets to weigh.
    pub(super) most: usize,
}

/// The sum over all sets of a part, as far as it is known.
pub(super) struct Bracket {
    /// Natural logarithms of the ends of the sum; what lies below the lower one is known.
    pub(super) log: Range,
    /// The chances of each variable's states, over what is known.
    pub(super) states: Vec<Vec<f64>>,
}

/// Brackets the sum; nothing where no set has a weight.
pub(super) fn bracket(part: &Part, limits: &Limits) -> Option<Bracket> {
    let root = weigh(part, &[]);
    // Sums are kept relative to this, so that small ones are not lost.
    let scale = root.log.high;
    if scale == f64::NEG_INFINITY {
        return None;
    }
    let mut open = BinaryHeap::new();
    let mut closed: Vec<Leaf> = Vec::new();
    let mut weighed = 1;
    let mut sums = Range { low: root.low(scale), high: root.high(scale) };
    open.push(Open { gap: root.gap(scale), leaf: root });
    while sums.high - sums.low > limits.unknown * sums.high && weighed < limits.most {
        let Some(Open { leaf, .. }) = open.pop() else { break };
        let Some(variable) = leaf.split else {
            closed.push(leaf);
            continue;
        };
        sums.low -= leaf.low(scale);
        sums.high -= leaf.high(scale);
        for (state, _) in
            part.variables[variable].states.iter().enumerate().filter(|(_, s)| s.weight > 0.0)
        {
            let mut decided = leaf.decided.clone();
            decided.push((variable, state));
            let mut child = weigh(part, &decided);
            // The ends of a part of the sets are within those of all of them.
            child.log.high = child.log.high.min(leaf.log.high);
            weighed += 1;
            if child.log.high > f64::NEG_INFINITY {
                sums.low += child.low(scale);
                sums.high += child.high(scale);
                open.push(Open { gap: child.gap(scale), leaf: child });
            }
        }
    }
    closed.extend(open.into_iter().map(|open| open.leaf));
    gather(part, &closed, scale)
}

/// Adds up what is known.
fn gather(part: &Part, leaves: &[Leaf], scale: f64) -> Option<Bracket> {
    let mut states: Vec<Vec<f64>> =
        part.variables.iter().map(|variable| vec![0.0; variable.states.len()]).collect();
    let low: f64 = leaves.iter().map(|leaf| leaf.low(scale)).sum();
    let high: f64 = leaves.iter().map(|leaf| leaf.high(scale)).sum();
    if high <= 0.0 {
        return None;
    }
    for leaf in leaves {
        let weight = leaf.low(scale) / low.max(f64::MIN_POSITIVE);
        for (sums, shares) in states.iter_mut().zip(&leaf.shares) {
            for (sum, share) in sums.iter_mut().zip(shares) {
                *sum += weight * share;
            }
        }
    }
    let log = Range { low: scale + low.ln(), high: scale + high.max(low).ln() };
    Some(Bracket { log, states })
}

/// Some causes decided, and what is known of the sum over all states of the others.
struct Leaf {
    /// Variables with the index of their state.
    decided: Vec<(usize, usize)>,
    /// Logarithms of the ends of the sum.
    log: Range,
    /// Chances of the states of each variable under the lower end.
    shares: Vec<Vec<f64>>,
    /// The open variable that widens the bracket most; none where its ends meet.
    split: Option<usize>,
}

impl Leaf {
    fn low(&self, scale: f64) -> f64 {
        (self.log.low - scale).exp()
    }

    fn high(&self, scale: f64) -> f64 {
        (self.log.high - scale).exp()
    }

    fn gap(&self, scale: f64) -> f64 {
        self.high(scale) - self.low(scale)
    }
}

struct Open {
    gap: f64,
    leaf: Leaf,
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.gap.total_cmp(&other.gap)
    }
}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Open {}

/// Logarithm that stands for nothing when it is shared out among causes.
const DEEP: f64 = -60.0;

/// One open cause in one state other than "never there", and what it changes in one clue.
struct Swing {
    variable: usize,
    state: usize,
    /// Its chance before the clues of the part.
    chance: f64,
    change: Range,
}

fn weigh(part: &Part, decided: &[(usize, usize)]) -> Leaf {
    let mut is_open = vec![true; part.variables.len()];
    let mut now = part.quiet.clone();
    let mut log = 0.0;
    for (variable, state) in decided {
        is_open[*variable] = false;
        let state = part.variables[*variable].states[*state];
        log += state.weight.ln();
        for touch in part.touches[*variable].iter().filter(|t| t.round < state.leaves) {
            now[touch.spot] *= touch.keep;
        }
    }
    let mut all = now.clone();
    for (variable, touches) in part.touches.iter().enumerate().filter(|(v, _)| is_open[*v]) {
        let leaves = part.variables[variable].states.iter().filter(|s| s.weight > 0.0);
        let last = leaves.map(|s| s.leaves).max().unwrap_or(0);
        for touch in touches.iter().filter(|t| t.round < last) {
            all[touch.spot] *= touch.keep;
        }
    }
    let reaches: Vec<Reach<'_>> = part
        .clues
        .iter()
        .map(|clue| Reach::new(clue, &now[clue.spots.clone()], &all[clue.spots.clone()]))
        .collect();
    let swings = swings(part, &is_open, &reaches);
    let clues: Vec<Ends<'_>> = reaches
        .iter()
        .zip(&part.clues)
        .zip(&swings)
        .map(|((reach, clue), swings)| Ends {
            value: clue.value(&now).ln(),
            reach: reach.value(),
            swings,
        })
        .collect();
    let high = End::high(part, &is_open, &clues);
    let low = End::low(part, &is_open, &clues);
    let mut widens = vec![0.0; part.variables.len()];
    for (clue, (low, high)) in clues.iter().zip(low.constants.iter().zip(&high.constants)) {
        let total: f64 = clue.swings.iter().map(|swing| swing.chance).sum();
        let width = high.max(DEEP) - low.max(DEEP);
        for swing in clue.swings {
            widens[swing.variable] += width * swing.chance / total;
        }
    }
    let mut shares = Vec::with_capacity(part.variables.len());
    for (variable, own) in part.variables.iter().enumerate() {
        if is_open[variable] {
            let (low, high) = (low.sum(variable), high.sum(variable));
            widens[variable] += high.ln().max(DEEP) - low.ln().max(DEEP);
        }
        let state = decided.iter().find(|(other, _)| *other == variable).map(|(_, state)| *state);
        shares.push(match state {
            Some(state) => (0..own.states.len()).map(|s| f64::from(s == state)).collect(),
            None => low.shares(variable),
        });
    }
    let ends = Range { low: log + low.log(), high: log + high.log() };
    let split = (0..widens.len())
        .filter(|variable| is_open[*variable] && widens[*variable] > 0.0)
        .max_by(|a, b| widens[*a].total_cmp(&widens[*b]));
    Leaf { decided: decided.to_vec(), log: ends, shares, split }
}

/// What each open cause changes in each clue.
fn swings(part: &Part, is_open: &[bool], reaches: &[Reach<'_>]) -> Vec<Vec<Swing>> {
    let mut swings: Vec<Vec<Swing>> = part.clues.iter().map(|_| Vec::new()).collect();
    let mut keep = Vec::new();
    for (variable, clues) in part.clues_of.iter().enumerate().filter(|(v, _)| is_open[*v]) {
        let states = part.variables[variable].states.iter().enumerate().skip(1);
        for (state, here) in states.filter(|(_, state)| state.weight > 0.0) {
            for clue in clues {
                let spots = &part.clues[*clue].spots;
                keep.clear();
                keep.resize(spots.len(), 1.0);
                let touches = part.touches[variable].iter();
                for touch in touches.filter(|t| t.round < here.leaves && spots.contains(&t.spot)) {
                    keep[touch.spot - spots.start] *= touch.keep;
                }
                if keep.iter().any(|keep| *keep < 1.0) {
                    let change = reaches[*clue].change(&keep);
                    let chance = here.weight;
                    swings[*clue].push(Swing { variable, state, chance, change });
                }
            }
        }
    }
    swings
}

/// What is known of the ends of a clue.
struct Ends<'a> {
    /// Logarithm of its value with no open cause there.
    value: f64,
    reach: Range,
    swings: &'a [Swing],
}

/// One end of the bracket: a constant for each clue, and a factor for each state of each variable.
///
/// A clue may enter in two ways: with its value now, times what each open cause may change at most; or
/// with the furthest its value can go, times only what causes take back from there. Which is nearer
/// depends on the other clues, so clues are turned from the second way to the first one by one where
/// that brings the end nearer.
struct End<'p> {
    part: &'p Part,
    is_open: &'p [bool],
    constants: Vec<f64>,
    factors: Vec<Vec<f64>>,
}

impl<'p> End<'p> {
    fn high(part: &'p Part, is_open: &'p [bool], clues: &[Ends<'_>]) -> Self {
        let furthest = clues.iter().map(|clue| clue.reach.high.ln()).collect();
        Self::new(part, is_open, furthest).turned(
            clues,
            |change| (change.high.min(1.0), change.high.max(1.0)),
            |a, b| a < b,
        )
    }

    fn low(part: &'p Part, is_open: &'p [bool], clues: &[Ends<'_>]) -> Self {
        let furthest = clues.iter().map(|clue| clue.reach.low.ln()).collect();
        Self::new(part, is_open, furthest).turned(
            clues,
            |change| (change.low.max(1.0), change.low.min(1.0)),
            |a, b| a > b,
        )
    }

    fn new(part: &'p Part, is_open: &'p [bool], constants: Vec<f64>) -> Self {
        let factors = part.variables.iter().map(|v| vec![1.0; v.states.len()]).collect();
        Self { part, is_open, constants, factors }
    }

    /// `split` gives what a change takes back from the furthest, and the rest of it.
    fn turned(
        mut self,
        clues: &[Ends<'_>],
        split: impl Fn(Range) -> (f64, f64),
        nearer: impl Fn(f64, f64) -> bool,
    ) -> Self {
        for swing in clues.iter().flat_map(|clue| clue.swings) {
            self.factors[swing.variable][swing.state] *= split(swing.change).0;
        }
        for (index, clue) in clues.iter().enumerate() {
            let mut gain = clue.value.max(DEEP) - self.constants[index].max(DEEP);
            let mut before = Vec::with_capacity(clue.swings.len());
            for swing in clue.swings {
                gain -= self.sum(swing.variable).ln().max(DEEP);
                let factor = &mut self.factors[swing.variable][swing.state];
                before.push(*factor);
                *factor *= split(swing.change).1;
                gain += self.sum(swing.variable).ln().max(DEEP);
            }
            if nearer(gain, 0.0) {
                self.constants[index] = clue.value;
                continue;
            }
            for (swing, before) in clue.swings.iter().zip(before) {
                self.factors[swing.variable][swing.state] = before;
            }
        }
        self
    }

    fn sum(&self, variable: usize) -> f64 {
        let states = &self.part.variables[variable].states;
        states.iter().zip(&self.factors[variable]).map(|(s, factor)| s.weight * factor).sum()
    }

    fn shares(&self, variable: usize) -> Vec<f64> {
        let sum = self.sum(variable).max(f64::MIN_POSITIVE);
        let states = &self.part.variables[variable].states;
        states.iter().zip(&self.factors[variable]).map(|(s, f)| s.weight * f / sum).collect()
    }

    fn log(&self) -> f64 {
        let open = (0..self.is_open.len()).filter(|variable| self.is_open[*variable]);
        self.constants.iter().sum::<f64>()
            + open.map(|variable| self.sum(variable).ln()).sum::<f64>()
    }
}
