//! Some causes decided and the others open: the ends of the sum over all states of the open ones.

use std::ops::Range as Span;

use super::part::Part;
use super::reach::{Range, Reach};

/// One cause in one state other than "never there", as it bears on one clue.
struct Swing {
    variable: usize,
    /// Place of the state in the list of all states of all variables.
    state: usize,
    /// Its chance before the clues of the part.
    chance: f64,
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
        let mut frame = Self {
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
            self.swings.push(Swing {
                variable,
                state: self.states_of[variable].start + index,
                chance: state.weight,
                shape: place,
            });
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
    /// Chance of each spot being false with none of the open causes there, and with all of them.
    now: Vec<f64>,
    all: Vec<f64>,
    /// Logarithms, by clue: its value with none of the open causes there, and how far it can go.
    values: Vec<f64>,
    reaches: Vec<Range>,
    /// What a cause of each shape can change, and what it does change with no other open one there.
    changes: Vec<Range>,
    alone: Vec<f64>,
    /// Logarithms of the ends of the sum.
    pub(super) log: Range,
    /// Logarithm of what the sum is taken for, between its ends.
    pub(super) best: f64,
    /// Chances of the states of all variables by that.
    pub(super) shares: Vec<f64>,
    /// The open variable that widens the bracket most; none where its ends meet.
    pub(super) split: Option<usize>,
}

impl Branch {
    /// All causes open.
    pub(super) fn root(frame: &Frame<'_>) -> Self {
        let part = frame.part;
        let nothing = Range { low: 0.0, high: 0.0 };
        let mut root = Self {
            decided: vec![None; part.variables.len()],
            log_decided: 0.0,
            now: part.quiet.clone(),
            all: part.quiet.clone(),
            values: vec![0.0; part.clues.len()],
            reaches: vec![nothing; part.clues.len()],
            changes: vec![nothing; frame.shapes.len()],
            alone: vec![0.0; frame.shapes.len()],
            log: nothing,
            best: 0.0,
            shares: vec![0.0; frame.chances.len()],
            split: None,
        };
        (0..part.quiet.len()).for_each(|spot| root.open_up(frame, spot));
        (0..part.clues.len()).for_each(|clue| root.look_at(frame, clue));
        root.weigh(frame);
        root
    }

    /// The ends of the sum, over what `scale` is the logarithm of.
    pub(super) fn sums(&self, scale: f64) -> Range {
        Range { low: (self.log.low - scale).exp(), high: (self.log.high - scale).exp() }
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
                for touch in part.touches[variable].iter().filter(|t| t.round < state.leaves) {
                    child.now[touch.spot] *= touch.keep;
                }
                for touch in &part.touches[variable] {
                    child.open_up(frame, touch.spot);
                }
                for clue in &part.clues_of[variable] {
                    child.look_at(frame, *clue);
                }
                child.weigh(frame);
                // The ends of a part of the sets are within those of all of them.
                child.log.high = child.log.high.min(self.log.high);
                child
            })
            .collect()
    }

    /// A spot with all open causes there.
    fn open_up(&mut self, frame: &Frame<'_>, spot: usize) {
        let open = frame.bearing[spot].iter().filter(|(other, _)| self.decided[*other].is_none());
        self.all[spot] = self.now[spot] * open.map(|(_, keep)| keep).product::<f64>();
    }

    /// How far a clue can go from here.
    fn look_at(&mut self, frame: &Frame<'_>, clue: usize) {
        let own = &frame.part.clues[clue];
        let reach = Reach::new(own, &self.now[own.spots.clone()], &self.all[own.spots.clone()]);
        let value = reach.value();
        self.values[clue] = own.value(&self.now).ln();
        self.reaches[clue] = Range { low: value.low.ln(), high: value.high.ln() };
        let mut room = Vec::new();
        for shape in frame.shapes_of[clue].clone() {
            let keeps = &frame.shapes[shape].keeps;
            self.changes[shape] = reach.change(keeps, &mut room);
            self.alone[shape] = reach.alone(keeps);
        }
    }

    /// Brackets the sum. The sets with none and with one of the open causes count with their own
    /// weights; only those with more are bracketed.
    fn weigh(&mut self, frame: &Frame<'_>) {
        let high = End::new(frame, self, Side::High);
        let low = End::new(frame, self, Side::Low);
        let none_there: f64 =
            self.open(frame).map(|(_, states)| frame.chances[states.start].ln()).sum();
        let own = self.values.iter().sum::<f64>() + none_there;
        let alone = self.alone(frame);
        // Where no set without the open causes has a weight, nothing is known of single ones either.
        let known = own > f64::NEG_INFINITY && alone.iter().all(|times| times.is_finite());
        // Everything is taken over this, so that small sums are not lost.
        let scale = if known { own.max(high.log) } else { high.log };
        if scale == f64::NEG_INFINITY {
            // No set fits what was seen.
            self.log = Range { low: scale, high: scale };
            (self.best, self.split) = (scale, None);
            return;
        }
        let own = if known { (own - scale).exp() } else { 0.0 };
        let few = own * (1.0 + alone.iter().sum::<f64>());
        let known_of = |end: &End| {
            if !known {
                return 0.0;
            }
            let times = self.open(frame).flat_map(|(_, states)| {
                let never = frame.chances[states.start];
                states.skip(1).map(move |state| frame.chances[state] * end.factors[state] / never)
            });
            (end.log_constant + none_there - scale).exp() * (1.0 + times.sum::<f64>())
        };
        let rest = |end: &End| ((end.log - scale).exp() - known_of(end)).max(0.0);
        // Rounding may pass them by each other where they meet.
        let least = rest(&low);
        let rest = Range { low: least, high: rest(&high).max(least) };
        let sums = Range { low: few + rest.low, high: few + rest.high };
        let place = self.log_decided + scale;
        self.log = Range { low: place + sums.low.ln(), high: place + sums.high.ln() };
        // Between its ends the rest is taken for what it were if no open cause heeded the others.
        let heedless: f64 =
            self.open(frame).map(|(_, states)| (1.0 + total(&alone[states])).ln()).sum();
        let heedless_rest = own * (heedless.exp() - 1.0 - alone.iter().sum::<f64>());
        let taken = if known { heedless_rest.max(rest.low).min(rest.high) } else { rest.low };
        self.best = place + (few + taken).ln();
        let times = if heedless_rest > 0.0 { taken / heedless_rest } else { 0.0 };
        let more = |end: &End, variable: usize, state: usize| {
            let never = frame.chances[frame.states_of[variable].start];
            let weight = frame.chances[state] * end.factors[state];
            let others = end.log - end.sums[variable].max(f64::MIN_POSITIVE).ln();
            let with = (others - scale).exp() * weight;
            let single = (end.log_constant + none_there - scale).exp() * weight / never;
            (if known { with - single } else { with }).max(0.0)
        };
        let mut shares = vec![0.0; self.shares.len()];
        let mut widest = (0.0, None);
        for (variable, states) in frame.states_of.iter().enumerate() {
            if let Some(state) = self.decided[variable] {
                shares[states.start + state] = 1.0;
                continue;
            }
            let others = (heedless - (1.0 + total(&alone[states.clone()])).ln()).exp() - 1.0;
            let mut width = 0.0;
            for state in states.clone().skip(1) {
                let (least, most) = (more(&low, variable, state), more(&high, variable, state));
                width += most - least;
                let heedless = own * alone[state] * others * times;
                let (single, rest) = if known {
                    (own * alone[state], heedless.max(least).min(most))
                } else {
                    (0.0, least)
                };
                shares[state] = (single + rest) / (few + taken).max(f64::MIN_POSITIVE);
            }
            let there = total(&shares[states.clone()]);
            shares[states.start] = (1.0 - there).max(0.0);
            if width > widest.0 {
                widest = (width, Some(variable));
            }
        }
        self.shares = shares;
        self.split = widest.1;
    }

    /// The open variables and the places of their states.
    fn open<'f>(&'f self, frame: &'f Frame<'_>) -> impl Iterator<Item = (usize, Span<usize>)> + 'f {
        let variables = frame.states_of.iter().cloned().enumerate();
        variables.filter(|(variable, _)| self.decided[*variable].is_none())
    }

    /// For each state of an open variable, the weight of the set with that cause alone over the weight
    /// of the set without it.
    fn alone(&self, frame: &Frame<'_>) -> Vec<f64> {
        let mut alone = vec![0.0; frame.chances.len()];
        for (_, states) in self.open(frame) {
            let never = frame.chances[states.start];
            for state in states.skip(1) {
                alone[state] = frame.chances[state] / never;
            }
        }
        for swing in &frame.swings {
            if self.decided[swing.variable].is_none() {
                alone[swing.state] *= self.alone[swing.shape];
            }
        }
        alone
    }
}

fn total(values: &[f64]) -> f64 {
    values.iter().sum()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Low,
    High,
}

impl Side {
    fn of(self, range: Range) -> f64 {
        match self {
            Self::Low => range.low,
            Self::High => range.high,
        }
    }

    /// A change cut in two: what it takes back from the furthest a value can go, and the rest of it.
    fn split(self, change: Range) -> (f64, f64) {
        match self {
            Self::Low => (change.low.max(1.0), change.low.min(1.0)),
            Self::High => (change.high.min(1.0), change.high.max(1.0)),
        }
    }
}

/// One end of the bracket: a constant for each clue, and a factor for each state of each variable.
///
/// A clue may enter in two ways: with its value now, times what each open cause may change at most; or
/// with the furthest its value can go, times only what causes take back from there. Which is nearer
/// depends on the other clues, so clues are turned from the second way to the first one by one where
/// that brings the end nearer.
struct End {
    /// Logarithms, by clue.
    constants: Vec<f64>,
    factors: Vec<f64>,
    /// For each variable the sum over its states of chance times factor.
    sums: Vec<f64>,
    /// Logarithms of the product of the constants, and of the whole end.
    log_constant: f64,
    log: f64,
}

impl End {
    fn new(frame: &Frame<'_>, branch: &Branch, side: Side) -> Self {
        let constants = branch.reaches.iter().map(|reach| side.of(*reach)).collect();
        let factors = vec![1.0; frame.chances.len()];
        let sums = vec![0.0; frame.states_of.len()];
        let mut end = Self { constants, factors, sums, log_constant: 0.0, log: 0.0 };
        let is_open = |swing: &Swing| branch.decided[swing.variable].is_none();
        for swing in &frame.swings {
            if is_open(swing) {
                end.factors[swing.state] *= side.split(branch.changes[swing.shape]).0;
            }
        }
        for (variable, states) in frame.states_of.iter().enumerate() {
            let chances = frame.chances[states.clone()].iter().zip(&end.factors[states.clone()]);
            end.sums[variable] = chances.map(|(chance, factor)| chance * factor).sum();
        }
        let mut room = Vec::new();
        for (clue, span) in frame.swings_of.iter().enumerate() {
            let own = || {
                let swings = frame.swings[span.clone()].iter().filter(|swing| is_open(swing));
                swings.map(|swing| (swing, &branch.changes[swing.shape]))
            };
            let value = branch.values[clue];
            if end.turn(side, value - end.constants[clue], own, &mut room) {
                end.constants[clue] = value;
            }
        }
        end.log_constant = end.constants.iter().sum();
        let open = branch.open(frame).map(|(variable, _)| end.sums[variable].ln());
        end.log = end.log_constant + open.sum::<f64>();
        end
    }

    /// Lets the changes of a clue count in full, where with the constant's `gain` that brings the end
    /// nearer; `sums` is room to work in.
    fn turn<'s, S>(
        &mut self,
        side: Side,
        gain: f64,
        swings: impl Fn() -> S,
        sums: &mut Vec<(usize, f64)>,
    ) -> bool
    where
        S: Iterator<Item = (&'s Swing, &'s Range)>,
    {
        let mut times = 1.0;
        // A variable with several states changes its sum several times; the last one counts.
        sums.clear();
        for (swing, change) in swings() {
            let rest = side.split(*change).1;
            let added = swing.chance * self.factors[swing.state] * (rest - 1.0);
            match sums.last_mut().filter(|(variable, _)| *variable == swing.variable) {
                Some((_, sum)) => *sum += added,
                None => sums.push((swing.variable, self.sums[swing.variable] + added)),
            }
        }
        for (variable, sum) in sums.iter() {
            times *= sum / self.sums[*variable].max(f64::MIN_POSITIVE);
        }
        // Nothing times without bound is no number, and brings nothing nearer.
        let gain = gain + f64::ln(times);
        let nearer = match side {
            Side::Low => gain > 0.0,
            Side::High => gain < 0.0,
        };
        if nearer {
            for (swing, change) in swings() {
                self.factors[swing.state] *= side.split(*change).1;
            }
            for (variable, sum) in sums.iter() {
                self.sums[*variable] = sum.max(0.0);
            }
        }
        nearer
    }
}
