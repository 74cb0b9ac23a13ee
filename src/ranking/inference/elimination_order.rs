//! In which order variable elimination takes the causes, and the axes its table has meanwhile.
//!
//! A factor on one finding is carried from its first cause to its last as one axis, the finding; a
//! group of findings needs to know which of its causes were present, an axis for each of them in its
//! round. The table has 2 to the number of its axes, so the order matters more than anything else. The
//! best order is NP-hard to find; greedy ones that grow the table least are good in practice (min-weight
//! and its kin; Koller & Friedman, *Probabilistic Graphical Models*, 2009, §9.4.3), so several are tried
//! and the cheapest is taken.

use super::component::Component;
use crate::ranking::distinct::distinct;

/// An axis of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    /// Whether the finding of this factor is true by the causes taken so far.
    Finding {
        /// Index of the factor.
        factor: usize,
    },
    /// Whether this variable's cause was present in this round.
    Cause {
        /// Index of the variable.
        variable: usize,
        /// The round.
        round: usize,
    },
}

/// The scope of each factor, and the axes that each variable needs.
pub(super) struct Scope {
    /// Factors on one finding, by variable.
    pub(super) singles: Vec<Vec<usize>>,
    /// Factors on several findings, by variable.
    pub(super) groups: Vec<Vec<usize>>,
    /// Variables of each factor.
    pub(super) variables_of: Vec<Vec<usize>>,
    round_of: Vec<usize>,
}

impl Scope {
    pub(super) fn new(component: &Component) -> Self {
        let count = component.variables.len();
        let mut scope = Self {
            singles: vec![Vec::new(); count],
            groups: vec![Vec::new(); count],
            variables_of: vec![Vec::new(); component.factors.len()],
            round_of: component.factors.iter().map(|factor| factor.round).collect(),
        };
        for (variable, factors) in component.factors_of.iter().enumerate() {
            for factor in factors {
                let is_single = component.factors[*factor].single().is_some();
                let kind = if is_single { &mut scope.singles } else { &mut scope.groups };
                kind[variable].push(*factor);
                scope.variables_of[*factor].push(variable);
            }
        }
        scope
    }

    /// The rounds in which some group needs to know whether the variable was present.
    pub(super) fn rounds(&self, variable: usize) -> Vec<usize> {
        distinct(self.groups[variable].iter().map(|factor| self.round_of[*factor]))
    }

    fn factors(&self, variable: usize) -> impl Iterator<Item = usize> {
        self.singles[variable].iter().chain(&self.groups[variable]).copied()
    }
}

/// How many variables of each factor are still to be taken.
#[derive(Clone)]
pub(super) struct ToCome(Vec<usize>);

impl ToCome {
    pub(super) fn all(scope: &Scope) -> Self {
        Self(scope.variables_of.iter().map(Vec::len).collect())
    }

    /// One variable of the factor has been taken; whether it was the last.
    pub(super) fn take(&mut self, factor: usize) -> bool {
        self.0[factor] -= 1;
        self.0[factor] == 0
    }

    /// Whether an axis is still of use.
    pub(super) fn needs(&self, scope: &Scope, axis: Axis) -> bool {
        match axis {
            Axis::Finding { factor } => self.0[factor] > 0,
            Axis::Cause { variable, round } => scope.groups[variable]
                .iter()
                .any(|factor| scope.round_of[*factor] == round && self.0[*factor] > 0),
        }
    }
}

/// An order of the variables.
struct Order {
    variables: Vec<usize>,
    /// Sum over the steps of the table's size, which the cost of elimination goes with.
    cost: f64,
}

/// How many first variables to try.
const STARTS: usize = 12;

/// The cheapest order among several greedy ones; none where all of them need a table of more than
/// `max_axes`.
pub(super) fn elimination_order(scope: &Scope, max_axes: usize) -> Option<Vec<usize>> {
    let count = scope.singles.len();
    let step = (count / STARTS).max(1);
    let mut best: Option<Order> = None;
    for start in (0..count).step_by(step) {
        let max_cost = best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        best = Greedy::new(scope).order_from(start, max_axes, max_cost).or(best);
    }
    best.map(|best| best.variables)
}

/// One greedy order in the making: next comes the variable that adds fewest axes and ends most.
struct Greedy<'a> {
    scope: &'a Scope,
    to_come: ToCome,
    taken: Vec<bool>,
    axes: Vec<Axis>,
    order: Order,
}

impl<'a> Greedy<'a> {
    fn new(scope: &'a Scope) -> Self {
        Self {
            scope,
            to_come: ToCome::all(scope),
            taken: vec![false; scope.singles.len()],
            axes: Vec::new(),
            order: Order { variables: Vec::new(), cost: 0.0 },
        }
    }

    /// Nothing as soon as it has more than `max_axes` or costs no less than `max_cost`.
    fn order_from(mut self, start: usize, max_axes: usize, max_cost: f64) -> Option<Order> {
        let mut next = Some(start);
        while let Some(variable) = next {
            if self.take(variable) > max_axes || self.order.cost >= max_cost {
                return None;
            }
            next = self.next();
        }
        Some(self.order)
    }

    /// Takes a variable; how many axes there are then.
    fn take(&mut self, variable: usize) -> usize {
        let scope = self.scope;
        self.taken[variable] = true;
        self.order.variables.push(variable);
        for factor in &scope.singles[variable] {
            if !self.has_begun(*factor) {
                self.axes.push(Axis::Finding { factor: *factor });
            }
        }
        let rounds = scope.rounds(variable).into_iter();
        self.axes.extend(rounds.map(|round| Axis::Cause { variable, round }));
        let axes = self.axes.len();
        #[expect(clippy::cast_precision_loss, reason = "no table has 2 to the 53 axes")]
        let size = (axes as f64).exp2();
        self.order.cost += size;
        for factor in scope.factors(variable) {
            self.to_come.take(factor);
        }
        let to_come = &self.to_come;
        self.axes.retain(|axis| to_come.needs(scope, *axis));
        axes
    }

    fn has_begun(&self, factor: usize) -> bool {
        self.to_come.0[factor] < self.scope.variables_of[factor].len()
    }

    fn next(&self) -> Option<usize> {
        let free = || (0..self.taken.len()).filter(|variable| !self.taken[*variable]);
        let near = free()
            .filter(|variable| self.scope.factors(*variable).any(|factor| self.has_begun(factor)));
        near.min_by_key(|v| self.burden(*v)).or_else(|| free().min_by_key(|v| self.burden(*v)))
    }

    /// Axes added less axes ended, then how far the nearest factor is from its end.
    fn burden(&self, variable: usize) -> (isize, usize) {
        let to_come = &self.to_come.0;
        let mut added = self.scope.rounds(variable).len();
        let mut ended = 0;
        for factor in &self.scope.singles[variable] {
            added += usize::from(!self.has_begun(*factor));
            ended += usize::from(to_come[*factor] == 1);
        }
        for factor in self.scope.groups[variable].iter().filter(|factor| to_come[**factor] == 1) {
            ended += self.scope.variables_of[*factor].len();
        }
        let begun = self.scope.factors(variable).filter(|factor| self.has_begun(*factor));
        let nearest = begun.map(|factor| to_come[factor]).min().unwrap_or(usize::MAX);
        (added.cast_signed() - ended.cast_signed(), nearest)
    }
}
