//! What answering questions would show: the findings that would become known, as things to observe.

use crate::formula::{Basis, Formula};
use crate::ranking::Observable;
use crate::rules::{FindingId, QuestionId, TypedIndex};

use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::unit::group_variable;
use crate::interview::walk::known::Known;

/// Questions that together make findings known.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::interview) struct Bundle {
    /// In the order of the pack.
    pub(in crate::interview) questions: Vec<QuestionId>,
    pub(in crate::interview) observables: Vec<Observable>,
}

/// The most questions that are taken together.
const MAX_TOGETHER: usize = 4;

/// Every set of open questions that would make at least one finding known, with all that it would
/// make known.
pub(in crate::interview) fn bundles<'p>(known: &dyn Known<'p>) -> Vec<Bundle> {
    let (pack, facts) = (known.pack(), known.facts());
    let missing: Vec<(FindingId, Vec<Vec<QuestionId>>)> = pack
        .findings
        .indices()
        .filter(|finding| !pack.network.findings()[finding.index()].links.is_empty())
        .map(|finding| (finding, missing_for(known, finding)))
        .collect();
    let mut sets: Vec<Vec<QuestionId>> =
        missing.iter().flat_map(|(_, ways)| ways.iter().cloned()).collect();
    sets.sort();
    sets.dedup();
    sets.into_iter()
        .map(|questions| {
            let within =
                |way: &Vec<QuestionId>| way.iter().all(|wanted| questions.contains(wanted));
            let shown: Vec<FindingId> = missing
                .iter()
                .filter(|(_, ways)| ways.iter().any(within))
                .map(|(finding, _)| *finding)
                .collect();
            let told = |question: QuestionId| {
                known.is_answered(question) || questions.contains(&pack.asked_with(question))
            };
            Bundle { observables: observables(facts, &shown, &told), questions }
        })
        .collect()
}

/// The open questions that an unknown finding still wants, for each way to tell it; none where it is
/// known already, or can never be because somebody couldn't say.
fn missing_for(known: &dyn Known<'_>, finding: FindingId) -> Vec<Vec<QuestionId>> {
    if known.is_decided(finding) {
        return Vec::new();
    }
    let ways = known.facts().ways_to_tell(&known.pack().findings[finding].when.node);
    ways.into_iter().filter_map(|way| missing_on(known, &way)).collect()
}

/// The open questions among those of a way; none where one of them can't be had.
fn missing_on(known: &dyn Known<'_>, way: &[QuestionId]) -> Option<Vec<QuestionId>> {
    let put_off = known.put_off();
    let open = |question: &QuestionId| !known.is_held(*question) || put_off.contains(question);
    let asked_with = |question: &QuestionId| known.pack().asked_with(*question);
    let mut wanted: Vec<QuestionId> = Vec::new();
    for question in way {
        if known.is_answered(*question) || known.facts().assumes(*question) {
            continue;
        }
        if !open(&asked_with(question)) {
            return None;
        }
        wanted.push(asked_with(question));
    }
    // All that is missing is assumed: the first that can be answered makes it count.
    if wanted.is_empty() {
        wanted.extend(way.iter().map(asked_with).find(open));
    }
    wanted.sort_unstable();
    wanted.dedup();
    (!wanted.is_empty() && wanted.len() <= MAX_TOGETHER).then_some(wanted)
}

/// What these findings are to look at, once so many questions are told: groups where they exclude one
/// another.
pub(in crate::interview) fn observables(
    facts: &Facts<'_>,
    findings: &[FindingId],
    told: &dyn Fn(QuestionId) -> bool,
) -> Vec<Observable> {
    let pack = facts.pack;
    let mut grouped: Vec<(Basis, Vec<FindingId>)> = Vec::new();
    let mut found = Vec::new();
    for finding in findings {
        let when = &pack.findings[*finding].when;
        match group_variable(when) {
            Some(variable) => match grouped.iter_mut().find(|(known, _)| *known == variable) {
                Some((_, members)) => members.push(*finding),
                None => grouped.push((variable, vec![*finding])),
            },
            None => found.push(Observable::Finding {
                finding: finding.index(),
                sure: sure(facts, when, told),
            }),
        }
    }
    for (_, members) in grouped {
        let formulas: Vec<&Formula> =
            members.iter().map(|finding| &pack.findings[*finding].when).collect();
        if let (Some(patterns), Some(first)) =
            (facts.evaluator.possible_patterns(&formulas), formulas.first())
        {
            found.push(Observable::Group {
                findings: members.iter().map(|finding| finding.index()).collect(),
                patterns,
                sure: sure(facts, first, told),
            });
        }
    }
    found
}

/// How often what will be answered is right: the least sure of the questions told.
fn sure(facts: &Facts<'_>, when: &Formula, told: &dyn Fn(QuestionId) -> bool) -> f64 {
    facts
        .questions_below(&when.node)
        .filter(|question| told(*question))
        .map(|question| facts.pack.questions[question].right())
        .fold(1.0, f64::min)
}
