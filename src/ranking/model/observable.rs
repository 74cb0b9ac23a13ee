//! What could be looked at, and what it would show.

use super::factor::{check_group, joint_probability};
use super::network::Network;
use super::probability::check_probability;
use crate::ranking::refusal::Refusal;

/// Something that can be looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Observable {
    /// Whether a finding is true.
    Finding {
        /// Index of the finding.
        finding: usize,
        /// Probability, 0 to 1, that what is reported is right.
        sure: f64,
    },
    /// Which of several patterns of findings is the true one.
    Group {
        /// Indices of the findings.
        findings: Vec<usize>,
        /// The patterns that can occur, each with the truth of every finding in order.
        patterns: Vec<Vec<bool>>,
        /// Probability, 0 to 1, that the pattern reported is right; the others share the rest evenly.
        /// With causes present that let no pattern occur, each is as likely as the others.
        sure: f64,
    },
}

impl Observable {
    /// What it shows: the indices of its findings.
    ///
    /// ```
    /// let look = boostwright::ranking::Observable::Finding { finding: 3, sure: 0.95 };
    /// assert_eq!(look.findings(), [3]);
    /// ```
    #[must_use]
    pub fn findings(&self) -> &[usize] {
        match self {
            Self::Finding { finding, .. } => std::slice::from_ref(finding),
            Self::Group { findings, .. } => findings,
        }
    }

    /// How many different reports it can give.
    pub(in crate::ranking) fn outcomes(&self) -> usize {
        match self {
            Self::Finding { .. } => 2,
            Self::Group { patterns, .. } => patterns.len(),
        }
    }

    /// The probability of each report, where each finding is false with the probability given.
    pub(in crate::ranking) fn report(&self, p_false: &[f64]) -> Vec<f64> {
        match self {
            Self::Finding { sure, .. } => {
                let no = p_false.first().copied().unwrap_or(1.0);
                let yes = (1.0 - no) * sure + no * (1.0 - sure);
                vec![yes, 1.0 - yes]
            }
            Self::Group { patterns, .. } if patterns.len() == 1 => vec![1.0],
            Self::Group { patterns, sure, .. } => {
                let own = |truths: &Vec<bool>| joint_probability(truths, p_false.iter().copied());
                let probabilities: Vec<f64> = patterns.iter().map(own).collect();
                let total: f64 = probabilities.iter().sum();
                #[expect(clippy::cast_precision_loss, reason = "few patterns")]
                let count = patterns.len() as f64;
                let share = |own: f64| if total > 0.0 { own / total } else { 1.0 / count };
                let mixed = |own: f64| {
                    share(own) * sure + (1.0 - share(own)) * (1.0 - sure) / (count - 1.0)
                };
                probabilities.into_iter().map(mixed).collect()
            }
        }
    }

    /// Refuses an unknown finding, a number that is no probability, and patterns that do not fit.
    pub(in crate::ranking) fn check(&self, network: &Network) -> Result<(), Refusal> {
        for finding in self.findings() {
            network.finding(*finding)?;
        }
        let (Self::Finding { sure, .. } | Self::Group { sure, .. }) = self;
        check_probability(*sure, || "how sure an answer is".to_owned())?;
        match self {
            Self::Finding { .. } => Ok(()),
            Self::Group { findings, patterns, .. } => {
                check_group(findings, patterns.iter().map(Vec::as_slice))
            }
        }
    }
}
