//! Sets of causes drawn by Markov chains, for evidence that no branch is a fair stand-in for: a handful of
//! vague answers, each brought by dozens of causes, makes sets of causes that don't interact far too heavy.
//!
//! One cause after another is drawn anew given all others (Gibbs sampling; Geman & Geman, *IEEE Trans.
//! Pattern Analysis and Machine Intelligence* 6, 1984), and causes that are present are exchanged for
//! others (Metropolis, with Hastings' correction for what is proposed oftener), since of two causes that
//! explain the same answer one can seldom go before the other has come. What counts towards a probability
//! is the chance a cause was drawn with, not only what was drawn (Rao-Blackwell; Gelfand & Smith, *J.
//! American Statistical Association* 85, 1990). The chains start without any cause and take the evidence
//! on little by little, so that none settles on the first set that fits. Their scatter, and that within
//! them, says how far the means can be trusted (batch means; Robert & Casella, *Monte Carlo Statistical
//! Methods*, 2004, §12.3). The generators always start alike: the same evidence gives the same digits.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use rayon::prelude::*;

use super::effects::Effects;

/// So many chains are run side by side.
const CHAINS: usize = 8;

/// Exchanges that are tried after each sweep over all causes.
const EXCHANGES: usize = 24;

/// Share of the exchanges that propose any cause as often as any other; the rest go by what a chain found.
const EVEN: f64 = 0.3;

/// A factor's least value: what rules a set out still leads on to one that it doesn't.
const LOG_FLOOR: f64 = -600.0;

/// Below this a factor rules the set out.
const RULED_OUT: f64 = -599.0;

/// So many batches each chain's sweeps are cut into.
const BATCHES: usize = 4;

/// A probability may be off by so many standard errors.
const STANDARD_ERRORS: f64 = 4.0;

/// How long chains run: sweeps over all causes.
#[derive(Clone, Copy)]
pub(super) struct Sweeps {
    /// In which the evidence is taken on; they don't count.
    pub(super) before: usize,
    /// That count, in each chain.
    pub(super) counted: usize,
    /// Most sets kept of all chains.
    pub(super) kept: usize,
}

/// What the chains found.
pub(super) struct Drawn {
    /// The probability of each state of each variable.
    pub(super) states: Vec<f64>,
    /// By how much each of them may be off.
    pub(super) doubts: Vec<f64>,
    /// Sets as they were drawn, evenly spaced: the places of the states other than "never present".
    pub(super) sets: Vec<Vec<usize>>,
}

impl Drawn {
    /// The most that any probability may be off.
    pub(super) fn doubt(&self) -> f64 {
        self.doubts.iter().copied().fold(0.0, f64::max)
    }
}

/// Runs the chains; nothing where none of them came upon a set that fits all evidence.
#[expect(clippy::cast_precision_loss, reason = "thousands of sweeps")]
pub(super) fn draw_sets(effects: &Effects<'_>, sweeps: Sweeps) -> Option<Drawn> {
    let marks = marks(effects.classes.len());
    let run = |seed| Chain::new(effects, &marks, seed).run(sweeps);
    let chains: Vec<Found> = (0..CHAINS as u64).into_par_iter().map(run).collect();
    let chains: Vec<Found> = chains.into_iter().filter(|found| !found.batches.is_empty()).collect();
    if chains.is_empty() {
        return None;
    }
    // What shows in one sweep of all may just as well have shown in none or in two.
    let one = 1.0 / (CHAINS * sweeps.counted.max(1)) as f64;
    let of = |state: usize| {
        let (mean, doubt) = mean(&chains, state);
        (mean, (doubt + one).min(1.0))
    };
    let (states, doubts) = (0..effects.priors.len()).map(of).unzip();
    let sets = chains.into_iter().flat_map(|found| found.sets).collect();
    Some(Drawn { states, doubts, sets })
}

/// The mean over all batches, and four times its standard error: by the batches' scatter or by the
/// chains', whichever is larger.
fn mean(chains: &[Found], state: usize) -> (f64, f64) {
    let means =
        |found: &Found| -> Vec<f64> { found.batches.iter().map(|all| all[state]).collect() };
    let by_chain: Vec<f64> = chains.iter().map(|found| average(&means(found))).collect();
    let batches: Vec<f64> = chains.iter().flat_map(means).collect();
    let error = standard_error(&batches).max(standard_error(&by_chain));
    (average(&by_chain), STANDARD_ERRORS * error)
}

#[expect(clippy::cast_precision_loss, reason = "there are few")]
fn average(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len() as f64
}

/// Of the mean of independent values; 1 where there are too few to tell.
#[expect(clippy::cast_precision_loss, reason = "there are few")]
fn standard_error(all: &[f64]) -> f64 {
    if all.len() < 2 {
        return 1.0;
    }
    let (n, mean) = (all.len() as f64, average(all));
    let squares: f64 = all.iter().map(|one| (one - mean) * (one - mean)).sum();
    (squares / (n - 1.0) / n).sqrt()
}

/// A random number for each class: the classes present in a factor are known by the sum of theirs
/// (Zobrist, University of Wisconsin, Technical Report 88, 1970). That two different sets have the same
/// sum is as likely as not only among billions of them.
fn marks(classes: usize) -> Vec<u64> {
    let mut rng = Xoshiro256PlusPlus::seed_from_u64(2);
    (0..classes).map(|_| rng.random()).collect()
}

/// Values by a sum of marks, which is as random as any hash of it.
type ByMarks = HashMap<u64, f64, BuildHasherDefault<AsItIs>>;

/// A hash of a number that needs none.
#[derive(Default)]
struct AsItIs(u64);

impl Hasher for AsItIs {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        bytes.iter().for_each(|byte| self.0 = self.0.rotate_left(8) ^ u64::from(*byte));
    }

    fn write_u64(&mut self, number: u64) {
        self.0 = number;
    }
}

/// What one chain found.
#[derive(Default)]
struct Found {
    /// For each batch the probability of each state.
    batches: Vec<Vec<f64>>,
    sets: Vec<Vec<usize>>,
}

struct Chain<'e> {
    effects: &'e Effects<'e>,
    marks: &'e [u64],
    rng: Xoshiro256PlusPlus,
    /// For each variable the place of its state.
    states: Vec<usize>,
    /// For each factor the classes of the causes present, in no order, and the sum of their marks.
    present: Vec<Vec<usize>>,
    sums: Vec<u64>,
    /// For each factor the logarithm of its value.
    log_values: Vec<f64>,
    /// For each factor the values known already, by the sum of marks.
    known: Vec<ByMarks>,
    /// For each class the value of its factor with one more cause of it, and the sum of marks with which
    /// that holds: from one variable to the next little changes.
    with_one_more: Vec<(u64, f64)>,
    /// To what power the evidence counts.
    power: f64,
    /// For each state how often it is proposed in an exchange, added up; 0 more for "never present".
    proposed: Vec<f64>,
    /// Of the variable at hand, the logarithm of each state's weight over that of the first.
    weights: Vec<f64>,
}

impl<'e> Chain<'e> {
    fn new(effects: &'e Effects<'e>, marks: &'e [u64], seed: u64) -> Self {
        let factors = effects.component.factors.len();
        let mut chain = Self {
            effects,
            marks,
            rng: Xoshiro256PlusPlus::seed_from_u64(3 + seed),
            states: effects.states_of.iter().map(|states| states.start).collect(),
            present: vec![Vec::new(); factors],
            sums: vec![0; factors],
            log_values: Vec::new(),
            known: vec![ByMarks::default(); factors],
            with_one_more: vec![(0, f64::NAN); effects.classes.len()],
            power: 0.0,
            proposed: Vec::new(),
            weights: Vec::new(),
        };
        chain.log_values = (0..factors).map(|factor| chain.log_value(factor, 0, None)).collect();
        chain
    }

    #[expect(clippy::cast_precision_loss, reason = "a few hundred sweeps")]
    fn run(mut self, sweeps: Sweeps) -> Found {
        let mut means = vec![0.0; self.effects.priors.len()];
        for sweep in 0..sweeps.before {
            if sweep * 2 == sweeps.before {
                means.fill(0.0);
            }
            self.power = ((sweep + 1) as f64 * 1.5 / sweeps.before as f64).min(1.0);
            self.sweep(&mut means);
        }
        self.power = 1.0;
        self.propose_by(&means);
        let mut found = Found::default();
        let batch = sweeps.counted.div_ceil(BATCHES);
        let own_sets = sweeps.kept.div_ceil(CHAINS).max(1);
        let every = sweeps.counted.div_ceil(own_sets);
        let mut fitting = 0;
        means.fill(0.0);
        for sweep in 1..=sweeps.counted {
            let fits = !self.is_ruled_out();
            let mut own = vec![0.0; means.len()];
            self.sweep(&mut own);
            (0..EXCHANGES).for_each(|_| self.exchange());
            if fits {
                fitting += 1;
                means.iter_mut().zip(&own).for_each(|(sum, own)| *sum += own);
            }
            if sweep % every == 0 && !self.is_ruled_out() {
                found.sets.push(self.set());
            }
            if sweep % batch == 0 || sweep == sweeps.counted {
                if fitting > 0 {
                    found.batches.push(means.iter().map(|sum| sum / f64::from(fitting)).collect());
                }
                (fitting, means) = (0, vec![0.0; means.len()]);
            }
        }
        found
    }

    fn is_ruled_out(&self) -> bool {
        self.log_values.iter().any(|value| *value < RULED_OUT)
    }

    /// The states other than "never present".
    fn set(&self) -> Vec<usize> {
        let states = self.states.iter().zip(&self.effects.states_of);
        states.filter(|(state, own)| **state > own.start).map(|(state, _)| *state).collect()
    }

    /// Draws each variable's state anew, and adds the chances of its states to `sums`.
    fn sweep(&mut self, sums: &mut [f64]) {
        for variable in 0..self.states.len() {
            self.take_out(variable);
            self.weigh(variable);
            let own = self.effects.states_of[variable].clone();
            let top = self.weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            self.weights.iter_mut().for_each(|weight| *weight = (*weight - top).exp());
            let all: f64 = self.weights.iter().sum();
            let mut left = self.rng.random::<f64>() * all;
            let mut chosen = None;
            for (place, weight) in self.weights.iter().enumerate() {
                sums[own.start + place] += weight / all;
                left -= weight;
                if chosen.is_none() && left < 0.0 {
                    chosen = Some(place);
                }
            }
            // Rounding can leave a hair beyond the last.
            if let Some(place) = chosen.filter(|place| *place > 0) {
                self.put_in(variable, own.start + place);
            }
        }
    }

    /// Tries to exchange one of the causes present for one that isn't.
    fn exchange(&mut self) {
        let present = self.states.iter().zip(&self.effects.states_of);
        let present: Vec<usize> = present
            .enumerate()
            .filter(|(_, (state, own))| **state > own.start)
            .map(|(variable, _)| variable)
            .collect();
        let all = self.proposed.last().copied().unwrap_or(0.0);
        if present.is_empty() || all <= 0.0 {
            return;
        }
        let going = present[self.rng.random_range(0..present.len())];
        let at = self.rng.random::<f64>() * all;
        let new = self.proposed.partition_point(|sum| *sum <= at);
        let coming = self.effects.states_of.partition_point(|states| states.end <= new);
        if coming >= self.states.len() || present.contains(&coming) {
            return;
        }
        let old = self.states[going];
        self.take_out(going);
        let (stays, goes) = (self.log_weight(old), self.log_weight(new));
        let log_odds = goes - stays + self.share(old).ln() - self.share(new).ln();
        if self.rng.random::<f64>().ln() < log_odds {
            self.put_in(coming, new);
        } else {
            self.put_in(going, old);
        }
    }

    /// How often a state is proposed.
    fn share(&self, state: usize) -> f64 {
        self.proposed[state] - if state == 0 { 0.0 } else { self.proposed[state - 1] }
    }

    /// Goes by how often each state was found, and now and then tries any.
    fn propose_by(&mut self, found: &[f64]) {
        let is_first = |state: usize| self.effects.states_of.iter().any(|own| own.start == state);
        let can_be = |state: usize| !is_first(state) && self.effects.priors[state] > 0.0;
        let own: Vec<f64> =
            (0..found.len()).map(|state| if can_be(state) { 1.0 } else { 0.0 }).collect();
        let (count, all) = (own.iter().sum::<f64>(), found.iter().zip(&own).map(|(f, o)| f * o));
        let all = all.sum::<f64>().max(f64::MIN_POSITIVE);
        let mut sum = 0.0;
        let shares = own.iter().zip(found).map(|(own, found)| {
            sum += own * (EVEN / count + (1.0 - EVEN) * found / all);
            sum
        });
        self.proposed = shares.collect();
    }

    /// Makes a variable "never present".
    fn take_out(&mut self, variable: usize) {
        let (state, never) = (self.states[variable], self.effects.states_of[variable].start);
        if state == never {
            return;
        }
        self.states[variable] = never;
        let effects = self.effects;
        for (factor, class) in &effects.of_state[state] {
            let own = &mut self.present[*factor];
            if let Some(place) = own.iter().position(|other| other == class) {
                own.swap_remove(place);
            }
            self.sums[*factor] = self.sums[*factor].wrapping_sub(self.marks[*class]);
            self.log_values[*factor] = self.log_value(*factor, self.sums[*factor], None);
        }
    }

    /// Gives a variable that is "never present" another state.
    fn put_in(&mut self, variable: usize, state: usize) {
        self.states[variable] = state;
        let effects = self.effects;
        for (factor, class) in &effects.of_state[state] {
            self.present[*factor].push(*class);
            self.sums[*factor] = self.sums[*factor].wrapping_add(self.marks[*class]);
            self.log_values[*factor] = self.log_value(*factor, self.sums[*factor], None);
        }
    }

    /// The weights of a variable's states, as logarithms over that of "never present", which it is in.
    fn weigh(&mut self, variable: usize) {
        self.weights.clear();
        self.weights.push(0.0);
        let states = self.effects.states_of[variable].clone();
        for state in states.skip(1) {
            let weight = self.log_weight(state);
            self.weights.push(weight);
        }
    }

    /// The weight of the set with this state over that with its variable "never present", which it is in.
    fn log_weight(&mut self, state: usize) -> f64 {
        let effects = self.effects;
        if effects.priors[state] <= 0.0 {
            return f64::NEG_INFINITY;
        }
        let mut evidence = 0.0;
        for (factor, class) in &effects.of_state[state] {
            let sum = self.sums[*factor].wrapping_add(self.marks[*class]);
            let (known, mut value) = self.with_one_more[*class];
            if known != sum || value.is_nan() {
                value = self.log_value(*factor, sum, Some(*class));
                self.with_one_more[*class] = (sum, value);
            }
            evidence += value - self.log_values[*factor];
        }
        effects.log_ratios[state] + self.power * evidence
    }

    /// The logarithm of a factor's value with the classes present and one more, whose marks are `sum`.
    fn log_value(&mut self, factor: usize, sum: u64, more: Option<usize>) -> f64 {
        if let Some(known) = self.known[factor].get(&sum) {
            return *known;
        }
        let own = &self.effects.component.factors[factor];
        let mut p_false = self.effects.component.p_false_by_leak[own.findings.clone()].to_vec();
        for class in self.present[factor].iter().chain(&more) {
            for (p_false, inhibition) in p_false.iter_mut().zip(&self.effects.classes[*class]) {
                *p_false *= inhibition;
            }
        }
        let value = own.value_at(&p_false).ln().max(LOG_FLOOR);
        self.known[factor].insert(sum, value);
        value
    }
}
