//! In which order the sweep takes the causes, and what it has to carry meanwhile.
//!
//! Evidence on one finding is carried from its first cause to its last as one axis; a group needs to
//! know which of its causes were there, an axis for each of them in its round. The table has 2 to the
//! number of open axes, so the order matters more than anything else.

use super::component::Part;

/// What the sweep carries from one cause to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    /// Whether the finding of this clue has come about yet.
    Come {
        /// Index of the clue.
        clue: usize,
    },
    /// Whether this variable's cause was there in this round.
    There {
        /// Index of the variable.
        variable: usize,
        /// The round.
        round: usize,
    },
}

/// The axes each clue and each variable need.
pub(super) struct Needs {
    /// Clues of one finding, by variable.
    pub(super) singles: Vec<Vec<usize>>,
    /// Clues of several findings, by variable.
    pub(super) groups: Vec<Vec<usize>>,
    /// Variables of each clue.
    pub(super) variables_of: Vec<Vec<usize>>,
    round_of: Vec<usize>,
}

impl Needs {
    pub(super) fn new(part: &Part) -> Self {
        let count = part.variables.len();
        let mut needs = Self {
            singles: vec![Vec::new(); count],
            groups: vec![Vec::new(); count],
            variables_of: vec![Vec::new(); part.clues.len()],
            round_of: part.clues.iter().map(|clue| clue.round).collect(),
        };
        for (variable, clues) in part.clues_of.iter().enumerate() {
            for clue in clues {
                let kind = if part.clues[*clue].single().is_some() {
                    &mut needs.singles
                } else {
                    &mut needs.groups
                };
                kind[variable].push(*clue);
                needs.variables_of[*clue].push(variable);
            }
        }
        needs
    }

    /// The rounds in which some group needs to know whether the variable was there.
    pub(super) fn rounds(&self, variable: usize) -> Vec<usize> {
        let mut rounds: Vec<usize> =
            self.groups[variable].iter().map(|clue| self.round_of[*clue]).collect();
        rounds.sort_unstable();
        rounds.dedup();
        rounds
    }

    fn clues(&self, variable: usize) -> impl Iterator<Item = usize> {
        self.singles[variable].iter().chain(&self.groups[variable]).copied()
    }
}

/// An order of the variables.
pub(super) struct Order {
    pub(super) variables: Vec<usize>,
    /// Sum over the steps of the table's size, which the cost of the sweep goes with.
    cost: f64,
}

/// How many starting points to try.
const STARTS: usize = 12;

/// The cheapest order among several greedy ones; none where all of them have more than `widest` axes
/// open at once.
pub(super) fn order(needs: &Needs, widest: usize) -> Option<Order> {
    let count = needs.singles.len();
    let step = (count / STARTS).max(1);
    let mut best: Option<Order> = None;
    for start in (0..count).step_by(step) {
        let dearest = best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        best = Walk::new(needs).run(start, widest, dearest).or(best);
    }
    best
}

/// One greedy walk: next comes the cause that opens least and closes most.
struct Walk<'a> {
    needs: &'a Needs,
    /// How many variables of each clue are still to come.
    to_come: Vec<usize>,
    taken: Vec<bool>,
    open: Vec<Axis>,
    order: Order,
}

impl<'a> Walk<'a> {
    fn new(needs: &'a Needs) -> Self {
        Self {
            needs,
            to_come: needs.variables_of.iter().map(Vec::len).collect(),
            taken: vec![false; needs.singles.len()],
            open: Vec::new(),
            order: Order { variables: Vec::new(), cost: 0.0 },
        }
    }

    /// Nothing as soon as it gets wider than `widest` or no cheaper than `dearest`.
    fn run(mut self, start: usize, widest: usize, dearest: f64) -> Option<Order> {
        let mut next = Some(start);
        while let Some(variable) = next {
            if self.take(variable) > widest || self.order.cost >= dearest {
                return None;
            }
            next = self.next();
        }
        Some(self.order)
    }

    /// Takes a variable; how many axes are open then.
    fn take(&mut self, variable: usize) -> usize {
        self.taken[variable] = true;
        self.order.variables.push(variable);
        for clue in &self.needs.singles[variable] {
            if !self.is_open(*clue) {
                self.open.push(Axis::Come { clue: *clue });
            }
        }
        self.open.extend(
            self.needs.rounds(variable).into_iter().map(|round| Axis::There { variable, round }),
        );
        let open = self.open.len();
        self.order.cost += (open as f64).exp2();
        for clue in self.needs.clues(variable) {
            self.to_come[clue] -= 1;
        }
        let (needs, to_come) = (self.needs, &self.to_come);
        self.open.retain(|axis| is_needed(needs, to_come, *axis));
        open
    }

    fn is_open(&self, clue: usize) -> bool {
        self.to_come[clue] < self.needs.variables_of[clue].len()
    }

    fn next(&self) -> Option<usize> {
        let free = || (0..self.taken.len()).filter(|v| !self.taken[*v]);
        let near = free().filter(|v| self.needs.clues(*v).any(|clue| self.is_open(clue)));
        near.min_by_key(|v| self.burden(*v)).or_else(|| free().min_by_key(|v| self.burden(*v)))
    }

    /// Axes opened less axes closed, then how far the nearest clue is from being closed.
    fn burden(&self, variable: usize) -> (isize, usize) {
        let mut change = self.needs.rounds(variable).len() as isize;
        let mut nearest = usize::MAX;
        for clue in &self.needs.singles[variable] {
            change += isize::from(!self.is_open(*clue)) - isize::from(self.to_come[*clue] == 1);
        }
        for clue in &self.needs.groups[variable] {
            if self.to_come[*clue] == 1 {
                change -= self.needs.variables_of[*clue].len() as isize;
            }
        }
        for clue in self.needs.clues(variable).filter(|clue| self.is_open(*clue)) {
            nearest = nearest.min(self.to_come[clue]);
        }
        (change, nearest)
    }
}

/// Whether an axis is still of use, with so many variables of each clue to come.
pub(super) fn is_needed(needs: &Needs, to_come: &[usize], axis: Axis) -> bool {
    match axis {
        Axis::Come { clue } => to_come[clue] > 0,
        Axis::There { variable, round } => needs.groups[variable]
            .iter()
            .any(|clue| needs.round_of[*clue] == round && to_come[*clue] > 0),
    }
}
