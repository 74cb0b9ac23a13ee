//! Every set of a small part, by walking the tree of states with each factor applied as soon as its
//! last cause is decided.

use super::component::Part;
use super::weighted_sets::{Draft, Member};

/// Lists every assignment with a weight above zero.
pub(super) fn every_set(part: &Part) -> Draft {
    let mut walk = Walk {
        part,
        closing: closing(part),
        chance_no: part.quiet.clone(),
        members: Vec::new(),
        undo: Vec::new(),
        draft: Draft::default(),
    };
    walk.decide(0, 0.0);
    walk.draft
}

struct Walk<'a> {
    part: &'a Part,
    /// The clues whose last variable this is.
    closing: Vec<Vec<usize>>,
    chance_no: Vec<f64>,
    members: Vec<Member>,
    /// Overwritten chances, to be put back (dividing would fail after a factor of 0).
    undo: Vec<(usize, f64)>,
    draft: Draft,
}

impl Walk<'_> {
    fn decide(&mut self, index: usize, log_weight: f64) {
        let part = self.part;
        let Some(variable) = part.variables.get(index) else {
            self.draft.push(self.members.iter().copied(), log_weight);
            return;
        };
        for state in variable.states.iter().filter(|s| s.weight > 0.0) {
            let mark = self.undo.len();
            if state.leaves > 0 {
                self.members.push(Member { cause: variable.cause, leaves: state.leaves });
            }
            for touch in part.touches[index].iter().filter(|t| t.round < state.leaves) {
                let chance = &mut self.chance_no[touch.spot];
                self.undo.push((touch.spot, *chance));
                *chance *= touch.keep;
            }
            let value: f64 = self.closing[index]
                .iter()
                .map(|clue| part.clues[*clue].value(&self.chance_no))
                .product();
            if value > 0.0 {
                self.decide(index + 1, log_weight + (state.weight * value).ln());
            }
            for (spot, chance) in self.undo.drain(mark..).rev() {
                self.chance_no[spot] = chance;
            }
            if state.leaves > 0 {
                self.members.pop();
            }
        }
    }
}

fn closing(part: &Part) -> Vec<Vec<usize>> {
    let mut last = vec![0; part.clues.len()];
    for (variable, clues) in part.clues_of.iter().enumerate() {
        for clue in clues {
            last[*clue] = variable;
        }
    }
    let mut closing = vec![Vec::new(); part.variables.len()];
    for (clue, variable) in last.into_iter().enumerate() {
        closing[variable].push(clue);
    }
    closing
}
