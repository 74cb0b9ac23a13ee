//! A cause as a random variable: its states say how long it was present, so that one variable does
//! for all rounds.

use crate::ranking::model::Belief;

/// How long a cause was present: in all rounds before `present_until`; 0 is never.
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    pub(super) present_until: usize,
    /// Not normalised; 0 where ruled out.
    pub(super) weight: f64,
}

impl State {
    pub(super) fn is_present_in(&self, round: usize) -> bool {
        round < self.present_until
    }

    pub(super) fn is_possible(&self) -> bool {
        self.weight > 0.0
    }
}

/// A cause and its states; the first of them is "never present".
#[derive(Debug, Clone)]
pub(super) struct Variable {
    pub(super) cause: usize,
    pub(super) states: Vec<State>,
}

impl Variable {
    /// Never, until a repair after one of the rounds of the belief that may have mended it, or still.
    pub(super) fn new(cause: usize, prior: f64, belief: &Belief) -> Self {
        let prior = if belief.allows(cause) { prior } else { 0.0 };
        let mut states = vec![State { present_until: 0, weight: 1.0 - prior }];
        let mut left = prior;
        for (round, p_mended) in belief.p_mended(cause).enumerate() {
            if p_mended > 0.0 {
                states.push(State { present_until: round + 1, weight: left * p_mended });
                left *= 1.0 - p_mended;
            }
        }
        states.push(State { present_until: belief.rounds() + 1, weight: left });
        Self { cause, states }
    }

    pub(super) fn can_be_present_in(&self, round: usize) -> bool {
        self.states.iter().any(|state| state.is_present_in(round) && state.is_possible())
    }

    /// The states that are not ruled out, with their places.
    pub(super) fn possible_states(&self) -> impl Iterator<Item = (usize, &State)> {
        self.states.iter().enumerate().filter(|(_, state)| state.is_possible())
    }

    /// Scales the weights to sum 1; nothing where all states are ruled out.
    pub(super) fn normalise(&mut self) -> Option<()> {
        let total: f64 = self.states.iter().map(|state| state.weight).sum();
        if total <= 0.0 {
            return None;
        }
        self.states.iter_mut().for_each(|state| state.weight /= total);
        Some(())
    }
}
