//! Evidence as factors: how much better or worse what was seen fits each state of the findings
//! (virtual evidence; Pearl 1988, §2.2.2).

use super::network::Network;
use crate::ranking::distinct::distinct;
use crate::ranking::refusal::Refusal;

/// Findings that were looked at together: which of them are true, and how well that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The truth of each finding of the group, in the group's order.
    pub truths: Vec<bool>,
    /// Likelihood of what was seen, should this pattern be the true one; 0 up, only ratios matter.
    pub weight: f64,
}

impl Pattern {
    /// Probability of the pattern where each finding is false with the probability given, in order,
    /// independently of the others.
    ///
    /// ```
    /// let pattern = boostwright::ranking::Pattern { truths: vec![true, false], weight: 1.0 };
    /// assert!((pattern.probability([0.4, 0.5]) - 0.6 * 0.5).abs() < 1e-12);
    /// ```
    pub fn probability(&self, p_false: impl IntoIterator<Item = f64>) -> f64 {
        joint_probability(&self.truths, p_false)
    }
}

/// Probability that findings have just these truths, each being false with the probability given, in
/// order, independently of the others. False rather than true: what is next to impossible to be
/// false keeps its digits.
///
/// ```
/// let both = boostwright::ranking::joint_probability(&[true, false], [0.4, 0.5]);
/// assert!((both - 0.6 * 0.5).abs() < 1e-12);
/// ```
pub fn joint_probability(truths: &[bool], p_false: impl IntoIterator<Item = f64>) -> f64 {
    let each = truths.iter().zip(p_false);
    each.map(|(truth, p_false)| if *truth { 1.0 - p_false } else { p_false }).product()
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
    /// probability, for every set of causes.
    Group {
        /// Indices of the findings.
        findings: Vec<usize>,
        /// The patterns that can occur.
        patterns: Vec<Pattern>,
    },
}

impl Factor {
    /// The finding is true, beyond doubt.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// assert_eq!(Factor::yes(3), Factor::Single { finding: 3, yes: 1.0, no: 0.0 });
    /// ```
    pub fn yes(finding: usize) -> Self {
        Self::Single { finding, yes: 1.0, no: 0.0 }
    }

    /// The finding is false, beyond doubt.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// assert_eq!(Factor::no(3), Factor::Single { finding: 3, yes: 0.0, no: 1.0 });
    /// ```
    pub fn no(finding: usize) -> Self {
        Self::Single { finding, yes: 0.0, no: 1.0 }
    }

    /// The finding is true with probability `q` (0 to 1) by what was seen alone.
    ///
    /// ```
    /// use boostwright::ranking::Factor;
    ///
    /// // What is as likely true as false says nothing.
    /// assert_eq!(Factor::doubtful(3, 0.5), Factor::Single { finding: 3, yes: 0.5, no: 0.5 });
    /// ```
    pub fn doubtful(finding: usize, q: f64) -> Self {
        Self::Single { finding, yes: q, no: 1.0 - q }
    }

    /// The findings it speaks of.
    ///
    /// ```
    /// assert_eq!(boostwright::ranking::Factor::yes(3).findings(), [3]);
    /// ```
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
                check_weight(*yes, || format!("weight of finding {finding} being true"))?;
                check_weight(*no, || format!("weight of finding {finding} being false"))
            }
            Self::Group { findings, patterns } => {
                check_group(findings, patterns.iter().map(|pattern| pattern.truths.as_slice()))?;
                patterns.iter().try_for_each(|pattern| {
                    check_weight(pattern.weight, || "weight of a pattern".to_owned())
                })
            }
        }
    }

    /// Its value where each finding it speaks of is false with the probability given, in order.
    pub(in crate::ranking) fn value(&self, p_false: &[f64]) -> f64 {
        match self {
            Self::Single { yes, no, .. } => {
                p_false.first().map_or(0.0, |p_false| yes * (1.0 - p_false) + no * p_false)
            }
            Self::Group { patterns, .. } => mean_weight(patterns, p_false),
        }
    }

    /// The largest value it can take: factors are divided by it, so that all of them reach 1 at most.
    pub(in crate::ranking) fn max_weight(&self) -> f64 {
        match self {
            Self::Single { yes, no, .. } => yes.max(*no),
            Self::Group { patterns, .. } => patterns.iter().map(|p| p.weight).fold(0.0, f64::max),
        }
    }

    /// Whether it says for certain that its one finding is false.
    pub(in crate::ranking) fn is_surely_false(&self) -> bool {
        matches!(self, Self::Single { yes, no, .. } if *yes == 0.0 && *no > 0.0)
    }
}

/// Mean weight of the patterns, each by its probability; 0 where none of them can occur.
fn mean_weight(patterns: &[Pattern], p_false: &[f64]) -> f64 {
    let (mut all, mut weighed) = (0.0, 0.0);
    for pattern in patterns {
        let probability = pattern.probability(p_false.iter().copied());
        all += probability;
        weighed += probability * pattern.weight;
    }
    if all > 0.0 { weighed / all } else { 0.0 }
}

/// Refuses a finding named twice, no pattern, and a pattern that does not fit the findings.
pub(super) fn check_group<'p>(
    findings: &[usize],
    patterns: impl IntoIterator<Item = &'p [bool]>,
) -> Result<(), Refusal> {
    check_distinct(findings)?;
    let mut patterns = patterns.into_iter().peekable();
    if patterns.peek().is_none() {
        return Err(Refusal::BadGroup { reason: "no pattern can occur" });
    }
    if patterns.any(|truths| truths.len() != findings.len()) {
        return Err(Refusal::BadGroup { reason: "a pattern has another number of findings" });
    }
    Ok(())
}

/// Refuses a finding named twice.
pub(in crate::ranking) fn check_distinct(findings: &[usize]) -> Result<(), Refusal> {
    if distinct(findings.iter().copied()).len() < findings.len() {
        return Err(Refusal::BadGroup { reason: "a finding is named twice" });
    }
    Ok(())
}

fn check_weight(value: f64, what: impl FnOnce() -> String) -> Result<(), Refusal> {
    if value.is_finite() && value >= 0.0 {
        Ok(())
    } else {
        Err(Refusal::NotAWeight { what: what(), value })
    }
}
