//! What came with the last repair: work on a car may leave a hose off or a clip loose. The ranking
//! knows only faults that were there from the start, so these are told beside it.

use crate::interview::Facts;
use crate::report::model::NewLine;
use crate::rules::{CauseId, FindingId, TypedIndex};

use super::ConclusionBuilder;

/// A cause that brings the finding less often than this doesn't explain it.
const BRINGS_IT: f64 = 0.5;

impl ConclusionBuilder<'_, '_> {
    /// What is seen on the car, was looked at before the repair and was not so, and is so now. What a
    /// run shows changes with any repair and says nothing of that kind. None once the complaint is
    /// gone.
    pub(super) fn new_since_repair(&self) -> Vec<NewLine> {
        let Some(before) = self.state.before.last().filter(|_| !self.state.cured) else {
            return Vec::new();
        };
        let findings = self.pack.findings.indices();
        findings
            .filter(|finding| self.is_seen_on_the_car(*finding))
            .filter(|finding| self.holds(before, *finding) == Some(false))
            .filter(|finding| self.holds(&self.state.facts, *finding) == Some(true))
            .filter_map(|finding| {
                let cause = self.brought_by(finding)?;
                Some(NewLine {
                    finding: self.pack.findings.id(finding).to_owned(),
                    says: self.state.facts.filled(&self.pack.findings[finding].says),
                    cause: self.pack.causes.id(cause).to_owned(),
                    cause_title: self.pack.causes[cause].title.clone(),
                })
            })
            .collect()
    }

    fn is_seen_on_the_car(&self, finding: FindingId) -> bool {
        let node = &self.pack.findings[finding].when.node;
        let mut below = self.state.facts.questions_below(node);
        below.all(|question| !self.pack.questions[question].is_of_one_run())
    }

    fn holds(&self, facts: &Facts<'_>, finding: FindingId) -> Option<bool> {
        let weight = facts.weigh(&self.pack.findings[finding].when)?;
        weight.decided().map(|chance| chance > 0.5)
    }

    /// The cause that brings a finding most often, of those that a question on the finding confirms.
    fn brought_by(&self, finding: FindingId) -> Option<CauseId> {
        let node = &self.pack.findings[finding].when.node;
        let below: Vec<_> = self.state.facts.questions_below(node).collect();
        let links = &self.pack.network.findings().get(finding.index())?.links;
        let confirmed = |cause: CauseId| {
            self.pack.causes[cause].confirmed_by.iter().any(|question| below.contains(question))
        };
        links
            .iter()
            .filter(|link| link.strength >= BRINGS_IT)
            .filter(|link| confirmed(CauseId::from_index(link.cause)))
            .max_by(|a, b| a.strength.total_cmp(&b.strength))
            .map(|link| CauseId::from_index(link.cause))
    }
}
