//! What looking is worth: how many bits an observation is expected to tell about the causes.
//!
//! The worth of a bundle of observations is the mutual information between the set of causes present
//! and what the observations would show: the entropy of what they show, less what is left of it when
//! the causes are known (Cover & Thomas, *Elements of Information Theory*, 2006, §2.4). Minutes, and
//! which observations go together, are left to the rooms above.

use super::posterior::Posterior;
use super::predictive::{Mixture, Predictor};
use crate::ranking::model::{Network, Observable, check_distinct};
use crate::ranking::refusal::Refusal;

/// Most joint outcomes of a bundle; observations beyond that are not counted.
const MAX_OUTCOMES: usize = 256;

/// The expected information of each bundle about the causes present now, in bits; its observations
/// are made together. Of a bundle with more than 256 joint outcomes the first observations count,
/// which gives less than the whole; of a long list of sets the likeliest count.
///
/// ```
/// use boostwright::ranking::{
///     Belief, Finding, Link, Network, Observable, information, posterior,
/// };
///
/// // As likely there as not, and the finding shows it for certain: one bit.
/// let links = vec![Link { cause: 0, strength: 1.0 }];
/// let network = Network::new(vec![0.5], vec![Finding { leak: 0.0, links }])?;
/// let believed = posterior(&network, &Belief::start(), &[])?;
/// let look = vec![Observable::Finding { finding: 0, sure: 1.0 }];
/// let bits = information(&network, &believed, &[look])?;
/// assert!((bits[0] - 1.0).abs() < 1e-12);
/// # Ok::<(), boostwright::ranking::Refusal>(())
/// ```
///
/// # Errors
/// [`Refusal`] where an index or a probability is out of range, a pattern does not fit its group, or a
/// bundle names a finding twice.
pub fn information(
    network: &Network,
    posterior: &Posterior,
    bundles: &[Vec<Observable>],
) -> Result<Vec<f64>, Refusal> {
    let predictor = Predictor::new(network, posterior);
    bundles
        .iter()
        .map(|bundle| {
            check(network, bundle)?;
            // Independent observations tell independent things, so their bits add; taken jointly
            // their outcomes would multiply instead.
            let groups = predictor.dependent(countable(bundle));
            let bits =
                groups.iter().map(|group| mutual_information(group, &predictor.mixture(group)));
            Ok(bits.sum())
        })
        .collect()
}

fn check(network: &Network, bundle: &[Observable]) -> Result<(), Refusal> {
    bundle.iter().try_for_each(|observable| observable.check(network))?;
    let named: Vec<usize> = bundle.iter().flat_map(Observable::findings).copied().collect();
    check_distinct(&named)
}

/// The first observations whose joint outcomes can be counted.
fn countable(bundle: &[Observable]) -> &[Observable] {
    let mut outcomes = 1_usize;
    let fits = bundle.iter().take_while(|observable| {
        outcomes = outcomes.saturating_mul(observable.outcomes());
        outcomes <= MAX_OUTCOMES
    });
    bundle.get(..fits.count()).unwrap_or(bundle)
}

/// Entropy of what the observations show, less its mean entropy with the causes known.
fn mutual_information(together: &[&Observable], mixture: &Mixture) -> f64 {
    let total: f64 = mixture.weights.iter().sum();
    let mut outcomes = vec![0.0; together.iter().map(|observable| observable.outcomes()).product()];
    let mut known = 0.0;
    let (mut joint, mut next) = (Vec::new(), Vec::new());
    for (p_false, weight) in mixture.iter() {
        let share = weight / total;
        joint.clear();
        joint.push(share);
        let mut first = 0;
        for observable in together {
            let last = first + observable.findings().len();
            let report = observable.report(&p_false[first..last]);
            known += share * entropy(&report);
            next.clear();
            next.extend(report.iter().flat_map(|p| joint.iter().map(move |own| own * p)));
            std::mem::swap(&mut joint, &mut next);
            first = last;
        }
        outcomes.iter_mut().zip(&joint).for_each(|(sum, own)| *sum += own);
    }
    // Rounding can leave a hair below 0 where nothing is told.
    (entropy(&outcomes) - known).max(0.0)
}

/// In bits.
fn entropy(probabilities: &[f64]) -> f64 {
    probabilities.iter().filter(|p| **p > 0.0).map(|p| -p * p.log2()).sum()
}
