//! One part solved: the chance of each of its causes, and its sets one by one.

use super::enumerate::every_set;
use super::listing::Listing;
use super::part::Part;

/// What is known of one part of the network.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Each cause of the part with its chance of being present now.
    pub(super) probabilities: Vec<(usize, f64)>,
    /// Its likeliest sets; the weights sum to 1 less what the listing trimmed.
    pub(super) listing: Listing,
    /// Share of the probability that the sets listed at first hold; 1 where all sets were.
    pub(super) listed: f64,
    /// Whether `probabilities` count every set.
    pub(super) exact: bool,
    /// At most this share of the probability is missing from `probabilities`.
    pub(super) left_out: f64,
    /// Pieces of evidence taken at their most favourable to bound what is missing.
    pub(super) factors_eased: usize,
}

/// Weight below which sets are not worth keeping in a list: far below any tolerance in use.
const NEGLIGIBLE: f64 = 1e-15;

/// Solves a part; nothing where no set of causes fits the evidence.
pub(super) fn solve(part: &Part) -> Option<Solution> {
    let now =
        part.variables.iter().flat_map(|v| v.states.iter().map(|s| s.leaves)).max().unwrap_or(1)
            - 1;
    let draft = every_set(part);
    let listing = draft.finish(NEGLIGIBLE)?;
    let probabilities = marginals(part, &listing, now);
    Some(Solution {
        probabilities,
        listing,
        listed: 1.0,
        exact: true,
        left_out: 0.0,
        factors_eased: 0,
    })
}

/// Chance of each cause being present now, over the listed sets.
fn marginals(part: &Part, listing: &Listing, now: usize) -> Vec<(usize, f64)> {
    let causes: Vec<usize> = part.variables.iter().map(|v| v.cause).collect();
    let mut sums = vec![0.0; causes.len()];
    let mut total = 0.0;
    for (members, weight) in listing.sets() {
        total += weight;
        for member in members.iter().filter(|m| now < m.leaves) {
            if let Ok(place) = causes.binary_search(&member.cause) {
                sums[place] += weight;
            }
        }
    }
    causes.into_iter().zip(sums.into_iter().map(|sum| sum / total)).collect()
}
