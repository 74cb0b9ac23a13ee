//! What the dialogue has said already, so that it is not said again before every question.

use std::collections::HashSet;

use crate::rules::{CarStateId, CautionId, FindingId, SetupId, StepId};

/// What was said already.
#[derive(Debug, Default)]
pub(in crate::terminal) struct Announced {
    cautions: HashSet<CautionId>,
    pub(in crate::terminal) car: Option<CarStateId>,
    pub(in crate::terminal) setup: Option<SetupId>,
    pub(in crate::terminal) step: Option<StepId>,
    denied: HashSet<FindingId>,
}

impl Announced {
    /// The cautions not announced before, which count as announced from now on.
    pub(in crate::terminal) fn new_ones(&mut self, list: &[CautionId]) -> Vec<CautionId> {
        list.iter().copied().filter(|caution| self.cautions.insert(*caution)).collect()
    }

    /// Whether this was not announced before to deny the complaint; it counts as announced from now on.
    pub(in crate::terminal) fn is_new(&mut self, denied: FindingId) -> bool {
        self.denied.insert(denied)
    }

    /// A set-up was put back: to be used again it has to be made again.
    pub(in crate::terminal) fn put_back(&mut self) {
        self.setup = None;
    }
}
