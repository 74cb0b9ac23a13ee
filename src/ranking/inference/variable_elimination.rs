//! The sum over all sets of causes of a component, without listing them: variable elimination (Zhang &
//! Poole, "Exploiting causal independence in Bayesian network inference", *Journal of Artificial
//! Intelligence Research* 5, 1996; Koller & Friedman 2009, ch. 9).
//!
//! One cause after another is summed out. What is carried, in place of the set so far, is only what the
//! evidence still to come needs to know of it: for a single finding whether it is true by the causes so
//! far. Taking a noisy-OR apart like this, cause by cause, is Zhang & Poole's use of causal
//! independence; the table grows with the findings that are open, not with the causes of one. All terms
//! are positive, so the sum keeps its digits where alternating sums over the findings seen to be true
//! (Heckerman's quickscore, 1989) lose them. A backward pass gives every cause's probability at the
//! cost of a second sum (forward-backward, as in a clique tree; Koller & Friedman, ch. 10).

use super::component::Component;
use super::elimination_order::{Axis, Scope, ToCome};
use super::table;
use super::variable::{State, Variable};

/// The sum and the probability of each variable's states.
pub(super) struct Marginals {
    /// Natural logarithm of the sum over all sets.
    pub(super) log_total: f64,
    /// For each variable of the component the probability of each of its states.
    pub(super) states: Vec<Vec<f64>>,
}

/// Sums over all sets, taking the variables in the given order; nothing where no set has a weight.
pub(super) fn eliminate(
    component: &Component,
    scope: &Scope,
    order: &[usize],
) -> Option<Marginals> {
    let mut forward = Forward::new(component, scope);
    for variable in order {
        forward.take(*variable)?;
    }
    let Forward { log_total, steps, .. } = forward;
    Some(Marginals { log_total, states: backward(component, &steps) })
}

/// What the variable of a step does to the axis of a finding.
struct AxisLink {
    axis: usize,
    round: usize,
    inhibition: f64,
}

impl AxisLink {
    fn is_active(&self, state: State) -> bool {
        state.is_present_in(self.round)
    }
}

/// What is done once a variable was the last of a factor.
enum Ending {
    SumOut { axis: usize, no: f64, yes: f64 },
    Multiply { axes: Vec<usize>, values: Vec<f64> },
}

/// One variable's step, kept for the backward pass.
struct Step {
    variable: usize,
    /// The findings whose axis was added: axis, and inhibition of the leak, which is like one more
    /// cause that is always present.
    leaks: Vec<(usize, f64)>,
    links: Vec<AxisLink>,
    /// The rounds of the axes of the cause itself.
    rounds: Vec<usize>,
    endings: Vec<Ending>,
    /// The table before the variable.
    before: Vec<f64>,
}

struct Forward<'a> {
    component: &'a Component,
    scope: &'a Scope,
    to_come: ToCome,
    axes: Vec<Axis>,
    table: Vec<f64>,
    log_total: f64,
    steps: Vec<Step>,
}

impl<'a> Forward<'a> {
    fn new(component: &'a Component, scope: &'a Scope) -> Self {
        Self {
            component,
            scope,
            to_come: ToCome::all(scope),
            axes: Vec::new(),
            table: vec![1.0],
            log_total: 0.0,
            steps: Vec::new(),
        }
    }

    fn take(&mut self, variable: usize) -> Option<()> {
        let leaks = self.add_findings(variable);
        let links = self.links(variable);
        let rounds = self.scope.rounds[variable].clone();
        let before = self.table.clone();
        self.table = sum_states(&before, &self.component.variables[variable], &links, &rounds);
        self.axes.extend(rounds.iter().map(|round| Axis::Cause { variable, round: *round }));
        let endings = self.end(variable);
        let total = table::normalise(&mut self.table);
        if total <= 0.0 {
            return None;
        }
        self.log_total += total.ln();
        self.steps.push(Step { variable, leaks, links, rounds, endings, before });
        Some(())
    }

    /// Adds an axis for each finding that the variable is the first cause of; their leaks.
    fn add_findings(&mut self, variable: usize) -> Vec<(usize, f64)> {
        let mut leaks = Vec::new();
        for factor in &self.scope.singles[variable] {
            if !self.axes.contains(&Axis::Finding { factor: *factor }) {
                let (axis, inhibition) =
                    (self.axes.len(), self.component.p_false_by_leak[self.finding_of(*factor)]);
                table::add_axis(&mut self.table);
                table::noisy_or(&mut self.table, axis, inhibition);
                self.axes.push(Axis::Finding { factor: *factor });
                leaks.push((axis, inhibition));
            }
        }
        leaks
    }

    /// The finding of a factor on one finding.
    fn finding_of(&self, factor: usize) -> usize {
        self.component.factors[factor].findings.start
    }

    fn links(&self, variable: usize) -> Vec<AxisLink> {
        let mut links = Vec::new();
        for (axis, what) in self.axes.iter().enumerate() {
            if let Axis::Finding { factor } = what {
                let finding = self.finding_of(*factor);
                let all = self.component.links[variable].iter();
                let own = all.filter(|link| link.finding == finding);
                links.extend(own.map(|link| AxisLink {
                    axis,
                    round: link.round,
                    inhibition: link.inhibition,
                }));
            }
        }
        links
    }

    fn end(&mut self, variable: usize) -> Vec<Ending> {
        let mut endings = Vec::new();
        for factor in &self.scope.singles[variable] {
            self.to_come.take(*factor);
        }
        for factor in &self.scope.groups[variable] {
            if self.to_come.take(*factor) {
                let (axes, values) = self.group_values(*factor);
                table::multiply(&mut self.table, &axes, &values);
                endings.push(Ending::Multiply { axes, values });
            }
        }
        for axis in (0..self.axes.len()).rev() {
            if !self.to_come.needs(self.scope, self.axes[axis]) {
                let (no, yes) = self.weights(self.axes[axis]);
                self.table = table::sum_out(&self.table, axis, no, yes);
                self.axes.remove(axis);
                endings.push(Ending::SumOut { axis, no, yes });
            }
        }
        endings
    }

    /// The weights of an axis' two sides as it is summed out.
    fn weights(&self, axis: Axis) -> (f64, f64) {
        match axis {
            Axis::Finding { factor } => {
                self.component.factors[factor].single().map_or((1.0, 1.0), |(yes, no)| (no, yes))
            }
            Axis::Cause { .. } => (1.0, 1.0),
        }
    }

    /// The axes a group looks at, and its value for each combination of their sides.
    fn group_values(&self, factor: usize) -> (Vec<usize>, Vec<f64>) {
        let group = &self.component.factors[factor];
        let mut axes = Vec::new();
        let mut combinations = vec![self.component.p_false_by_leak.clone()];
        for variable in &self.scope.variables_of[factor] {
            let wanted = Axis::Cause { variable: *variable, round: group.round };
            axes.extend(self.axes.iter().position(|axis| *axis == wanted));
            let links = || self.component.links[*variable].iter();
            for index in 0..combinations.len() {
                let mut present = combinations[index].clone();
                for link in links().filter(|link| group.findings.contains(&link.finding)) {
                    present[link.finding] *= link.inhibition;
                }
                combinations.push(present);
            }
        }
        (axes, combinations.iter().map(|p_false| group.value(p_false)).collect())
    }
}

/// The table after a variable: its states added up, split by whether it was present where a group
/// asks.
fn sum_states(
    before: &[f64],
    variable: &Variable,
    links: &[AxisLink],
    rounds: &[usize],
) -> Vec<f64> {
    let size = before.len();
    let mut after = vec![0.0; size << rounds.len()];
    for (_, state) in variable.possible_states() {
        let slice = &mut after[size * corner(rounds, *state)..][..size];
        let active: Vec<&AxisLink> = links.iter().filter(|link| link.is_active(*state)).collect();
        if active.is_empty() {
            table::add_share(slice, before, state.weight);
            continue;
        }
        let mut table = before.to_vec();
        for link in active {
            table::noisy_or(&mut table, link.axis, link.inhibition);
        }
        table::add_share(slice, &table, state.weight);
    }
    after
}

/// Which corner of the cause's axes a state goes to: bit by bit, whether it was present in the round.
fn corner(rounds: &[usize], state: State) -> usize {
    rounds
        .iter()
        .enumerate()
        .fold(0, |corner, (bit, round)| corner | usize::from(state.is_present_in(*round)) << bit)
}

/// What the rest of the evidence says of each state of each variable.
fn backward(component: &Component, steps: &[Step]) -> Vec<Vec<f64>> {
    let mut states = vec![Vec::new(); component.variables.len()];
    let mut table = vec![1.0];
    for step in steps.iter().rev() {
        for ending in step.endings.iter().rev() {
            match ending {
                Ending::SumOut { axis, no, yes } => {
                    table = table::sum_out_backward(&table, *axis, *no, *yes);
                }
                Ending::Multiply { axes, values } => table::multiply(&mut table, axes, values),
            }
        }
        let (probabilities, before) =
            sum_states_backward(&table, &component.variables[step.variable], step);
        states[step.variable] = probabilities;
        table = before;
        for (axis, inhibition) in step.leaks.iter().rev() {
            table::noisy_or_backward(&mut table, *axis, *inhibition);
            table::add_axis_backward(&mut table);
        }
        table::normalise(&mut table);
    }
    states
}

/// Transpose of [`sum_states`]: the probability of each state, and the table before the variable.
fn sum_states_backward(after: &[f64], variable: &Variable, step: &Step) -> (Vec<f64>, Vec<f64>) {
    let size = step.before.len();
    let mut before = vec![0.0; size];
    let mut probabilities = Vec::with_capacity(variable.states.len());
    for state in &variable.states {
        let mut table = after[size * corner(&step.rounds, *state)..][..size].to_vec();
        for link in step.links.iter().rev().filter(|link| link.is_active(*state)) {
            table::noisy_or_backward(&mut table, link.axis, link.inhibition);
        }
        probabilities.push(state.weight * table::dot(&step.before, &table));
        table::add_share(&mut before, &table, state.weight);
    }
    table::normalise(&mut probabilities);
    (probabilities, before)
}
