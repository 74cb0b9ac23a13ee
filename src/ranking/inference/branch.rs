//! Some causes decided and the others open: the sum over all states of the open ones, taken as if none
//! of them interacted with the others, and how far wrong that may be.

use std::ops::Range;

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;

use super::component::ComponentFactor;
use super::effects::Effects;
use super::weighted_sets::{Member, WeightedSetsBuilder};

/// Least value of a factor for choosing where to look on: a set that leaves some evidence wholly
/// unexplained must lead on to one that explains it.
const VALUE_FLOOR: f64 = 1e-30;

/// Share of a sum that each of its terms is taken to have at least: what a term can't be without a cause,
/// it may be with two.
const LEAST_TERM: f64 = 1e-9;

/// The causes decided so far, and what is known of the sum over the others.
#[derive(Debug, Clone)]
pub(super) struct Branch {
    /// For each variable its state, where it is decided.
    pub(super) decided: Vec<Option<usize>>,
    /// Logarithm of the weights of the decided states.
    log_decided: f64,
    /// Probability of each finding being false with none of the open causes present.
    p_false: Vec<f64>,
    /// For each factor, the logarithm of its value with none of the open causes present.
    log_values: Vec<f64>,
    /// Whether it rules that set out.
    ruled_out: Vec<bool>,
    /// Logarithm of what one open cause of each class multiplies the value by.
    log_effects: Vec<f64>,
    /// Relative change of the value by one open cause of each class: `|value without / with − 1|`; with
    /// how far that differs between the terms of a joint factor.
    influences: Vec<f64>,
    /// Whether one open cause of each class rules the set out.
    rules_out: Vec<bool>,
    /// For each factor, how wrong it is to multiply the effects of two open causes on it.
    interactions: Vec<f64>,
    /// Logarithm of the weight of the set with none of the open causes.
    log_none: f64,
    /// For each state, the logarithm of the weight of the set with that cause alone over `log_none`.
    log_ratios: Vec<f64>,
    /// For each state, its probability where no open cause interacts with the others.
    pub(super) marginals: Vec<f64>,
    /// Logarithm of the sum as it is taken.
    pub(super) log_sum: f64,
    /// Share of it that may be wrong, as far as pairs of open causes show.
    pub(super) error: f64,
    /// The open variable that brings the most error.
    pub(super) split_on: Option<usize>,
}

impl Branch {
    /// All causes open.
    pub(super) fn root(effects: &Effects<'_>) -> Self {
        let component = effects.component;
        let (factors, classes) = (component.factors.len(), effects.classes.len());
        let mut root = Self {
            decided: vec![None; component.variables.len()],
            log_decided: 0.0,
            p_false: component.p_false_by_leak.clone(),
            log_values: vec![0.0; factors],
            ruled_out: vec![false; factors],
            log_effects: vec![0.0; classes],
            influences: vec![0.0; classes],
            rules_out: vec![false; classes],
            interactions: vec![0.0; factors],
            log_none: 0.0,
            log_ratios: vec![0.0; effects.priors.len()],
            marginals: vec![0.0; effects.priors.len()],
            log_sum: 0.0,
            error: 0.0,
            split_on: None,
        };
        (0..factors).for_each(|factor| root.evaluate(effects, factor));
        root.sum(effects);
        root
    }

    /// The same with one more variable decided, a branch for each state it can be in.
    pub(super) fn split(self, effects: &Effects<'_>, variable: usize) -> Vec<Self> {
        let component = effects.component;
        let possible = component.variables[variable].possible_states();
        possible
            .map(|(index, state)| {
                let mut child = self.clone();
                child.decided[variable] = Some(index);
                child.log_decided += state.weight.ln();
                if index > 0 {
                    for link in component.active_links(variable, *state) {
                        child.p_false[link.finding] *= link.inhibition;
                    }
                    for factor in &component.factors_of[variable] {
                        child.evaluate(effects, *factor);
                    }
                }
                child.sum(effects);
                child
            })
            .collect()
    }

    /// Puts down every set with none and with one of the open causes that weighs more than
    /// `min_log_weight`.
    pub(super) fn list(
        &self,
        effects: &Effects<'_>,
        min_log_weight: f64,
        sets: &mut WeightedSetsBuilder,
    ) {
        let member = |variable: usize, state: usize| {
            let variable = &effects.component.variables[variable];
            Member::of(variable, variable.states[state])
        };
        let states = self.decided.iter().enumerate();
        let decided: Vec<Member> =
            states.filter_map(|(variable, state)| member(variable, (*state)?)).collect();
        let unexplained = self.ruled_out.iter().filter(|out| **out).count();
        if unexplained == 0 && self.log_none > min_log_weight {
            sets.push(decided.iter().copied(), self.log_none);
        }
        let explains = self.explains(effects);
        for (variable, states) in self.open(effects) {
            for (index, state) in states.enumerate().skip(1) {
                let log_weight = self.log_none + self.log_ratios[state];
                if log_weight > min_log_weight && explains[state] == Some(unexplained) {
                    sets.push(decided.iter().copied().chain(member(variable, index)), log_weight);
                }
            }
        }
    }

    /// For each state how many factors it explains that nothing explains without it; none where it
    /// rules out another, or is impossible.
    fn explains(&self, effects: &Effects<'_>) -> Vec<Option<usize>> {
        let mut explains: Vec<Option<usize>> =
            effects.priors.iter().map(|prior| (*prior > 0.0).then_some(0)).collect();
        for (factor, is_ruled_out) in self.ruled_out.iter().enumerate() {
            for effect in effects.on(factor) {
                if self.rules_out[effect.class] {
                    explains[effect.state] = None;
                } else if *is_ruled_out {
                    explains[effect.state] = explains[effect.state].map(|count| count + 1);
                }
            }
        }
        explains
    }

    /// The value of a factor with none of the open causes, and the effect of each of them alone.
    fn evaluate(&mut self, effects: &Effects<'_>, factor: usize) {
        let own = &effects.component.factors[factor];
        let p_false = &self.p_false[own.findings.clone()];
        let value = own.value_at(p_false);
        self.ruled_out[factor] = value <= 0.0;
        self.log_values[factor] = value.max(VALUE_FLOOR).ln();
        self.interactions[factor] = interaction(own, p_false);
        let terms = own.terms_at(p_false);
        let mut with = vec![0.0; p_false.len()];
        for class in effects.classes_by_factor[factor].clone() {
            let inhibitions = &effects.classes[class];
            for ((with, p_false), inhibition) in with.iter_mut().zip(p_false).zip(inhibitions) {
                *with = p_false * inhibition;
            }
            let value = own.value_at(&with);
            self.rules_out[class] = value <= 0.0;
            self.log_effects[class] = value.max(VALUE_FLOOR).ln() - self.log_values[factor];
            let influence = ((-self.log_effects[class]).exp() - 1.0).abs();
            self.influences[class] = influence.hypot(variation(&terms, &own.terms_at(&with)));
        }
    }

    /// Sums over the open causes as if none interacted with the others, and says what pairs of them
    /// would change in that.
    fn sum(&mut self, effects: &Effects<'_>) {
        self.log_ratios.clone_from(&effects.log_ratios);
        for effect in &effects.all {
            self.log_ratios[effect.state] += self.log_effects[effect.class];
        }
        self.log_none = self.log_decided + self.log_values.iter().sum::<f64>();
        let mut log_open = 0.0;
        for (variable, states) in effects.states_of.iter().enumerate() {
            let marginals = &mut self.marginals[states.clone()];
            if let Some(state) = self.decided[variable] {
                marginals.fill(0.0);
                marginals[state] = 1.0;
                continue;
            }
            self.log_none += effects.log_never[variable];
            log_open += softmax(&self.log_ratios[states.clone()], marginals);
        }
        self.log_sum = self.log_none + log_open;
        self.estimate_error(effects);
        if self.is_impossible(effects) {
            (self.log_sum, self.error, self.split_on) = (f64::NEG_INFINITY, 0.0, None);
        }
    }

    fn estimate_error(&mut self, effects: &Effects<'_>) {
        let mut error = 0.0;
        let mut blame = vec![0.0; effects.states_of.len()];
        // By how much each variable is expected to change the value of the factor.
        let mut expected: Vec<(usize, f64)> = Vec::new();
        for (factor, interaction) in self.interactions.iter().enumerate() {
            expected.clear();
            for effect in effects.on(factor) {
                let marginal = self.marginals[effect.state];
                if marginal <= 0.0 || self.decided[effect.variable].is_some() {
                    continue;
                }
                let influence = marginal * self.influences[effect.class];
                match expected.last_mut().filter(|(variable, _)| *variable == effect.variable) {
                    Some((_, sum)) => *sum += influence,
                    None => expected.push((effect.variable, influence)),
                }
            }
            let sum: f64 = expected.iter().map(|(_, influence)| influence).sum();
            for (variable, influence) in &expected {
                let own = interaction * influence * (sum - influence);
                blame[*variable] += own;
                error += own / 2.0;
            }
        }
        self.error = error.min(1.0);
        let worst = (0..blame.len()).max_by(|a, b| blame[*a].total_cmp(&blame[*b]));
        self.split_on = worst.filter(|variable| blame[*variable] > 0.0);
    }

    /// Draws a set of open causes, as if none interacted: the variables away from "never present",
    /// with the places of their states.
    pub(super) fn draw(
        &self,
        effects: &Effects<'_>,
        rng: &mut Xoshiro256PlusPlus,
        drawn: &mut Vec<usize>,
    ) {
        drawn.clear();
        for (_, states) in self.open(effects) {
            let mut left = rng.random::<f64>();
            left -= self.marginals[states.start];
            if left < 0.0 {
                continue;
            }
            for state in states.start + 1..states.end {
                left -= self.marginals[state];
                if left < 0.0 || state + 1 == states.end {
                    drawn.push(state);
                    break;
                }
            }
        }
    }

    /// The weight of the set with these open causes over the weight it was drawn with.
    pub(super) fn weight_over_proposal(&self, effects: &Effects<'_>, drawn: &[usize]) -> f64 {
        let mut touched: Vec<(usize, usize)> =
            drawn.iter().flat_map(|state| effects.of_state[*state].iter().copied()).collect();
        touched.sort_unstable();
        let mut unexplained = self.ruled_out.iter().filter(|out| **out).count();
        let mut log_ratio = 0.0;
        let mut p_false: Vec<f64> = Vec::new();
        for own in touched.chunk_by(|a, b| a.0 == b.0) {
            let factor = own[0].0;
            let known = &effects.component.factors[factor];
            if let [(_, class)] = own {
                if self.rules_out[*class] {
                    return 0.0;
                }
                unexplained -= usize::from(self.ruled_out[factor]);
                continue;
            }
            p_false.clear();
            p_false.extend_from_slice(&self.p_false[known.findings.clone()]);
            let mut alone = self.log_values[factor];
            for (_, class) in own {
                alone += self.log_effects[*class];
                for (p_false, inhibition) in p_false.iter_mut().zip(&effects.classes[*class]) {
                    *p_false *= inhibition;
                }
            }
            let value = known.value_at(&p_false);
            if value <= 0.0 {
                return 0.0;
            }
            unexplained -= usize::from(self.ruled_out[factor]);
            log_ratio += value.ln() - alone;
        }
        if unexplained > 0 { 0.0 } else { log_ratio.exp() }
    }

    /// Calls with the place of each variable's state where the open ones drawn are present.
    pub(super) fn each_state(
        &self,
        effects: &Effects<'_>,
        drawn: &[usize],
        mut call: impl FnMut(usize),
    ) {
        let mut drawn = drawn.iter().copied().peekable();
        for (variable, states) in effects.states_of.iter().enumerate() {
            let state = match self.decided[variable] {
                Some(state) => states.start + state,
                None => drawn.next_if(|state| states.contains(state)).unwrap_or(states.start),
            };
            call(state);
        }
    }

    /// Whether no state of the open causes fits the evidence: some factor is ruled out, and with all
    /// of them present it still is.
    fn is_impossible(&self, effects: &Effects<'_>) -> bool {
        let is_open = |variable: usize| self.decided[variable].is_none();
        let with_all = |finding| self.p_false[finding] * effects.joint_inhibition(finding, is_open);
        (0..self.ruled_out.len()).filter(|factor| self.ruled_out[*factor]).any(|factor| {
            let factor = &effects.component.factors[factor];
            let all: Vec<f64> = factor.findings.clone().map(with_all).collect();
            !factor.can_fit(&self.p_false[factor.findings.clone()], &all)
        })
    }

    /// The open variables and the places of their states.
    fn open<'e>(
        &'e self,
        effects: &'e Effects<'_>,
    ) -> impl Iterator<Item = (usize, Range<usize>)> + 'e {
        let variables = effects.states_of.iter().cloned().enumerate();
        variables.filter(|(variable, _)| self.decided[*variable].is_none())
    }
}

/// Probabilities from logarithms of ratios to the first of them, whose own ratio is taken as 1; the
/// logarithm of the sum of the ratios.
fn softmax(log_ratios: &[f64], probabilities: &mut [f64]) -> f64 {
    let top = log_ratios.iter().skip(1).copied().fold(0.0, f64::max);
    let first = (-top).exp();
    let mut total = first;
    for (probability, log_ratio) in probabilities.iter_mut().zip(log_ratios).skip(1) {
        *probability = (log_ratio - top).exp();
        total += *probability;
    }
    probabilities[0] = first;
    probabilities.iter_mut().for_each(|probability| *probability /= total);
    top + total.ln()
}

/// How much the joint effect of two causes on a factor differs from the product of their effects, as a
/// share of `(1/a - 1)·(1/b - 1)` where each alone multiplies the value by a and b.
///
/// With a value of `f = p + q·x`, x being what the causes leave of the finding's probability of being
/// false, that share is `p / q` exactly. Of a group only its size is known, which is about 1.
fn interaction(factor: &ComponentFactor, p_false: &[f64]) -> f64 {
    let (Some((yes, no)), Some(p_false)) = (factor.single(), p_false.first()) else { return 1.0 };
    let slope = (no - yes) * p_false;
    if slope == 0.0 { 0.0 } else { (yes / slope).abs() }
}

/// How far what a cause multiplies each term of a sum by scatters over the terms, as a share of what it
/// multiplies the sum by (coefficient of variation, the terms counting by their shares); 0 for one term.
///
/// Within a term two causes multiply, by `a` and `b`; over the terms together they don't. The sum with both
/// differs from the product of their effects by the covariance of `a` and `b`, at most the product of
/// their deviations (Cauchy and Schwarz). So two causes that only together lift a sum over what it is
/// with the answers off are seen to interact, though neither does much alone.
fn variation(without: &[f64], with: &[f64]) -> f64 {
    let (sum, sum_with): (f64, f64) = (without.iter().sum(), with.iter().sum());
    if without.len() < 2 || sum <= 0.0 || sum_with <= 0.0 {
        return 0.0;
    }
    let times = sum_with / sum;
    let least = LEAST_TERM * sum;
    let squares = without.iter().zip(with).map(|(without, with)| {
        let term = without.max(least);
        let off = with / term / times - 1.0;
        term / sum * off * off
    });
    squares.sum::<f64>().sqrt()
}
