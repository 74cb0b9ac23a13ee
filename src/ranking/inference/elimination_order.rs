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
    /// The rounds in which some group needs to know whether the variable was present.
    pub(super) rounds: Vec<Vec<usize>>,
    round_of: Vec<usize>,
}

impl Scope {
    pub(super) fn new(component: &Component) -> Self {
        let count = component.variables.len();
        let mut scope = Self {
            singles: vec![Vec::new(); count],
            groups: vec![Vec::new(); count],
            variables_of: vec![Vec::new(); component.factors.len()],
            rounds: Vec::new(),
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
        let round_of = |factor: &usize| scope.round_of[*factor];
        let rounds = scope.groups.iter().map(|groups| distinct(groups.iter().map(round_of)));
        scope.rounds = rounds.collect();
        scope
    }

    /// How many axes the table has at most in this order.
    pub(super) fn width(&self, order: &[usize]) -> usize {
        let mut greedy = Greedy::new(self);
        order.iter().map(|variable| greedy.take(*variable)).max().unwrap_or(0)
    }

    /// Whether some group has more causes than a table may have axes: each needs one of its own.
    fn has_group_beyond(&self, max_axes: usize) -> bool {
        self.groups.iter().flatten().any(|group| self.variables_of[*group].len() > max_axes)
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
    if scope.has_group_beyond(max_axes) {
        return None;
    }
    let count = scope.singles.len();
    let step = (count / STARTS).max(1);
    let mut best: Option<Order> = None;
    for start in (0..count).step_by(step) {
        let max_cost = best.as_ref().map_or(f64::INFINITY, |best| best.cost);
        best = Greedy::new(scope).order_from(start, max_axes, max_cost).or(best);
    }
    best.map(|best| best.variables)
}

/// What taking a variable next would do to the table.
#[derive(Clone, Copy)]
struct Burden {
    taken: bool,
    /// Whether one of its factors has begun.
    near: bool,
    /// Axes added less axes ended.
    grows: isize,
    /// How many variables the nearest of its factors that have begun still wants.
    nearest: usize,
}

/// One greedy order in the making: next comes the variable that adds fewest axes and ends most, then
/// the one whose nearest factor is nearest to its end.
struct Greedy<'a> {
    scope: &'a Scope,
    to_come: ToCome,
    burdens: Vec<Burden>,
    /// The axes there are: findings that have begun, and for each variable how many of its own.
    findings: usize,
    own: Vec<usize>,
    causes: usize,
    order: Order,
}

impl<'a> Greedy<'a> {
    fn new(scope: &'a Scope) -> Self {
        let count = scope.singles.len();
        let to_come = ToCome::all(scope);
        let burden = |variable: usize| {
            let added = scope.rounds[variable].len() + scope.singles[variable].len();
            Burden { taken: false, near: false, grows: added.cast_signed(), nearest: usize::MAX }
        };
        let mut greedy = Self {
            scope,
            to_come,
            burdens: (0..count).map(burden).collect(),
            findings: 0,
            own: vec![0; count],
            causes: 0,
            order: Order { variables: Vec::with_capacity(count), cost: 0.0 },
        };
        for factor in 0..scope.variables_of.len() {
            greedy.note_last(factor);
        }
        greedy
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
        self.burdens[variable].taken = true;
        self.order.variables.push(variable);
        let begin = |factor: &&usize| !self.has_begun(**factor);
        self.findings += scope.singles[variable].iter().filter(begin).count();
        self.own[variable] = scope.rounds[variable].len();
        self.causes += self.own[variable];
        let axes = self.findings + self.causes;
        #[expect(clippy::cast_precision_loss, reason = "no table has 2 to the 53 axes")]
        let size = (axes as f64).exp2();
        self.order.cost += size;
        for factor in &scope.singles[variable] {
            self.findings -= usize::from(self.note_taken(*factor, true));
        }
        for factor in &scope.groups[variable] {
            if self.note_taken(*factor, false) {
                for ended in &scope.variables_of[*factor] {
                    self.count_own(*ended);
                }
            }
        }
        axes
    }

    /// The axes of a variable that are still of use.
    fn count_own(&mut self, variable: usize) {
        let scope = self.scope;
        let needed =
            |round: &&usize| self.to_come.needs(scope, Axis::Cause { variable, round: **round });
        let left = scope.rounds[variable].iter().filter(needed).count();
        self.causes -= self.own[variable] - left;
        self.own[variable] = left;
    }

    fn has_begun(&self, factor: usize) -> bool {
        self.to_come.0[factor] < self.scope.variables_of[factor].len()
    }

    /// One variable of a factor has been taken; whether it was the last.
    fn note_taken(&mut self, factor: usize, is_single: bool) -> bool {
        let begins = !self.has_begun(factor);
        let is_last = self.to_come.take(factor);
        let left = self.to_come.0[factor];
        for variable in &self.scope.variables_of[factor] {
            let burden = &mut self.burdens[*variable];
            burden.near = true;
            burden.nearest = burden.nearest.min(left);
            burden.grows -= isize::from(begins && is_single);
        }
        self.note_last(factor);
        is_last
    }

    /// Whichever variable is the last of a factor will end it.
    fn note_last(&mut self, factor: usize) {
        if self.to_come.0[factor] != 1 {
            return;
        }
        let variables = &self.scope.variables_of[factor];
        for variable in variables {
            let is_single = self.scope.singles[*variable].contains(&factor);
            let ended = if is_single { 1 } else { variables.len() };
            self.burdens[*variable].grows -= ended.cast_signed();
        }
    }

    fn next(&self) -> Option<usize> {
        let free = self.burdens.iter().enumerate().filter(|(_, burden)| !burden.taken);
        free.min_by_key(|(_, burden)| (!burden.near, burden.grows, burden.nearest))
            .map(|(variable, _)| variable)
    }
}
