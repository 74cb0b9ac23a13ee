//! What to do next: checks by what they settle, repairs by the chance that they mend something,
//! both for the time they take.

use crate::rules::{CautionId, Pack, Place, QuestionId, RepairId};

use super::danger::cautions_with;
use super::fold::State;

/// The most tasks that are proposed.
const MOST: usize = 8;
/// A repair with less chance than this is not proposed.
const WORTH_PROPOSING: f64 = 0.05;

/// A check or a repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    Check(QuestionId),
    Repair(RepairId),
}

/// Something to do next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    pub what: Task,
    pub minutes: f64,
    /// For a repair: that it mends something that is wrong; for a check: that it settles something.
    pub chance: f64,
}

impl Work {
    /// The cautions that go with it.
    #[must_use]
    pub fn cautions(&self, pack: &Pack) -> Vec<CautionId> {
        match self.what {
            Task::Check(question) => cautions_with(pack, question),
            Task::Repair(repair) => pack.repairs[repair].cautions.clone(),
        }
    }

    fn worth(&self) -> f64 {
        self.chance / self.minutes.max(1.0)
    }
}

/// What to do next, the best for its time first.
#[must_use]
pub fn work_ahead(state: &State<'_>) -> Vec<Work> {
    let pack = state.pack;
    let probabilities = state.ranked.probabilities();
    let mut found: Vec<Work> = pack
        .repairs
        .iter()
        .filter(|(place, _)| !state.danger.forbids_repair(*place))
        .map(|(place, repair)| {
            let mended = repair.mends.iter().filter_map(|cause| probabilities.get(cause.index()));
            let none = mended.map(|probability| 1.0 - probability).product::<f64>();
            let chance = repair.succeeds * (1.0 - none);
            Work { what: Task::Repair(place), minutes: repair.minutes, chance }
        })
        .filter(|work| work.chance >= WORTH_PROPOSING)
        .collect();
    found.sort_by(|a, b| b.worth().total_cmp(&a.worth()));
    found.truncate(MOST);
    found
}
