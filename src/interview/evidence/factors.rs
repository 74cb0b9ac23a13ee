//! From what is known to what the ranking weighs: a unit of evidence for each finding, one for findings
//! on one choice or one expression, and one factor for all units that rest on the same doubtful answers.

use rayon::prelude::*;

use crate::formula::{Basis, Formula, Settled, single_basis};
use crate::ranking::{Factor, Pattern};
use crate::rules::{ComplaintId, FindingId, Pack, QuestionId, TypedIndex};

use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::shared::{Bunch, bunches};

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

/// Findings that exclude one another, or one by itself.
#[derive(Debug, Clone)]
pub(in crate::interview) struct Unit {
    pub(in crate::interview) members: Vec<FindingId>,
    pub(in crate::interview) is_group: bool,
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

/// Findings one by one, those on one choice or one expression together and behind the others.
fn units(pack: &Pack, findings: impl Iterator<Item = FindingId>) -> Vec<Unit> {
    let mut alone = Vec::new();
    let mut grouped: Vec<(Basis, Vec<FindingId>)> = Vec::new();
    for finding in findings {
        match group_variable(&pack.findings[finding].when) {
            Some(variable) => match grouped.iter_mut().find(|(known, _)| *known == variable) {
                Some((_, members)) => members.push(finding),
                None => grouped.push((variable, vec![finding])),
            },
            None => alone.push(Unit { members: vec![finding], is_group: false }),
        }
    }
    let groups = grouped.into_iter().map(|(_, members)| Unit { members, is_group: true });
    alone.into_iter().chain(groups).collect()
}

/// The variable by which findings exclude one another: a choice, or an expression held against
/// fixed limits.
#[must_use]
pub(in crate::interview) fn group_variable(when: &Formula) -> Option<Basis> {
    single_basis(&when.node).filter(|variable| !matches!(variable, Basis::Answer(_)))
}

impl Unit {
    pub(in crate::interview) fn formulas<'p>(&self, pack: &'p Pack) -> Vec<&'p Formula> {
        self.members.iter().map(|finding| &pack.findings[*finding].when).collect()
    }

    /// What it weighs by itself, where it is settled of some answers whether they are off.
    pub(in crate::interview) fn factor(
        &self,
        facts: &Facts<'_>,
        settled: &Settled,
    ) -> Option<Factor> {
        let formulas = self.formulas(facts.pack);
        if let ([finding], [formula], false) =
            (self.members.as_slice(), formulas.as_slice(), self.is_group)
        {
            let weight = facts.evaluator.weigh_settled(formula, settled)?;
            let finding = finding.index();
            return Some(Factor::Single { finding, yes: weight.yes, no: weight.no });
        }
        let patterns = facts.evaluator.patterns_settled(&formulas, settled)?;
        let patterns = patterns.into_iter().map(|(truths, weight)| Pattern { truths, weight });
        let findings = self.members.iter().map(|finding| finding.index()).collect();
        Some(Factor::Group { findings, patterns: patterns.collect() })
    }
}

impl Bunch {
    /// Its factor with the answers below.
    fn evidence(self, facts: &Facts<'_>) -> Option<Evidence> {
        let answers = answers_below(facts, self.members());
        let (factor, slips) = self.factor(facts)?;
        Some(Evidence { factor, answers, slips })
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
