//! The two-layer network: independent causes above, findings below, each finding a noisy-OR of the
//! causes that bring it. This shape is known as BN2O, from the QMR-DT network for internal medicine
//! (Shwe et al., *Methods of Information in Medicine* 30, 1991). Which findings were seen is left to
//! `factor`.
//!
//! In a noisy-OR each cause that is present brings the finding by itself, unless it is inhibited,
//! independently of all others (Pearl, *Probabilistic Reasoning in Intelligent Systems*, 1988,
//! §4.3.2). The leak stands for all causes that are not in the network (Henrion, "Some practical
//! issues in constructing belief networks", *Uncertainty in Artificial Intelligence* 3, 1989).

use super::probability::check_probability;
use crate::ranking::refusal::Refusal;

/// How strongly one cause brings a finding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// Index of the cause in the network's priors.
    pub cause: usize,
    /// Probability, 0 to 1, that this cause alone brings the finding.
    pub strength: f64,
}

impl Link {
    /// Probability that the cause, though present, does not bring the finding: `1 − strength`.
    ///
    /// ```
    /// let link = boostwright::ranking::Link { cause: 0, strength: 0.8 };
    /// assert!((link.inhibition() - 0.2).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn inhibition(&self) -> f64 {
        1.0 - self.strength
    }
}

/// A statement that is true or not, and what makes it true: a noisy-OR of its causes.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Probability, 0 to 1, of the finding with no cause present; it comes on top of the links.
    pub leak: f64,
    /// The causes that bring it, each at most once.
    pub links: Vec<Link>,
}

impl Finding {
    /// Probability that the finding is false with no cause present: `1 − leak`.
    ///
    /// ```
    /// let finding = boostwright::ranking::Finding { leak: 0.1, links: Vec::new() };
    /// assert_eq!(finding.p_false_by_leak(), 0.9);
    /// ```
    #[must_use]
    pub fn p_false_by_leak(&self) -> f64 {
        1.0 - self.leak
    }

    /// Probability that the finding is false, each cause being present with the probability that
    /// `p_present` gives for its index, independently of the others:
    /// `(1 − leak)·Π(1 − p_present·strength)`.
    ///
    /// ```
    /// use boostwright::ranking::{Finding, Link};
    ///
    /// let finding = Finding { leak: 0.1, links: vec![Link { cause: 0, strength: 0.8 }] };
    /// // 0.9·(1 − 0.5·0.8)
    /// assert!((finding.p_false(|_| 0.5) - 0.54).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn p_false(&self, p_present: impl Fn(usize) -> f64) -> f64 {
        let inhibited = |link: &Link| 1.0 - p_present(link.cause) * link.strength;
        self.links.iter().fold(self.p_false_by_leak(), |p_false, link| p_false * inhibited(link))
    }

    /// Probability that the finding is true with just the causes present that `is_present` names by
    /// their index: `1 − (1 − leak)·Π(1 − strength)` over these.
    ///
    /// ```
    /// use boostwright::ranking::{Finding, Link};
    ///
    /// let links = vec![Link { cause: 0, strength: 0.5 }, Link { cause: 1, strength: 0.8 }];
    /// let finding = Finding { leak: 0.1, links };
    /// // 1 − 0.9·0.5 and 1 − 0.9·0.5·0.2
    /// assert!((finding.probability_given(|cause| cause == 0) - 0.55).abs() < 1e-12);
    /// assert!((finding.probability_given(|_| true) - 0.91).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn probability_given(&self, is_present: impl Fn(usize) -> bool) -> f64 {
        1.0 - self.p_false(|cause| f64::from(is_present(cause)))
    }
}

/// Causes with their priors, and the findings they bring.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Network {
    priors: Vec<f64>,
    findings: Vec<Finding>,
}

impl Network {
    /// A network of causes with these prior probabilities, and of findings.
    ///
    /// ```
    /// use boostwright::ranking::{Finding, Link, Network, Refusal};
    ///
    /// let brought_by = |cause| Finding { leak: 0.1, links: vec![Link { cause, strength: 0.8 }] };
    /// assert!(Network::new(vec![0.02], vec![brought_by(0)]).is_ok());
    /// let refused = Network::new(vec![0.02], vec![brought_by(1)]);
    /// assert_eq!(refused, Err(Refusal::UnknownCause { cause: 1 }));
    /// ```
    ///
    /// # Errors
    /// [`Refusal`] where a number is no probability from 0 to 1, a link leads to no cause, or a finding
    /// names a cause twice.
    pub fn new(priors: Vec<f64>, findings: Vec<Finding>) -> Result<Self, Refusal> {
        for (cause, prior) in priors.iter().enumerate() {
            check_probability(*prior, || format!("prior of cause {cause}"))?;
        }
        let mut last_seen_in = vec![None; priors.len()];
        for (index, finding) in findings.iter().enumerate() {
            check_probability(finding.leak, || format!("leak of finding {index}"))?;
            for link in &finding.links {
                check_probability(link.strength, || {
                    format!("strength of cause {} for finding {index}", link.cause)
                })?;
                let seen = last_seen_in
                    .get_mut(link.cause)
                    .ok_or(Refusal::UnknownCause { cause: link.cause })?;
                if seen.replace(index) == Some(index) {
                    return Err(Refusal::CauseTwice { finding: index, cause: link.cause });
                }
            }
        }
        Ok(Self { priors, findings })
    }

    /// The probability of each cause before anything was seen.
    ///
    /// ```
    /// let network = boostwright::ranking::Network::new(vec![0.02, 0.1], Vec::new())?;
    /// assert_eq!(network.priors(), [0.02, 0.1]);
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// The findings, by index.
    ///
    /// ```
    /// let network = boostwright::ranking::Network::new(vec![0.02], Vec::new())?;
    /// assert!(network.findings().is_empty());
    /// # Ok::<(), boostwright::ranking::Refusal>(())
    /// ```
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// The finding with this index.
    ///
    /// ```
    /// use boostwright::ranking::{Network, Refusal};
    ///
    /// let network = Network::new(vec![0.02], Vec::new())?;
    /// assert_eq!(network.finding(0), Err(Refusal::UnknownFinding { finding: 0 }));
    /// # Ok::<(), Refusal>(())
    /// ```
    ///
    /// # Errors
    /// [`Refusal::UnknownFinding`] where there is none.
    pub fn finding(&self, index: usize) -> Result<&Finding, Refusal> {
        self.findings.get(index).ok_or(Refusal::UnknownFinding { finding: index })
    }

    /// The findings with these indices, which must have been checked.
    pub(in crate::ranking) fn findings_at<'n>(
        &'n self,
        indices: &'n [usize],
    ) -> impl Iterator<Item = &'n Finding> + Clone {
        indices.iter().filter_map(|index| self.findings.get(*index))
    }
}
