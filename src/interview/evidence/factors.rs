//! From what is known to what the ranking weighs: a unit of evidence for each finding, one for findings
//! on one choice or one expression, and one factor for all units that rest on the same doubtful answers.

use rayon::prelude::*;

use crate::formula::Formula;
use crate::ranking::Factor;
use crate::rules::{ComplaintId, FindingId, Pack, QuestionId, TypedIndex};

use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::shared::{Bunch, bunches};
use crate::interview::evidence::unit::units;

/// One factor with the answers it rests on.
#[derive(Debug, Clone)]
pub struct Evidence {
    pub factor: Factor,
    /// The answers below it; empty where the complaint itself shows it.
    pub answers: Vec<QuestionId>,
    /// Those of them that may be off for several findings at once: for each slip of a joint factor the
    /// answer that it is of.
    pub slips: Vec<QuestionId>,
}

/// The evidence of one round: every finding that rests on an answer given in it, and what the
/// complaint shows as long as no answer decides it.
#[must_use]
pub(in crate::interview) fn evidence(
    facts: &Facts<'_>,
    round: usize,
    complaints: &[ComplaintId],
) -> Vec<Evidence> {
    let pack = facts.pack;
    let shown = |finding: &FindingId| {
        complaints.iter().any(|complaint| pack.complaints[*complaint].shows.contains(finding))
    };
    let findings: Vec<FindingId> = pack.findings.indices().collect();
    let weighed: Vec<bool> = findings
        .par_iter()
        .map(|finding| facts.weigh(&pack.findings[*finding].when).is_some())
        .collect();
    let mut found: Vec<Evidence> = findings
        .iter()
        .zip(&weighed)
        .filter(|(finding, weighed)| !**weighed && shown(finding))
        .map(|(finding, _)| Evidence::told(*finding))
        .collect();
    let new = findings.into_iter().zip(weighed).filter(|(finding, weighed)| {
        *weighed && is_new(facts, &pack.findings[*finding].when, round)
    });
    let units = units(pack, new.map(|(finding, _)| finding));
    let factors: Vec<Option<Evidence>> =
        bunches(facts, units).into_par_iter().map(|bunch| bunch.evidence(facts)).collect();
    found.extend(factors.into_iter().flatten());
    // In the order of the pack, groups by themselves behind the rest.
    found.sort_by_key(|evidence| {
        let is_group = matches!(evidence.factor, Factor::Group { .. });
        (is_group, evidence.factor.findings().first().copied())
    });
    found
}

impl Evidence {
    /// What the complaint itself shows.
    fn told(finding: FindingId) -> Self {
        let factor = Factor::yes(finding.index());
        Self { factor, answers: Vec::new(), slips: Vec::new() }
    }
}

impl Bunch {
    /// Its factor with the answers below; as before where nothing below has changed since.
    fn evidence(self, facts: &Facts<'_>) -> Option<Evidence> {
        let found = facts.evaluator.memo().remembered(self.fingerprint(facts), || {
            let answers = answers_below(facts, self.members());
            let (factor, slips) = self.factor(facts)?;
            Some(Evidence { factor, answers, slips })
        });
        Option::clone(&found)
    }
}

/// Whether a finding rests on an answer given in this round.
fn is_new(facts: &Facts<'_>, when: &Formula, round: usize) -> bool {
    facts.questions_below(&when.node).any(|question| {
        facts.answered(question)
            && facts.held.get(&question).is_some_and(|held| held.round == round)
    })
}

fn answers_below(facts: &Facts<'_>, findings: impl Iterator<Item = FindingId>) -> Vec<QuestionId> {
    let pack: &Pack = facts.pack;
    let mut found: Vec<QuestionId> = findings
        .flat_map(|finding| facts.questions_below(&pack.findings[finding].when.node))
        .filter(|question| facts.answered(*question))
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}
