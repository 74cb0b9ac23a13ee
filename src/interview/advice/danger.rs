//! Cautions in force, and what they forbid.

use rayon::prelude::*;

use crate::rules::{Caution, CautionId, Forbidden, Level, Pack, QuestionId, RepairId};

use crate::interview::evidence::facts::Facts;

/// The cautions whose condition holds, and what they forbid for now.
#[derive(Debug, Clone, Default)]
pub struct Danger {
    /// The worst first.
    pub in_force: Vec<CautionId>,
    forbidden: Vec<Forbidden>,
}

impl Danger {
    #[must_use]
    pub fn of(facts: &Facts<'_>) -> Self {
        let pack = facts.pack;
        let all: Vec<CautionId> = pack.cautions.indices().collect();
        let holds = |caution: &CautionId| {
            pack.cautions[*caution].when.as_ref().is_some_and(|when| facts.holds(when))
        };
        let hold: Vec<bool> = all.par_iter().map(holds).collect();
        let mut in_force: Vec<CautionId> =
            all.into_iter().zip(hold).filter(|(_, holds)| *holds).map(|(place, _)| place).collect();
        in_force.sort_by_key(|caution| pack.cautions[*caution].level);
        let forbidden = in_force
            .iter()
            .flat_map(|caution| pack.cautions[*caution].forbids.iter().copied())
            .collect();
        Self { in_force, forbidden }
    }

    /// Whether a question may not be asked now: itself, its set-up or the state of the car it
    /// needs is forbidden.
    #[must_use]
    pub fn forbids_question(&self, pack: &Pack, question: QuestionId) -> bool {
        let asked = &pack.questions[question];
        self.forbidden.iter().any(|forbidden| match forbidden {
            Forbidden::Question(id) => *id == question,
            Forbidden::Setup(id) => asked.setup == Some(*id),
            Forbidden::CarState(id) => asked.car == Some(*id),
            Forbidden::Repair(_) => false,
        })
    }

    #[must_use]
    pub fn forbids_repair(&self, repair: RepairId) -> bool {
        self.forbidden.contains(&Forbidden::Repair(repair))
    }
}

/// The cautions that go with a question: its own, those of its set-up and of the state of the car,
/// the worst first.
#[must_use]
pub fn cautions_with(pack: &Pack, question: QuestionId) -> Vec<CautionId> {
    let asked = &pack.questions[question];
    let setup = asked.setup.map(|setup| &pack.setups[setup].cautions);
    let car = asked.car.map(|car| &pack.car_states[car].cautions);
    let mut found: Vec<CautionId> = Vec::new();
    for caution in
        asked.cautions.iter().chain(setup.into_iter().flatten()).chain(car.into_iter().flatten())
    {
        if !found.contains(caution) {
            found.push(*caution);
        }
    }
    found.sort_by_key(|caution| pack.cautions[*caution].level);
    found
}

/// Whether an answer to this question could bring a stop caution into force by itself, for the car as it
/// stands: what hangs on other answers as well waits for them, and one that only forbids repairs matters
/// when the repair is thought of, not before.
#[must_use]
pub fn could_stop(facts: &Facts<'_>, question: QuestionId) -> bool {
    let pack = facts.pack;
    let told = std::iter::once(&question).chain(pack.options_of(question));
    let slots: Vec<_> = told.map(|own| pack.question_slot(*own)).collect();
    pack.cautions.iter().any(|(_, caution)| {
        let stops = caution.level == Level::Stop && !forbids_repairs_alone(caution);
        let may_hold = |when| slots.iter().any(|slot| facts.evaluator.may_hold(when, *slot));
        stops && caution.when.as_ref().is_some_and(may_hold)
    })
}

fn forbids_repairs_alone(caution: &Caution) -> bool {
    let repair = |forbidden: &Forbidden| matches!(forbidden, Forbidden::Repair(_));
    !caution.forbids.is_empty() && caution.forbids.iter().all(repair)
}
