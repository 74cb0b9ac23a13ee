//! Causes' probabilities with one piece of evidence otherwise, from the branches of the full sum: what
//! the evidence does to each branch, and to each open cause in it, is taken off, and what stands in its
//! place is put on. Nothing is split or drawn again.

use std::collections::HashMap;

use super::branch::Branch;
use super::component::Component;
use super::effects::Effects;
use super::variable::State;
use crate::ranking::model::{Factor, Finding};

/// Least value of a factor: what rules a branch out still has a logarithm.
const VALUE_FLOOR: f64 = 1e-30;

/// A component with the branches that its sum was made of.
#[derive(Debug, Clone)]
pub(in crate::ranking) struct Branched {
    pub(super) component: Component,
    pub(super) branches: Vec<Branch>,
}

/// Evidence that is taken off, and what stands in its place.
pub(in crate::ranking) struct Change<'a> {
    pub(in crate::ranking) round: usize,
    pub(in crate::ranking) old: (&'a Factor, Vec<&'a Finding>),
    pub(in crate::ranking) new: Option<(&'a Factor, Vec<&'a Finding>)>,
}

/// Branches made ready for many changes.
pub(in crate::ranking) struct Changing<'b> {
    effects: Effects<'b>,
    branches: &'b [Branch],
    now: usize,
    /// Each cause's probability as the branches have it.
    before: Vec<f64>,
}

/// A cause that has a say in the evidence.
struct Linked {
    variable: usize,
    /// Place of what it leaves of each finding's probability of being false.
    class: usize,
}

/// What causes leave of each finding's probability of being false, of the old evidence and of the new:
/// many causes do just the same.
struct Class {
    old: Vec<f64>,
    new: Vec<f64>,
}

/// What a change does to a branch: to its sum with none of the open causes, as a logarithm, and with one
/// open cause of each class more, as a factor on that.
struct Shift {
    log_none: f64,
    times: Vec<f64>,
}

impl<'b> Changing<'b> {
    pub(in crate::ranking) fn new(branched: &'b Branched, now: usize) -> Self {
        let effects = Effects::new(&branched.component);
        let mut changing = Self { effects, branches: &branched.branches, now, before: Vec::new() };
        let same =
            changing.branches.iter().map(|branch| (branch.log_sum, branch.marginals.clone()));
        changing.before = changing.sums(same.collect());
        changing
    }

    /// Each cause of the component with its probability before and after the change, as the branches
    /// have them; nothing where no branch has a weight left.
    pub(in crate::ranking) fn changed(&self, change: &Change<'_>) -> Vec<(usize, f64, f64)> {
        let (linked, classes) = self.linked(change);
        // Branches that decided alike of the causes with a say are shifted alike.
        let mut shifts: HashMap<Vec<usize>, Shift> = HashMap::new();
        let branch = |branch: &Branch| {
            let acting = linked.iter().filter(|one| {
                branch.decided[one.variable].is_some_and(|state| self.acts(one, state, change))
            });
            let mut acting: Vec<usize> = acting.map(|one| one.class).collect();
            acting.sort_unstable();
            let known = shifts.entry(acting);
            let shift = known.or_insert_with_key(|acting| Shift::of(change, &classes, acting));
            self.shifted(branch, change, &linked, shift)
        };
        let after = self.sums(self.branches.iter().map(branch).collect());
        let causes = self.effects.component.causes().zip(&self.before).zip(after);
        causes.map(|((cause, before), after)| (cause, *before, after)).collect()
    }

    fn linked(&self, change: &Change<'_>) -> (Vec<Linked>, Vec<Class>) {
        let inhibitions = |findings: &[&Finding], cause: usize| -> Vec<f64> {
            let own = |finding: &&Finding| {
                let link = finding.links.iter().find(|link| link.cause == cause);
                link.map_or(1.0, |link| link.inhibition())
            };
            findings.iter().map(own).collect()
        };
        let new = change.new.as_ref().map_or(&[][..], |(_, findings)| findings);
        let (mut linked, mut classes): (Vec<Linked>, Vec<Class>) = (Vec::new(), Vec::new());
        for (variable, cause) in self.effects.component.causes().enumerate() {
            let own =
                Class { old: inhibitions(&change.old.1, cause), new: inhibitions(new, cause) };
            if own.old.iter().chain(&own.new).all(|left| *left >= 1.0) {
                continue;
            }
            let known =
                classes.iter().position(|class| class.old == own.old && class.new == own.new);
            let class = known.unwrap_or(classes.len());
            if class == classes.len() {
                classes.push(own);
            }
            linked.push(Linked { variable, class });
        }
        (linked, classes)
    }

    /// The logarithm of a branch's sum and its marginals after the change.
    fn shifted(
        &self,
        branch: &Branch,
        change: &Change<'_>,
        linked: &[Linked],
        shift: &Shift,
    ) -> (f64, Vec<f64>) {
        let mut log_sum = branch.log_sum + shift.log_none;
        let mut marginals = branch.marginals.clone();
        for one in linked.iter().filter(|one| branch.decided[one.variable].is_none()) {
            let states = self.effects.states_of[one.variable].clone();
            let mut total = 0.0;
            for (index, marginal) in marginals[states.clone()].iter_mut().enumerate() {
                if self.acts(one, index, change) {
                    *marginal *= shift.times[one.class];
                }
                total += *marginal;
            }
            marginals[states].iter_mut().for_each(|marginal| *marginal /= total);
            log_sum += total.ln();
        }
        (log_sum, marginals)
    }

    /// Whether a variable in this state has a say in the evidence.
    fn acts(&self, linked: &Linked, state: usize, change: &Change<'_>) -> bool {
        let state: State = self.effects.component.variables[linked.variable].states[state];
        state.is_present_in(change.round)
    }

    /// Each cause's probability of being present now, over branches with these sums and marginals.
    fn sums(&self, branches: Vec<(f64, Vec<f64>)>) -> Vec<f64> {
        let scale = branches.iter().map(|(log_sum, _)| *log_sum).fold(f64::NEG_INFINITY, f64::max);
        let mut sums = vec![0.0; self.effects.priors.len()];
        let mut total = 0.0;
        for (log_sum, marginals) in &branches {
            let share = (log_sum - scale).exp();
            total += share;
            for (sum, marginal) in sums.iter_mut().zip(marginals) {
                *sum += share * marginal;
            }
        }
        let variables = self.effects.component.variables.iter().zip(&self.effects.states_of);
        let present = variables.map(|(variable, states)| {
            let states = variable.states.iter().zip(&sums[states.clone()]);
            let here = states.filter(|(state, _)| state.is_present_in(self.now));
            here.map(|(_, sum)| sum).sum::<f64>() / total
        });
        present.collect()
    }
}

impl Shift {
    /// With causes of these classes decided to be there.
    fn of(change: &Change<'_>, classes: &[Class], acting: &[usize]) -> Self {
        let leaks = |findings: &[&Finding]| -> Vec<f64> {
            findings.iter().map(|finding| finding.p_false_by_leak()).collect()
        };
        let mut old = leaks(&change.old.1);
        let mut new = change.new.as_ref().map_or_else(Vec::new, |(_, findings)| leaks(findings));
        for class in acting {
            multiply(&mut old, &classes[*class].old);
            multiply(&mut new, &classes[*class].new);
        }
        let log_change = |old: &[f64], new: &[f64]| {
            let now = change.new.as_ref().map_or(1.0, |(factor, _)| factor.value(new));
            now.max(VALUE_FLOOR).ln() - change.old.0.value(old).max(VALUE_FLOOR).ln()
        };
        let log_none = log_change(&old, &new);
        let with = |class: &Class| {
            let (mut old, mut new) = (old.clone(), new.clone());
            multiply(&mut old, &class.old);
            multiply(&mut new, &class.new);
            (log_change(&old, &new) - log_none).exp()
        };
        Self { log_none, times: classes.iter().map(with).collect() }
    }
}

fn multiply(p_false: &mut [f64], inhibitions: &[f64]) {
    p_false.iter_mut().zip(inhibitions).for_each(|(p_false, inhibition)| *p_false *= inhibition);
}
