//! Which question is worth its minutes next: the expected information about the causes for the
//! time it takes, changing the state of the car included.

use crate::ranking::{Observable, Posterior, information};
use crate::rules::{CarStateId, QuestionId};

use super::danger::could_stop;
use super::facts::Facts;
use super::in_play::InPlay;
use super::known::Known;
use super::lead::is_clear;
use super::observe::bundles;

/// Less information than this, in bits, can't matter.
const LEAST_BITS: f64 = 0.002;

/// Chooses among questions by what is known.
pub(super) struct Chooser<'a, 'p> {
    pub(super) known: &'a dyn Known<'p>,
    /// None where the answers clash.
    pub(super) believed: Option<&'a Posterior>,
    /// Where the last answer left the car.
    pub(super) car_now: Option<CarStateId>,
}

/// A bundle of questions with what it is worth.
#[derive(Debug, Clone)]
pub(super) struct Valued {
    pub(super) questions: Vec<QuestionId>,
    pub(super) observables: Vec<Observable>,
    pub(super) minutes: f64,
    pub(super) bits: f64,
}

impl Valued {
    fn rate(&self) -> f64 {
        self.bits / self.minutes.max(0.1)
    }
}

impl<'a, 'p> Chooser<'a, 'p> {
    /// Who chooses by the facts of an interview.
    pub(super) fn by_facts(facts: &'a Facts<'p>, believed: Option<&'a Posterior>) -> Self {
        // Nobody moved the car for a question that was put aside.
        let mut answered = facts.held.keys().rev().filter(|question| facts.answered(**question));
        let car_now = answered.find_map(|question| facts.pack.questions[*question].car);
        Self { known: facts, believed, car_now }
    }

    /// The best of the pool; none where the lead stands clear or nothing is worth its minutes. What
    /// could show a danger comes first.
    pub(super) fn best(&self, pool: &[QuestionId]) -> Option<QuestionId> {
        if pool.is_empty() {
            return None;
        }
        let posterior = self.believed?;
        if let Some(question) =
            pool.iter().find(|question| could_stop(self.known.facts(), **question))
        {
            return Some(*question);
        }
        if self.lead_is_clear() {
            return None;
        }
        let valued = self.valued(posterior);
        let best = valued
            .iter()
            .find(|bundle| bundle.questions.iter().any(|question| pool.contains(question)))?;
        best.questions.iter().copied().find(|question| pool.contains(question))
    }

    /// Whether the lead stands clear of the other causes by now.
    pub(super) fn lead_is_clear(&self) -> bool {
        self.believed.is_some_and(is_clear)
    }

    /// Every bundle that is worth something, the best for its minutes first.
    pub(super) fn valued(&self, posterior: &Posterior) -> Vec<Valued> {
        let mut bundles = bundles(self.known);
        bundles.retain(|bundle| bundle.questions.iter().all(|question| self.known.fits(*question)));
        let in_play = InPlay::of(posterior);
        bundles.retain(|bundle| {
            let mut shown = bundle.observables.iter().flat_map(Observable::findings);
            shown.any(|finding| in_play.told_apart_by(self.known.pack(), *finding))
        });
        let observed: Vec<Vec<Observable>> =
            bundles.iter().map(|bundle| bundle.observables.clone()).collect();
        // Places were checked when the pack was linked, so nothing is refused here.
        let bits =
            information(&self.known.pack().network, posterior, &observed).unwrap_or_default();
        let mut valued: Vec<Valued> = bundles
            .into_iter()
            .zip(bits)
            .filter(|(_, bits)| *bits >= LEAST_BITS)
            .map(|(bundle, bits)| Valued {
                minutes: self.minutes(&bundle.questions),
                questions: bundle.questions,
                observables: bundle.observables,
                bits,
            })
            .collect();
        valued.sort_by(|a, b| b.rate().total_cmp(&a.rate()));
        valued
    }

    /// The time that questions take in this order, from where the car is now, in minutes: each state
    /// and each set-up counts once.
    pub(super) fn minutes(&self, questions: &[QuestionId]) -> f64 {
        let pack = self.known.pack();
        let mut here = self.car_now;
        let mut setups = Vec::new();
        let mut minutes = 0.0;
        for question in questions {
            let asked = &pack.questions[*question];
            minutes += asked.minutes;
            if asked.car.is_some() && asked.car != here {
                here = asked.car;
                minutes += asked.car.map_or(0.0, |car| pack.car_states[car].minutes);
            }
            if let Some(setup) = asked.setup.filter(|setup| !setups.contains(setup)) {
                setups.push(setup);
                minutes += pack.setups[setup].minutes;
            }
        }
        minutes
    }
}
