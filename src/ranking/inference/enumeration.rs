//! Every set of a small component, by depth-first walk over the states of one variable after another,
//! with each factor applied as soon as its last variable is decided (backtracking: what is ruled out
//! is not walked on from).

use super::component::Component;
use super::weighted_sets::{Member, WeightedSetsBuilder};

/// Lists every assignment with a weight above zero.
pub(super) fn every_set(component: &Component) -> WeightedSetsBuilder {
    let mut walk = Walk {
        component,
        closing: closing(component),
        p_false: component.p_false_by_leak.clone(),
        members: Vec::new(),
        undo: Vec::new(),
        sets: WeightedSetsBuilder::default(),
    };
    walk.decide(0, 0.0);
    walk.sets
}

struct Walk<'a> {
    component: &'a Component,
    /// The factors whose last variable this is.
    closing: Vec<Vec<usize>>,
    p_false: Vec<f64>,
    members: Vec<Member>,
    /// Overwritten probabilities, to be put back (dividing would fail after a factor of 0).
    undo: Vec<(usize, f64)>,
    sets: WeightedSetsBuilder,
}

impl Walk<'_> {
    fn decide(&mut self, index: usize, log_weight: f64) {
        let component = self.component;
        let Some(variable) = component.variables.get(index) else {
            self.sets.push(self.members.iter().copied(), log_weight);
            return;
        };
        for (_, state) in variable.possible_states() {
            let (mark, members) = (self.undo.len(), self.members.len());
            self.members.extend(Member::of(variable, *state));
            for link in component.active_links(index, *state) {
                let p_false = &mut self.p_false[link.finding];
                self.undo.push((link.finding, *p_false));
                *p_false *= link.inhibition;
            }
            let closing = self.closing[index].iter();
            let value: f64 =
                closing.map(|factor| component.factors[*factor].value(&self.p_false)).product();
            if value > 0.0 {
                self.decide(index + 1, log_weight + (state.weight * value).ln());
            }
            for (finding, p_false) in self.undo.drain(mark..).rev() {
                self.p_false[finding] = p_false;
            }
            self.members.truncate(members);
        }
    }
}

fn closing(component: &Component) -> Vec<Vec<usize>> {
    let mut last = vec![0; component.factors.len()];
    for (variable, factors) in component.factors_of.iter().enumerate() {
        for factor in factors {
            last[*factor] = variable;
        }
    }
    let mut closing = vec![Vec::new(); component.variables.len()];
    for (factor, variable) in last.into_iter().enumerate() {
        closing[variable].push(factor);
    }
    closing
}
