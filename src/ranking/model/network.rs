//! The two-layer network: independent causes above, findings below, each finding a noisy-OR of the
//! causes that bring it. Which findings were seen is left to `factor`.

use crate::ranking::refusal::Refusal;

/// How strongly one cause brings a finding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// Index of the cause in the network's priors.
    pub cause: usize,
    /// Chance, 0 to 1, that this cause alone brings the finding.
    pub strength: f64,
}

/// A statement that is true or not, and what makes it true.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Chance, 0 to 1, of the finding with no cause present; it comes on top of the links.
    pub leak: f64,
    /// The causes that bring it, each at most once.
    pub links: Vec<Link>,
}

/// Causes with their priors, and the findings they bring.
///
/// With the set `S` of causes present, a finding is true with the chance
/// `1 − (1 − leak)·Π(1 − strength)` over the linked causes in `S` (Pearl, *Probabilistic Reasoning
/// in Intelligent Systems*, 1988, §4.3.2; the leak after Henrion, 1989).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Network {
    priors: Vec<f64>,
    findings: Vec<Finding>,
}

impl Network {
    /// Checks that every number is a chance from 0 to 1, every link leads to a cause, and no finding
    /// names a cause twice.
    pub fn new(priors: Vec<f64>, findings: Vec<Finding>) -> Result<Self, Refusal> {
        for (cause, prior) in priors.iter().enumerate() {
            chance(*prior, || format!("prior of cause {cause}"))?;
        }
        let mut last_seen_in = vec![None; priors.len()];
        for (index, finding) in findings.iter().enumerate() {
            chance(finding.leak, || format!("leak of finding {index}"))?;
            for link in &finding.links {
                chance(link.strength, || {
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

    /// The chance of each cause before anything was seen.
    pub fn priors(&self) -> &[f64] {
        &self.priors
    }

    /// The findings, by index.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// The finding with this index, or a refusal that names it.
    pub fn finding(&self, index: usize) -> Result<&Finding, Refusal> {
        self.findings.get(index).ok_or(Refusal::UnknownFinding { finding: index })
    }
}

/// Refuses a number that is not a chance.
pub(in crate::ranking) fn chance(value: f64, what: impl FnOnce() -> String) -> Result<(), Refusal> {
    if (0.0..=1.0).contains(&value) {
        Ok(())
    } else {
        Err(Refusal::NotAChance { what: what(), value })
    }
}
