//! Some causes decided and the others open: the sum over all states of the open ones, taken as if none
//! of them heeded the others, and how far wrong that may be.

use std::ops::Range as Span;

use super::component::{Clue, Part};
use super::weighted_sets::{Draft, Member};

/// Least value of a clue for choosing where to look on: a set that leaves some evidence wholly
/// unexplained must stay a stepping stone to one that explains it.
const STEPPING_STONE: f64 = 1e-30;

/// One cause in one state other than "never there", as it bears on one clue.
struct Swing {
    variable: usize,
    /// Place of the state in the list of all states of all variables.
    state: usize,
    /// Which of the clue's shapes it has.
    shape: usize,
}

/// What a cause leaves of the chance of being false of each finding of a clue. Many causes have the
/// same shape: they bring the same finding as strongly.
#[derive(PartialEq)]
struct Shape {
    keeps: Vec<f64>,
}

/// What is the same for all branches of a part.
pub(super) struct Frame<'p> {
    part: &'p Part,
    /// Grouped by clue.
    swings: Vec<Swing>,
    swings_of: Vec<Span<usize>>,
    /// Grouped by clue.
    shapes: Vec<Shape>,
    shapes_of: Vec<Span<usize>>,
    /// The chance of each state of each variable, one variable after the other.
    chances: Vec<f64>,
    states_of: Vec<Span<usize>>,
    /// Logarithms: each state's chance over that of its variable's "never there", and that chance.
    odds: Vec<f64>,
    never: Vec<f64>,
    /// For each spot the variables that can bear on it, and what they leave of it.
    bearing: Vec<Vec<(usize, f64)>>,
}

impl<'p> Frame<'p> {
    pub(super) fn new(part: &'p Part) -> Self {
        let (mut chances, mut states_of) = (Vec::new(), Vec::new());
        let mut bearing = vec![Vec::new(); part.quiet.len()];
        for (index, variable) in part.variables.iter().enumerate() {
            let from = chances.len();
            chances.extend(variable.states.iter().map(|state| state.weight));
            states_of.push(from..chances.len());
            let possible = variable.states.iter().filter(|state| state.weight > 0.0);
            let last = possible.map(|state| state.leaves).max().unwrap_or(0);
            for touch in part.touches[index].iter().filter(|touch| touch.round < last) {
                bearing[touch.spot].push((index, touch.keep));
            }
        }
        let never = |states: &Span<usize>| chances[states.start].max(f64::MIN_POSITIVE);
        let over_never = |states: &Span<usize>| {
            let never = never(states);
            chances[states.clone()].iter().map(move |chance| (chance / never).ln())
        };
        let odds = states_of.iter().flat_map(over_never).collect();
        let never = states_of.iter().map(|states| never(states).ln()).collect();
        let mut frame = Self {
            odds,
            never,
            part,
            swings: Vec::new(),
            swings_of: Vec::new(),
            shapes: Vec::new(),
            shapes_of: Vec::new(),
            chances,
            states_of,
            bearing,
        };
        for clue in 0..part.clues.len() {
            let (from, shapes_from) = (frame.swings.len(), frame.shapes.len());
            for variable in 0..part.variables.len() {
                frame.add_swings(clue, variable, shapes_from);
            }
            frame.swings_of.push(from..frame.swings.len());
            frame.shapes_of.push(shapes_from..frame.shapes.len());
        }
        frame
    }

    fn add_swings(&mut self, clue: usize, variable: usize, shapes_from: usize) {
        let part = self.part;
        if !part.clues_of[variable].contains(&clue) {
            return;
        }
        let spots = &part.clues[clue].spots;
        let states = part.variables[variable].states.iter().enumerate().skip(1);
        for (index, state) in states.filter(|(_, state)| state.weight > 0.0) {
            let mut keeps = vec![1.0; spots.len()];
            let touches = part.touches[variable].iter().filter(|t| t.round < state.leaves);
            for touch in touches.filter(|touch| spots.contains(&touch.spot)) {
                keeps[touch.spot - spots.start] *= touch.keep;
            }
            let shape = Shape { keeps };
            let known = self.shapes[shapes_from..].iter().position(|other| *other == shape);
            let place = known.map_or(self.shapes.len(), |place| shapes_from + place);
            if known.is_none() {
                self.shapes.push(shape);
            }
            let state = self.states_of[variable].start + index;
            self.swings.push(Swing { variable, state, shape: place });
        }
    }
}

/// The causes decided so far, and what is known of the sum over the others.
#[derive(Clone)]
pub(super) struct Branch {
    /// For each variable its state, where it is decided.
    decided: Vec<Option<usize>>,
    /// Logarithm of the weights of the decided states.
    log_decided: f64,
    /// Chance of each spot being false with none of the open causes there.
    now: Vec<f64>,
    /// For each clue, the logarithm of its value with none of the open causes there.
    values: Vec<f64>,
    /// Whether it rules that set out.
    ruled_out: Vec<bool>,
    /// Logarithm of what one open cause of each shape multiplies the value by.
    alone: Vec<f64>,
    /// By how much the value with it differs from that without, over the former.
    bears: Vec<f64>,
    /// Whether that rules it out.
    rules_out: Vec<bool>,
    /// For each clue, how much two open causes that both bear on it are taken wrongly.
    heeds: Vec<f64>,
    /// Logarithm of the weight of the set with none of the open causes.
    own: f64,
    /// For each state, the logarithm of the weight of the set with that cause alone over `own`; and
    /// its chance, where no open cause heeds the others.
    ratios: Vec<f64>,
    pub(super) shares: Vec<f64>,
    /// Logarithm of the sum as it is taken.
    pub(super) log: f64,
    /// Share of it that may be wrong, as far as pairs of open causes show.
    pub(super) doubt: f64,
    /// The open variable that brings the most doubt.
    pub(super) split: Option<usize>,
}

impl Branch {
    /// All causes open.
    pub(super) fn root(frame: &Frame<'_>) -> Self {
        let part = frame.part;
        let mut root = Self {
            decided: vec![None; part.variables.len()],
            log_decided: 0.0,
            now: part.quiet.clone(),
            values: vec![0.0; part.clues.len()],
            ruled_out: vec![false; part.clues.len()],
            alone: vec![0.0; frame.shapes.len()],
            bears: vec![0.0; frame.shapes.len()],
            rules_out: vec![false; frame.shapes.len()],
            heeds: vec![0.0; part.clues.len()],
            own: 0.0,
            ratios: vec![0.0; frame.chances.len()],
            shares: vec![0.0; frame.chances.len()],
            log: 0.0,
            doubt: 0.0,
            split: None,
        };
        (0..part.clues.len()).for_each(|clue| root.look_at(frame, clue));
        root.weigh(frame);
        root
    }

    /// The same with one more variable decided, a branch for each state it can be in.
    pub(super) fn split_at(self, frame: &Frame<'_>, variable: usize) -> Vec<Self> {
        let part = frame.part;
        let states = part.variables[variable].states.iter().enumerate();
        let possible = states.filter(|(_, state)| state.weight > 0.0);
        possible
            .map(|(index, state)| {
                let mut child = self.clone();
                child.decided[variable] = Some(index);
                child.log_decided += state.weight.ln();
                if index > 0 {
                    for touch in part.touches[variable].iter().filter(|t| t.round < state.leaves) {
                        child.now[touch.spot] *= touch.keep;
                    }
                    for clue in &part.clues_of[variable] {
                        child.look_at(frame, *clue);
                    }
                }
                child.weigh(frame);
                child
            })
            .collect()
    }

    /// Puts down every set with none and with one of the open causes that weighs more than `least`,
    /// the logarithm of a weight.
    pub(super) fn list(&self, frame: &Frame<'_>, least: f64, draft: &mut Draft) {
        let member = |variable: usize, state: usize| {
            let variable = &frame.part.variables[variable];
            Member { cause: variable.cause, leaves: variable.states[state].leaves }
        };
        let decided: Vec<Member> = (0..self.decided.len())
            .filter_map(|variable| {
                Some(member(variable, self.decided[variable].filter(|state| *state > 0)?))
            })
            .collect();
        let unexplained = self.ruled_out.iter().filter(|out| **out).count();
        if unexplained == 0 && self.own > least {
            draft.push(decided.iter().copied(), self.own);
        }
        let explains = self.explains(frame);
        for (variable, states) in self.open(frame) {
            for (index, state) in states.enumerate().skip(1) {
                let log = self.own + self.ratios[state];
                if log > least && explains[state] == Some(unexplained) {
                    let one = std::iter::once(member(variable, index));
                    draft.push(decided.iter().copied().chain(one), log);
                }
            }
        }
    }

    /// For each state how many clues it explains that nothing explains without it; none where it rules
    /// out another, or is impossible.
    fn explains(&self, frame: &Frame<'_>) -> Vec<Option<usize>> {
        let mut explains: Vec<Option<usize>> =
            frame.chances.iter().map(|chance| (*chance > 0.0).then_some(0)).collect();
        for (clue, span) in frame.swings_of.iter().enumerate() {
            for swing in &frame.swings[span.clone()] {
                if self.rules_out[swing.shape] {
                    explains[swing.state] = None;
                } else if self.ruled_out[clue] {
                    explains[swing.state] = explains[swing.state].map(|count| count + 1);
                }
            }
        }
        explains
    }

    /// What a clue comes to from here, and with each of the open causes alone.
    fn look_at(&mut self, frame: &Frame<'_>, clue: usize) {
        let own = &frame.part.clues[clue];
        let now = &self.now[own.spots.clone()];
        let value = own.value_at(now);
        self.ruled_out[clue] = value <= 0.0;
        self.values[clue] = value.max(STEPPING_STONE).ln();
        self.heeds[clue] = heeds(own, now);
        let mut with = vec![0.0; now.len()];
        for shape in frame.shapes_of[clue].clone() {
            for ((with, now), keep) in with.iter_mut().zip(now).zip(&frame.shapes[shape].keeps) {
                *with = now * keep;
            }
            let value = own.value_at(&with);
            self.rules_out[shape] = value <= 0.0;
            self.alone[shape] = value.max(STEPPING_STONE).ln() - self.values[clue];
            self.bears[shape] = ((-self.alone[shape]).exp() - 1.0).abs();
        }
    }

    /// Sums over the open causes as if none heeded the others, and says what pairs of them would
    /// change in that.
    fn weigh(&mut self, frame: &Frame<'_>) {
        self.ratios.clone_from(&frame.odds);
        for swing in &frame.swings {
            self.ratios[swing.state] += self.alone[swing.shape];
        }
        self.own = self.log_decided + self.values.iter().sum::<f64>();
        let mut open = 0.0;
        for (variable, states) in frame.states_of.iter().enumerate() {
            let shares = &mut self.shares[states.clone()];
            if let Some(state) = self.decided[variable] {
                shares.fill(0.0);
                shares[state] = 1.0;
                continue;
            }
            self.own += frame.never[variable];
            let ratios = &self.ratios[states.clone()];
            let most = ratios.iter().skip(1).copied().fold(0.0, f64::max);
            let never = (-most).exp();
            let mut total = never;
            for (share, ratio) in shares.iter_mut().zip(ratios).skip(1) {
                *share = (ratio - most).exp();
                total += *share;
            }
            shares[0] = never;
            shares.iter_mut().for_each(|share| *share /= total);
            open += most + total.ln();
        }
        self.log = self.own + open;
        self.look_for_doubt(frame);
        if self.is_dead(frame) {
            (self.log, self.doubt, self.split) = (f64::NEG_INFINITY, 0.0, None);
        }
    }

    fn look_for_doubt(&mut self, frame: &Frame<'_>) {
        let mut doubt = 0.0;
        let mut blame = vec![0.0; frame.states_of.len()];
        // By how much each variable is expected to bear on the clue.
        let mut bears: Vec<(usize, f64)> = Vec::new();
        for (clue, span) in frame.swings_of.iter().enumerate() {
            bears.clear();
            for swing in &frame.swings[span.clone()] {
                let share = self.shares[swing.state];
                if share <= 0.0 || self.decided[swing.variable].is_some() {
                    continue;
                }
                let bearing = share * self.bears[swing.shape];
                match bears.last_mut().filter(|(variable, _)| *variable == swing.variable) {
                    Some((_, sum)) => *sum += bearing,
                    None => bears.push((swing.variable, bearing)),
                }
            }
            let sum: f64 = bears.iter().map(|(_, bearing)| bearing).sum();
            for (variable, bearing) in &bears {
                let own = self.heeds[clue] * bearing * (sum - bearing);
                blame[*variable] += own;
                doubt += own / 2.0;
            }
        }
        self.doubt = doubt.min(1.0);
        let worst = (0..blame.len()).max_by(|a, b| blame[*a].total_cmp(&blame[*b]));
        self.split = worst.filter(|variable| blame[*variable] > 0.0);
    }

    /// Whether no state of the open causes fits the evidence: some clue is ruled out, and with all of
    /// them there it still is.
    fn is_dead(&self, frame: &Frame<'_>) -> bool {
        (0..self.ruled_out.len()).filter(|clue| self.ruled_out[*clue]).any(|clue| {
            let clue = &frame.part.clues[clue];
            let all: Vec<f64> = clue.spots.clone().map(|spot| self.with_all(frame, spot)).collect();
            !clue.can_fit(&self.now[clue.spots.clone()], &all)
        })
    }

    /// Chance of a spot being false with all open causes there.
    fn with_all(&self, frame: &Frame<'_>, spot: usize) -> f64 {
        let open = frame.bearing[spot].iter().filter(|(other, _)| self.decided[*other].is_none());
        self.now[spot] * open.map(|(_, keep)| keep).product::<f64>()
    }

    /// The open variables and the places of their states.
    fn open<'f>(&'f self, frame: &'f Frame<'_>) -> impl Iterator<Item = (usize, Span<usize>)> + 'f {
        let variables = frame.states_of.iter().cloned().enumerate();
        variables.filter(|(variable, _)| self.decided[*variable].is_none())
    }
}

/// How much the joint effect of two causes on a clue differs from the product of their effects, as a
/// share of `(1/a - 1)·(1/b - 1)` where each alone multiplies the value by a and b.
///
/// With a value of `f = p + q·x`, x being what the causes leave of the finding's chance of being
/// false, that share is `p / q` exactly. Of a group only its size is known, which is about 1.
fn heeds(clue: &Clue, now: &[f64]) -> f64 {
    let (Some((yes, no)), Some(now)) = (clue.single(), now.first()) else { return 1.0 };
    let slope = (no - yes) * now;
    if slope == 0.0 { 0.0 } else { (yes / slope).abs() }
}
