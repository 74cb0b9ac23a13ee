//! What looking is worth: how many bits an observation is expected to tell about the causes.
//!
//! The worth of a bundle of observations is the mutual information between the set of causes present
//! and what the observations would show: the entropy of what they show, less what is left of it when
//! the causes are known (Cover & Thomas, *Elements of Information Theory*, 2006, §2.4). Minutes, and
//! which observations go together, are left to the rooms above.

use super::posterior::Posterior;
use super::predictive::{Cases, Spread};
use crate::ranking::model::factor::pattern_chance;
use crate::ranking::model::network::{Network, chance};
use crate::ranking::refusal::Refusal;

/// Something that can be looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Observable {
    /// Whether a finding is true.
    Finding {
        /// Index of the finding.
        finding: usize,
        /// Chance, 0 to 1, that what is reported is right.
        sure: f64,
    },
    /// Which of several patterns of findings is the true one.
    Group {
        /// Indices of the findings.
        findings: Vec<usize>,
        /// The patterns that can occur, each with the truth of every finding in order.
        patterns: Vec<Vec<bool>>,
        /// Chance, 0 to 1, that the pattern reported is right; the others share the rest evenly.
        /// With causes present that let no pattern occur, each is as likely as the others.
        sure: f64,
    },
}

/// Most joint outcomes of a bundle; observations beyond that are not counted.
const MOST_OUTCOMES: usize = 256;

/// The expected information of each bundle about the causes present now, in bits; its observations
/// are made together.
///
/// Refused where an index or a chance is out of range, a pattern does not fit its group, or a bundle
/// names a finding twice. Of a bundle with more than 256 joint outcomes the first observations count,
/// which gives less than the whole; of a long list of sets the likeliest count.
pub fn information(
    network: &Network,
    posterior: &Posterior,
    bundles: &[Vec<Observable>],
) -> Result<Vec<f64>, Refusal> {
    let spread = Spread::new(network, posterior);
    bundles
        .iter()
        .map(|bundle| {
            check(network, bundle)?;
            // Observations that no part of the posterior ties together tell independent things, so
            // their bits add; taken jointly their states would multiply instead.
            let tied = spread.tied(countable(bundle));
            Ok(tied
                .iter()
                .map(|together| mutual_information(together, &spread.cases(together)))
                .sum())
        })
        .collect()
}

impl Observable {
    /// What it shows: the indices of its findings.
    #[must_use]
    pub fn findings(&self) -> &[usize] {
        match self {
            Self::Finding { finding, .. } => std::slice::from_ref(finding),
            Self::Group { findings, .. } => findings,
        }
    }

    fn outcomes(&self) -> usize {
        match self {
            Self::Finding { .. } => 2,
            Self::Group { patterns, .. } => patterns.len(),
        }
    }

    /// The chance of each outcome being reported, where each finding is false with the chance given.
    fn report(&self, chance_no: &[f64]) -> Vec<f64> {
        match self {
            Self::Finding { sure, .. } => {
                let no = chance_no.first().copied().unwrap_or(1.0);
                let yes = (1.0 - no) * sure + no * (1.0 - sure);
                vec![yes, 1.0 - yes]
            }
            Self::Group { patterns, sure, .. } => {
                let chances: Vec<f64> =
                    patterns.iter().map(|p| pattern_chance(p, chance_no)).collect();
                let total: f64 = chances.iter().sum();
                let others = (patterns.len().max(2) - 1) as f64;
                let even = 1.0 / patterns.len() as f64;
                let share = |own: f64| if total > 0.0 { own / total } else { even };
                let mixed =
                    |own: f64| share(own) * sure + (1.0 - share(own)) * (1.0 - sure) / others;
                if patterns.len() == 1 {
                    vec![1.0]
                } else {
                    chances.into_iter().map(mixed).collect()
                }
            }
        }
    }
}

fn check(network: &Network, bundle: &[Observable]) -> Result<(), Refusal> {
    let mut named: Vec<usize> = bundle.iter().flat_map(Observable::findings).copied().collect();
    named.iter().try_for_each(|finding| network.finding(*finding).map(|_| ()))?;
    named.sort_unstable();
    if named.windows(2).any(|pair| pair.first() == pair.last()) {
        return Err(Refusal::BadGroup { reason: "a finding is named twice" });
    }
    for observable in bundle {
        let (Observable::Finding { sure, .. } | Observable::Group { sure, .. }) = observable;
        chance(*sure, || "how sure an answer is".to_owned())?;
        if let Observable::Group { findings, patterns, .. } = observable {
            if patterns.is_empty() {
                return Err(Refusal::BadGroup { reason: "no pattern can occur" });
            }
            if patterns.iter().any(|p| p.len() != findings.len()) {
                return Err(Refusal::BadGroup {
                    reason: "a pattern has another number of findings",
                });
            }
        }
    }
    Ok(())
}

/// The first observations whose joint outcomes can be counted.
fn countable(bundle: &[Observable]) -> &[Observable] {
    let mut outcomes = 1_usize;
    let fits = bundle.iter().take_while(|observable| {
        outcomes = outcomes.saturating_mul(observable.outcomes());
        outcomes <= MOST_OUTCOMES
    });
    bundle.get(..fits.count()).unwrap_or(bundle)
}

/// Entropy of what the observations show, less its mean entropy with the causes known.
fn mutual_information(together: &[&Observable], cases: &Cases) -> f64 {
    let total: f64 = cases.weights.iter().sum();
    let mut outcomes = vec![0.0; together.iter().map(|observable| observable.outcomes()).product()];
    let mut known = 0.0;
    let (mut joint, mut next) = (Vec::new(), Vec::new());
    for (chance_no, weight) in cases.iter() {
        let share = weight / total;
        joint.clear();
        joint.push(share);
        let mut first = 0;
        for observable in together {
            let last = first + observable.findings().len();
            let report = observable.report(&chance_no[first..last]);
            known += share * entropy(&report);
            next.clear();
            next.extend(report.iter().flat_map(|chance| joint.iter().map(move |own| own * chance)));
            std::mem::swap(&mut joint, &mut next);
            first = last;
        }
        outcomes.iter_mut().zip(&joint).for_each(|(sum, chance)| *sum += chance);
    }
    // Rounding can leave a hair below 0 where nothing is told.
    (entropy(&outcomes) - known).max(0.0)
}

/// In bits.
fn entropy(chances: &[f64]) -> f64 {
    chances.iter().filter(|chance| **chance > 0.0).map(|chance| -chance * chance.log2()).sum()
}
