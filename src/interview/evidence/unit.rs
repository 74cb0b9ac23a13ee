//! Units of evidence: a finding by itself, or findings on one choice or one expression, which exclude one
//! another.

use crate::formula::{Basis, Formula, Settled, single_basis};
use crate::ranking::{Factor, Pattern};
use crate::rules::{FindingId, Pack, TypedIndex};

use crate::interview::evidence::facts::Facts;

/// Findings that exclude one another, or one by itself.
#[derive(Debug, Clone)]
pub(in crate::interview) struct Unit {
    pub(in crate::interview) members: Vec<FindingId>,
    pub(in crate::interview) is_group: bool,
}

/// Findings one by one, those on one choice or one expression together and behind the others.
pub(in crate::interview) fn units(
    pack: &Pack,
    findings: impl Iterator<Item = FindingId>,
) -> Vec<Unit> {
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
