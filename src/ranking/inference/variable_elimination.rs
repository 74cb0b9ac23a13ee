//! The sum over all sets of causes of a part, without listing them.
//!
//! The sweep takes one cause after another and carries, in place of the set so far, only what the
//! evidence still to come needs to know of it: for a single finding whether it has come about. A
//! cause there brings each of its findings by its own chance; a finding comes about where any of its
//! causes (or the leak) brings it, which is what a noisy-OR means. All terms are positive, so the sum
//! keeps its digits where alternating sums over the findings seen to be true (Heckerman's quickscore,
//! 1989) lose them. The way back gives every cause's chance at the cost of a second sweep.

use super::component::{Part, Variable};
use super::elimination_order::{Axis, Needs, is_needed};
use super::table;

/// The sum and the chance of each variable's states.
pub(super) struct Swept {
    /// Natural logarithm of the sum over all sets.
    pub(super) log_total: f64,
    /// For each variable of the part the chance of each of its states.
    pub(super) states: Vec<Vec<f64>>,
}

/// Sums over all sets, taking the variables in the given order; nothing where no set has a weight.
pub(super) fn sweep(part: &Part, needs: &Needs, order: &[usize]) -> Option<Swept> {
    let mut forth = Forth::new(part, needs);
    for variable in order {
        forth.take(*variable)?;
    }
    let log_total = forth.log_total;
    Some(Swept { log_total, states: back(part, forth) })
}

/// A single finding's axis as one variable moves along it.
struct Move {
    axis: usize,
    round: usize,
    keep: f64,
}

/// How an axis ends, or a group is weighed.
enum Ending {
    Close { axis: usize, no: f64, yes: f64 },
    Weigh { axes: Vec<usize>, values: Vec<f64> },
}

/// One variable's step, kept for the way back.
struct Step {
    variable: usize,
    /// Chance of each newly opened finding by its leak.
    opened: Vec<f64>,
    moves: Vec<Move>,
    rounds: Vec<usize>,
    endings: Vec<Ending>,
    /// The table as the variable met it.
    before: Vec<f64>,
}

struct Forth<'a> {
    part: &'a Part,
    needs: &'a Needs,
    to_come: Vec<usize>,
    axes: Vec<Axis>,
    table: Vec<f64>,
    log_total: f64,
    steps: Vec<Step>,
}

impl<'a> Forth<'a> {
    fn new(part: &'a Part, needs: &'a Needs) -> Self {
        Self {
            part,
            needs,
            to_come: needs.variables_of.iter().map(Vec::len).collect(),
            axes: Vec::new(),
            table: vec![1.0],
            log_total: 0.0,
            steps: Vec::new(),
        }
    }

    fn take(&mut self, index: usize) -> Option<()> {
        let opened = self.open(index);
        let moves = self.moves(index);
        let rounds = self.needs.rounds(index);
        let before = self.table.clone();
        self.table = spread(&before, &self.part.variables[index], &moves, &rounds);
        self.axes.extend(rounds.iter().map(|round| Axis::There { variable: index, round: *round }));
        let endings = self.end(index);
        let total = table::scale(&mut self.table);
        if total <= 0.0 {
            return None;
        }
        self.log_total += total.ln();
        self.steps.push(Step { variable: index, opened, moves, rounds, endings, before });
        Some(())
    }

    fn open(&mut self, index: usize) -> Vec<f64> {
        let mut opened = Vec::new();
        for clue in &self.needs.singles[index] {
            if !self.axes.contains(&Axis::Come { clue: *clue }) {
                let leak = 1.0 - self.part.quiet[self.part.clues[*clue].spots.start];
                table::open(&mut self.table, leak);
                self.axes.push(Axis::Come { clue: *clue });
                opened.push(leak);
            }
        }
        opened
    }

    fn moves(&self, index: usize) -> Vec<Move> {
        let mut moves = Vec::new();
        for (axis, open) in self.axes.iter().enumerate() {
            if let Axis::Come { clue } = open {
                let spot = self.part.clues[*clue].spots.start;
                let own = self.part.touches[index].iter().filter(|touch| touch.spot == spot);
                moves.extend(own.map(|touch| Move { axis, round: touch.round, keep: touch.keep }));
            }
        }
        moves
    }

    fn end(&mut self, index: usize) -> Vec<Ending> {
        let mut endings = Vec::new();
        for clue in &self.needs.singles[index] {
            self.to_come[*clue] -= 1;
        }
        for clue in &self.needs.groups[index] {
            self.to_come[*clue] -= 1;
            if self.to_come[*clue] == 0 {
                let (axes, values) = self.group(*clue);
                table::weigh(&mut self.table, &axes, &values);
                endings.push(Ending::Weigh { axes, values });
            }
        }
        for axis in (0..self.axes.len()).rev() {
            if !is_needed(self.needs, &self.to_come, self.axes[axis]) {
                let (no, yes) = self.weights(self.axes[axis]);
                self.table = table::close(&self.table, axis, no, yes);
                self.axes.remove(axis);
                endings.push(Ending::Close { axis, no, yes });
            }
        }
        endings
    }

    /// The weights of an axis' two sides as it closes.
    fn weights(&self, axis: Axis) -> (f64, f64) {
        match axis {
            Axis::Come { clue } => {
                self.part.clues[clue].single().map_or((1.0, 1.0), |(yes, no)| (no, yes))
            }
            Axis::There { .. } => (1.0, 1.0),
        }
    }

    /// The axes a group looks at, and its value for each combination of their sides.
    fn group(&self, clue: usize) -> (Vec<usize>, Vec<f64>) {
        let group = &self.part.clues[clue];
        let mut axes = Vec::new();
        let mut combinations = vec![self.part.quiet.clone()];
        for variable in &self.needs.variables_of[clue] {
            let wanted = Axis::There { variable: *variable, round: group.round };
            axes.extend(self.axes.iter().position(|axis| *axis == wanted));
            for index in 0..combinations.len() {
                let mut there = combinations[index].clone();
                for touch in
                    self.part.touches[*variable].iter().filter(|t| group.spots.contains(&t.spot))
                {
                    there[touch.spot] *= touch.keep;
                }
                combinations.push(there);
            }
        }
        (axes, combinations.iter().map(|chance_no| group.value(chance_no)).collect())
    }
}

/// The table after a variable: its states added up, split by whether it was there where a group asks.
fn spread(before: &[f64], variable: &Variable, moves: &[Move], rounds: &[usize]) -> Vec<f64> {
    let size = before.len();
    let mut after = vec![0.0; size << rounds.len()];
    for state in variable.states.iter().filter(|state| state.weight > 0.0) {
        let slice = &mut after[size * corner(rounds, state.leaves)..][..size];
        let here: Vec<&Move> = moves.iter().filter(|m| m.round < state.leaves).collect();
        if here.is_empty() {
            table::add(slice, before, state.weight);
            continue;
        }
        let mut branch = before.to_vec();
        for step in here {
            table::activate(&mut branch, step.axis, step.keep);
        }
        table::add(slice, &branch, state.weight);
    }
    after
}

/// Which corner of the new axes a state goes to: bit by bit, whether it was there in the round.
fn corner(rounds: &[usize], leaves: usize) -> usize {
    rounds
        .iter()
        .enumerate()
        .fold(0, |corner, (bit, round)| corner | usize::from(*round < leaves) << bit)
}

/// The way back: what the rest of the evidence says of each state of each variable.
fn back(part: &Part, forth: Forth<'_>) -> Vec<Vec<f64>> {
    let mut states = vec![Vec::new(); part.variables.len()];
    let mut table = vec![1.0];
    for step in forth.steps.iter().rev() {
        for ending in step.endings.iter().rev() {
            match ending {
                Ending::Close { axis, no, yes } => {
                    table = table::close_back(&table, *axis, *no, *yes)
                }
                Ending::Weigh { axes, values } => table::weigh(&mut table, axes, values),
            }
        }
        let (chances, before) = gather(&table, &part.variables[step.variable], step);
        states[step.variable] = chances;
        table = before;
        for leak in step.opened.iter().rev() {
            table::open_back(&mut table, *leak);
        }
        table::scale(&mut table);
    }
    states
}

/// Mirror of [`spread`]: the chance of each state, and the table as it stands before the variable.
fn gather(after: &[f64], variable: &Variable, step: &Step) -> (Vec<f64>, Vec<f64>) {
    let size = step.before.len();
    let mut before = vec![0.0; size];
    let mut chances = Vec::with_capacity(variable.states.len());
    for state in &variable.states {
        let mut branch = after[size * corner(&step.rounds, state.leaves)..][..size].to_vec();
        for step in step.moves.iter().rev().filter(|m| m.round < state.leaves) {
            table::activate_back(&mut branch, step.axis, step.keep);
        }
        chances.push(state.weight * table::dot(&step.before, &branch));
        table::add(&mut before, &branch, state.weight);
    }
    table::scale(&mut chances);
    (chances, before)
}
