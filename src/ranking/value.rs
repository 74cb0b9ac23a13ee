//! What looking is worth: how many bits an observation is expected to tell about the causes.
//!
//! The worth of a bundle of observations is the mutual information between the set of causes present
//! and what the observations would show: the entropy of what they show, less what is left of it when
//! the causes are known (Cover & Thomas, *Elements of Information Theory*, 2006, §2.4). Minutes, and
//! which observations go together, are left to the rooms above.

use std::collections::HashMap;

use super::factor::pattern_chance;
use super::listing::Listing;
use super::network::{Network, chance};
use super::posterior::Posterior;
use super::refusal::Refusal;

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

/// Up to so many sets of a block are all looked at.
const SHORT: usize = 512;

/// Share of the probability of a longer block whose sets need not be looked at.
const NEGLIGIBLE: f64 = 1e-6;

/// Most sets of a block to look at.
const MOST_SETS: usize = 4_096;

/// Most different states of the observed findings to tell apart; the least likely go first.
const MOST_CASES: usize = 4_096;

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
    let prefixes: Vec<usize> =
        posterior.blocks.iter().map(|block| prefix(&block.listing)).collect();
    let block_of = posterior.block_of();
    bundles
        .iter()
        .map(|bundle| {
            check(network, bundle)?;
            let counted = countable(bundle);
            let cases = cases(network, posterior, &prefixes, &block_of, counted)?;
            Ok(mutual_information(counted, &cases))
        })
        .collect()
}

impl Observable {
    fn findings(&self) -> &[usize] {
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

/// How many sets of a listing hold all but a negligible share of it; a short list is taken whole.
fn prefix(listing: &Listing) -> usize {
    if listing.len() <= SHORT {
        return listing.len();
    }
    let mut left = 1.0;
    let needed = listing.sets().take_while(|(_, weight)| {
        let more = left > NEGLIGIBLE;
        left -= weight;
        more
    });
    needed.count().min(MOST_SETS)
}

/// The chance of each observed finding being false, and how likely that state is.
type Cases = HashMap<Vec<u64>, f64>;

/// The states the observed findings can be in, over all blocks that bring any of them.
fn cases(
    network: &Network,
    posterior: &Posterior,
    prefixes: &[usize],
    block_of: &[usize],
    bundle: &[Observable],
) -> Result<Vec<(Vec<f64>, f64)>, Refusal> {
    let findings: Vec<usize> = bundle.iter().flat_map(Observable::findings).copied().collect();
    let mut keep: HashMap<usize, Vec<(usize, f64)>> = HashMap::new();
    let mut quiet = Vec::with_capacity(findings.len());
    for (place, finding) in findings.iter().enumerate() {
        let finding = network.finding(*finding)?;
        quiet.push(1.0 - finding.leak);
        for link in finding.links.iter().filter(|link| link.strength > 0.0) {
            keep.entry(link.cause).or_default().push((place, 1.0 - link.strength));
        }
    }
    let mut blocks: Vec<usize> =
        keep.keys().filter_map(|cause| block_of.get(*cause)).copied().collect();
    blocks.sort_unstable();
    blocks.dedup();
    let mut all = vec![(quiet, 1.0)];
    for block in blocks {
        let own = project(
            &posterior.blocks[block].listing,
            prefixes[block],
            posterior.now,
            &keep,
            findings.len(),
        );
        all = combine(&all, &own);
    }
    Ok(all)
}

/// What the sets of one block do to the observed findings, sets that do the same put together.
fn project(
    listing: &Listing,
    prefix: usize,
    now: usize,
    keep: &HashMap<usize, Vec<(usize, f64)>>,
    findings: usize,
) -> Vec<(Vec<f64>, f64)> {
    let mut cases = Cases::new();
    let mut product = vec![1.0; findings];
    for (members, weight) in listing.sets().take(prefix) {
        product.fill(1.0);
        for member in members.iter().filter(|m| now < m.leaves) {
            for (place, keep) in keep.get(&member.cause).into_iter().flatten() {
                product[*place] *= keep;
            }
        }
        merge(&mut cases, &product, weight);
    }
    flat(cases)
}

fn combine(left: &[(Vec<f64>, f64)], right: &[(Vec<f64>, f64)]) -> Vec<(Vec<f64>, f64)> {
    let mut cases = Cases::new();
    let mut product = Vec::new();
    for (a, weight) in left {
        for (b, other) in right {
            product.clear();
            product.extend(a.iter().zip(b).map(|(a, b)| a * b));
            merge(&mut cases, &product, weight * other);
        }
    }
    flat(cases)
}

fn merge(cases: &mut Cases, product: &[f64], weight: f64) {
    let key: Vec<u64> = product.iter().map(|chance| chance.to_bits()).collect();
    *cases.entry(key).or_default() += weight;
}

/// The cases likeliest first, as many as are told apart.
fn flat(cases: Cases) -> Vec<(Vec<f64>, f64)> {
    let mut list: Vec<(Vec<u64>, f64)> = cases.into_iter().collect();
    // The key decides between equals: the order of a hash map must not reach a sum.
    list.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    list.truncate(MOST_CASES);
    list.into_iter()
        .map(|(key, weight)| (key.into_iter().map(f64::from_bits).collect(), weight))
        .collect()
}

/// Entropy of what the bundle shows, less its mean entropy with the causes known.
fn mutual_information(bundle: &[Observable], cases: &[(Vec<f64>, f64)]) -> f64 {
    let total: f64 = cases.iter().map(|(_, weight)| weight).sum();
    let mut outcomes = vec![0.0; bundle.iter().map(Observable::outcomes).product()];
    let mut known = 0.0;
    for (chance_no, weight) in cases {
        let share = weight / total;
        let mut joint = vec![share];
        let mut first = 0;
        for observable in bundle {
            let last = first + observable.findings().len();
            let report = observable.report(&chance_no[first..last]);
            known += share * entropy(&report);
            joint = report
                .iter()
                .flat_map(|chance| joint.iter().map(move |own| own * chance))
                .collect();
            first = last;
        }
        outcomes.iter_mut().zip(joint).for_each(|(sum, chance)| *sum += chance);
    }
    // Rounding can leave a hair below 0 where nothing is told.
    (entropy(&outcomes) - known).max(0.0)
}

/// In bits.
fn entropy(chances: &[f64]) -> f64 {
    chances.iter().filter(|chance| **chance > 0.0).map(|chance| -chance * chance.log2()).sum()
}
