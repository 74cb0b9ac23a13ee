//! Evidence as factors: how much better or worse what was seen fits each state of the findings.

use super::network::Network;
use crate::ranking::refusal::Refusal;

/// Findings that were looked at together: which of them are true, and how well that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The truth of each finding of the group, in the group's order.
    pub truths: Vec<bool>,
    /// Likelihood of what was seen, should this pattern be the true one; 0 up, only ratios matter.
    pub weight: f64,
}

/// One piece of evidence.
#[derive(Debug, Clone, PartialEq)]
pub enum Factor {
    /// One finding: weighs `yes·P(finding) + no·P(not finding)`.
    Single {
        /// Index of the finding.
        finding: usize,
        /// Likelihood of what was seen, should the finding be true; 0 up.
        yes: f64,
        /// Likelihood of what was seen, should it be false; 0 up.
        no: f64,
    },
    /// Findings that only occur in certain patterns (the options of one choice, limits of one
    /// expression): weighs the mean of the patterns' weights, each pattern counting by its own
    /// chance, for every set of causes.
    Group {
        /// Indices of the findings.
        findings: Vec<usize>,
        /// The patterns that can occur.
        patterns: Vec<Pattern>,
    },
}

impl Factor {
    /// The finding is true, beyond doubt.
    pub fn yes(finding: usize) -> Self {
        Self::Single { finding, yes: 1.0, no: 0.0 }
    }

    /// The finding is false, beyond doubt.
    pub fn no(finding: usize) -> Self {
        Self::Single { finding, yes: 0.0, no: 1.0 }
    }

    /// The finding is true with chance `q` (0 to 1) by what was seen alone.
    pub fn doubtful(finding: usize, q: f64) -> Self {
        Self::Single { finding, yes: q, no: 1.0 - q }
    }

    /// The findings it speaks of.
    pub fn findings(&self) -> &[usize] {
        match self {
            Self::Single { finding, .. } => std::slice::from_ref(finding),
            Self::Group { findings, .. } => findings,
        }
    }

    /// Refuses an unknown finding, a weight that is negative or not finite, and patterns that do not
    /// fit the group.
    pub(in crate::ranking) fn check(&self, network: &Network) -> Result<(), Refusal> {
        for finding in self.findings() {
            network.finding(*finding)?;
        }
        match self {
            Self::Single { yes, no, finding } => {
                weight(*yes, || format!("weight of finding {finding} being true"))?;
                weight(*no, || format!("weight of finding {finding} being false"))
            }
            Self::Group { findings, patterns } => check_group(findings, patterns),
        }
    }

    /// Its value where each finding it speaks of is false with the chance given, in order.
    pub(in crate::ranking) fn value(&self, chance_no: &[f64]) -> f64 {
        match self {
            Self::Single { yes, no, .. } => {
                chance_no.first().map_or(0.0, |c| yes * (1.0 - c) + no * c)
            }
            Self::Group { patterns, .. } => group_value(patterns, chance_no),
        }
    }

    /// The largest value it can take: factors are divided by it, so that all of them reach 1 at most.
    pub(in crate::ranking) fn largest_weight(&self) -> f64 {
        match self {
            Self::Single { yes, no, .. } => yes.max(*no),
            Self::Group { patterns, .. } => patterns.iter().map(|p| p.weight).fold(0.0, f64::max),
        }
    }
}

/// Chance of a pattern from the chance of each finding being false, were the findings free of each
/// other.
pub(in crate::ranking) fn pattern_chance(truths: &[bool], chance_no: &[f64]) -> f64 {
    truths.iter().zip(chance_no).map(|(truth, no)| if *truth { 1.0 - no } else { *no }).product()
}

/// Mean weight of the patterns; 0 where none of them can occur.
fn group_value(patterns: &[Pattern], chance_no: &[f64]) -> f64 {
    let (mut all, mut weighed) = (0.0, 0.0);
    for pattern in patterns {
        let chance = pattern_chance(&pattern.truths, chance_no);
        all += chance;
        weighed += chance * pattern.weight;
    }
    if all > 0.0 { weighed / all } else { 0.0 }
}

fn check_group(findings: &[usize], patterns: &[Pattern]) -> Result<(), Refusal> {
    let mut sorted = findings.to_vec();
    sorted.sort_unstable();
    if sorted.windows(2).any(|pair| pair.first() == pair.last()) {
        return Err(Refusal::BadGroup { reason: "a finding is named twice" });
    }
    if patterns.is_empty() {
        return Err(Refusal::BadGroup { reason: "no pattern can occur" });
    }
    if patterns.iter().any(|p| p.truths.len() != findings.len()) {
        return Err(Refusal::BadGroup { reason: "a pattern has another number of findings" });
    }
    patterns.iter().try_for_each(|p| weight(p.weight, || "weight of a pattern".to_owned()))
}

fn weight(value: f64, what: impl FnOnce() -> String) -> Result<(), Refusal> {
    if value.is_finite() && value >= 0.0 {
        Ok(())
    } else {
        Err(Refusal::NotAWeight { what: what(), value })
    }
}
