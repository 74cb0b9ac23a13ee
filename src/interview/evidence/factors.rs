//! From what is known to what the ranking weighs: findings as factors, findings on one choice or
//! one expression as a group.

use rayon::prelude::*;

use crate::formula::{Basis, Formula, single_basis};
use crate::ranking::{Factor, Pattern};
use crate::rules::{ComplaintId, FindingId, Pack, QuestionId, TypedIndex};

use crate::interview::evidence::facts::Facts;

/// One factor with the answers it rests on.
#[derive(Debug, Clone)]
pub struct Evidence {
    pub factor: Factor,
    /// The answers below it; empty where the complaint itself shows it.
    pub answers: Vec<QuestionId>,
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
    let mut found = Vec::new();
    let mut grouped: Vec<(Basis, Vec<FindingId>)> = Vec::new();
    let findings: Vec<FindingId> = pack.findings.indices().collect();
    let weights: Vec<_> =
        findings.par_iter().map(|finding| facts.weigh(&pack.findings[*finding].when)).collect();
    for (finding, weight) in findings.into_iter().zip(weights) {
        let when = &pack.findings[finding].when;
        let Some(weight) = weight else {
            let shown = complaints
                .iter()
                .any(|complaint| pack.complaints[*complaint].shows.contains(&finding));
            if shown {
                found.push(Evidence { factor: Factor::yes(finding.index()), answers: Vec::new() });
            }
            continue;
        };
        if !is_new(facts, when, round) {
            continue;
        }
        match group_variable(when) {
            Some(variable) => match grouped.iter_mut().find(|(known, _)| *known == variable) {
                Some((_, members)) => members.push(finding),
                None => grouped.push((variable, vec![finding])),
            },
            None => found.push(Evidence {
                factor: Factor::Single { finding: finding.index(), yes: weight.yes, no: weight.no },
                answers: answers_below(facts, &[finding]),
            }),
        }
    }
    found.extend(grouped.iter().filter_map(|(_, members)| group(facts, members)));
    found
}

/// The variable by which findings exclude one another: a choice, or an expression held against
/// fixed limits.
#[must_use]
pub(in crate::interview) fn group_variable(when: &Formula) -> Option<Basis> {
    single_basis(&when.node).filter(|variable| !matches!(variable, Basis::Answer(_)))
}

fn group(facts: &Facts<'_>, members: &[FindingId]) -> Option<Evidence> {
    let formulas: Vec<&Formula> =
        members.iter().map(|finding| &facts.pack.findings[*finding].when).collect();
    let patterns = facts.evaluator.patterns(&formulas)?;
    let factor = Factor::Group {
        findings: members.iter().map(|finding| finding.index()).collect(),
        patterns: patterns.into_iter().map(|(truths, weight)| Pattern { truths, weight }).collect(),
    };
    Some(Evidence { factor, answers: answers_below(facts, members) })
}

/// Whether a finding rests on an answer given in this round.
fn is_new(facts: &Facts<'_>, when: &Formula, round: usize) -> bool {
    facts.questions_below(&when.node).any(|question| {
        facts.answered(question)
            && facts.held.get(&question).is_some_and(|held| held.round == round)
    })
}

fn answers_below(facts: &Facts<'_>, findings: &[FindingId]) -> Vec<QuestionId> {
    let pack: &Pack = facts.pack;
    let mut found: Vec<QuestionId> = findings
        .iter()
        .flat_map(|finding| facts.questions_below(&pack.findings[*finding].when.node))
        .filter(|question| facts.answered(*question))
        .collect();
    found.sort_unstable();
    found.dedup();
    found
}
