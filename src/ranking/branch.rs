//! Some causes decided and the others open: the ends of the sum over all states of the open ones.

use std::ops::Range as Span;

use super::part::Part;
use super::reach::{Range, Reach};

/// Logarithm that stands for nothing where widths are compared.
const DEEP: f64 = -60.0;

/// One cause in one state other than "never there", as it bears on one clue.
struct Swing {
    variable: usize,
    /// Place of the state in the list of all states of all variables.
    state: usize,
    /// Its chance before the clues of the part.
    chance: f64,
    /// Where what it leaves of each finding's chance of being false stands in `keeps`.
    keeps: Span<usize>,
}

/// What is the same for all branches of a part.
pub(super) struct Frame<'p> {
    part: &'p Part,
    /// Grouped by clue.
    swings: Vec<Swing>,
    swings_of: Vec<Span<usize>>,
    keeps: Vec<f64>,
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
            keeps: Vec::new(),
            chances,
            states_of,
            bearing,
        };
        for clue in 0..part.clues.len() {
            let from = frame.swings.len();
            (0..part.variables.len()).for_each(|variable| frame.add_swings(clue, variable));
            frame.swings_of.push(from..frame.swings.len());
        }
        frame
    }

    fn add_swings(&mut self, clue: usize, variable: usize) {
        let part = self.part;
        if !part.clues_of[variable].contains(&clue) {
            return;
        }
        let spots = &part.clues[clue].spots;
        let states = part.variables[variable].states.iter().enumerate().skip(1);
        for (index, state) in states.filter(|(_, state)| state.weight > 0.0) {
            let from = self.keeps.len();
            self.keeps.resize(from + spots.len(), 1.0);
            let touches = part.touches[variable].iter().filter(|t| t.round < state.leaves);
            for touch in touches.filter(|touch| spots.contains(&touch.spot)) {
                self.keeps[from + touch.spot - spots.start] *= touch.keep;
            }
            self.swings.push(Swing {
                variable,
                state: self.states_of[variable].start + index,
                chance: state.weight,
                keeps: from..self.keeps.len(),
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
    /// How far each clue can go, and what each swing can change in it.
    reaches: Vec<Range>,
    changes: Vec<Range>,
    /// Logarithms of the ends of the sum.
    pub(super) log: Range,
    /// Chances of the states of all variables under the lower end.
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
            reaches: vec![nothing; part.clues.len()],
            changes: vec![nothing; frame.swings.len()],
            log: nothing,
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
        self.reaches[clue] = reach.value();
        let mut room = Vec::new();
        for index in frame.swings_of[clue].clone() {
            let swing = &frame.swings[index];
            if self.decided[swing.variable].is_none() {
                self.changes[index] = reach.change(&frame.keeps[swing.keeps.clone()], &mut room);
            }
        }
    }

    fn weigh(&mut self, frame: &Frame<'_>) {
        let high = End::new(frame, self, Side::High);
        let low = End::new(frame, self, Side::Low);
        let mut widens = vec![0.0; frame.states_of.len()];
        for (clue, (low, high)) in low.constants.iter().zip(&high.constants).enumerate() {
            let width = high.max(DEEP) - low.max(DEEP);
            let open = || {
                let swings = &frame.swings[frame.swings_of[clue].clone()];
                swings.iter().filter(|swing| self.decided[swing.variable].is_none())
            };
            let total: f64 = open().map(|swing| swing.chance).sum();
            for swing in open().filter(|_| width > 0.0) {
                widens[swing.variable] += width * swing.chance / total;
            }
        }
        let mut log = Range { low: low.constants.iter().sum(), high: high.constants.iter().sum() };
        for (variable, states) in frame.states_of.iter().enumerate() {
            let shares = &mut self.shares[states.clone()];
            if let Some(state) = self.decided[variable] {
                shares.fill(0.0);
                shares[state] = 1.0;
                continue;
            }
            let (least, most) = (low.sums[variable], high.sums[variable]);
            let (log_least, log_most) = (least.ln(), most.ln());
            log = Range { low: log.low + log_least, high: log.high + log_most };
            widens[variable] += log_most.max(DEEP) - log_least.max(DEEP);
            let chances = frame.chances[states.clone()].iter().zip(&low.factors[states.clone()]);
            for (share, (chance, factor)) in shares.iter_mut().zip(chances) {
                *share = chance * factor / least.max(f64::MIN_POSITIVE);
            }
        }
        self.log = Range { low: self.log_decided + log.low, high: self.log_decided + log.high };
        self.split = (0..widens.len())
            .filter(|variable| self.decided[*variable].is_none() && widens[*variable] > 0.0)
            .max_by(|a, b| widens[*a].total_cmp(&widens[*b]));
    }
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
}

impl End {
    fn new(frame: &Frame<'_>, branch: &Branch, side: Side) -> Self {
        let constants = branch.reaches.iter().map(|reach| side.of(*reach).ln()).collect();
        let factors = vec![1.0; frame.chances.len()];
        let mut end = Self { constants, factors, sums: vec![0.0; frame.states_of.len()] };
        let is_open = |swing: &Swing| branch.decided[swing.variable].is_none();
        for (swing, change) in frame.swings.iter().zip(&branch.changes) {
            if is_open(swing) {
                end.factors[swing.state] *= side.split(*change).0;
            }
        }
        for (variable, states) in frame.states_of.iter().enumerate() {
            let chances = frame.chances[states.clone()].iter().zip(&end.factors[states.clone()]);
            end.sums[variable] = chances.map(|(chance, factor)| chance * factor).sum();
        }
        for (clue, span) in frame.swings_of.iter().enumerate() {
            let own = || {
                let swings = frame.swings[span.clone()].iter();
                swings.zip(&branch.changes[span.clone()]).filter(|(swing, _)| is_open(swing))
            };
            let value = frame.part.clues[clue].value(&branch.now).ln();
            if end.turn(side, value - end.constants[clue], own) {
                end.constants[clue] = value;
            }
        }
        end
    }

    /// Lets the changes of a clue count in full, where with the constant's `gain` that brings the end
    /// nearer.
    fn turn<'s, S>(&mut self, side: Side, gain: f64, swings: impl Fn() -> S) -> bool
    where
        S: Iterator<Item = (&'s Swing, &'s Range)>,
    {
        let mut times = 1.0;
        // A variable with several states changes its sum several times; the last one counts.
        let mut sums: Vec<(usize, f64)> = Vec::new();
        for (swing, change) in swings() {
            let rest = side.split(*change).1;
            let added = swing.chance * self.factors[swing.state] * (rest - 1.0);
            match sums.last_mut().filter(|(variable, _)| *variable == swing.variable) {
                Some((_, sum)) => *sum += added,
                None => sums.push((swing.variable, self.sums[swing.variable] + added)),
            }
        }
        for (variable, sum) in &sums {
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
            for (variable, sum) in sums {
                self.sums[variable] = sum.max(0.0);
            }
        }
        nearer
    }
}
