//! One part solved: the chance of each of its causes, and its sets one by one.

use super::bound::{Bound, bound};
use super::enumerate::every_set;
use super::listing::Listing;
use super::part::Part;
use super::search::{Limits, best_sets};

/// What is known of one part of the network.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// Each cause of the part with its chance of being present now.
    pub(super) probabilities: Vec<(usize, f64)>,
    /// Its likeliest sets; the weights sum to 1.
    pub(super) listing: Listing,
    /// Share of the probability that the listed sets hold, so far as it is known.
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

/// Up to so many sets are listed whole: quicker than a sweep and a search.
const LISTED_WHOLE: usize = 1 << 13;

/// Up to so many sets the list is quicker than a sweep, where the list itself is not wanted.
const LISTED_FOR_CHANCES: usize = 1 << 8;

/// Up to so many are listed whole where the sweep would ease evidence: slow, but exact.
const LISTED_RATHER_THAN_EASED: usize = 1 << 18;

/// Most axes of a sweep's table: 65,536 weights.
pub(super) const WIDEST: usize = 16;

/// Share of the sum after which the search for sets stops. Chances count every set all the same (they
/// come from the sweep); the list only serves likely sets and the value of questions, to a fraction of
/// a thousandth.
const ENOUGH: f64 = 1.0 - 1e-4;

/// The same where there is no sweep to count the rest: then the list is all there is.
const ENOUGH_ALONE: f64 = 1.0 - 1e-9;

/// Most sets the search weighs.
const MOST_SETS: usize = 12_000;

/// The same where the list is all there is.
const MOST_SETS_ALONE: usize = 40_000;

/// Solves a part; nothing where no set of causes fits the evidence.
pub(super) fn solve(part: &Part, now: usize) -> Option<Solution> {
    let count = part.assignments().unwrap_or(usize::MAX);
    if count <= LISTED_WHOLE {
        return list_whole(part, now);
    }
    let bound = bound(part, WIDEST)?;
    if bound.eased > 0 && count <= LISTED_RATHER_THAN_EASED {
        return list_whole(part, now);
    }
    let (enough, most) =
        if bound.eased == 0 { (ENOUGH, MOST_SETS) } else { (ENOUGH_ALONE, MOST_SETS_ALONE) };
    let limits = Limits { log_total: bound.log_total, enough, most };
    let listing = best_sets(part, &bound.states, &limits).finish(NEGLIGIBLE)?;
    let share = (listing.log_total - bound.log_total).exp().min(1.0);
    if bound.eased == 0 {
        let probabilities = over_states(part, &bound, now);
        return Some(Solution { probabilities, listing, listed: share, ..Solution::whole() });
    }
    let probabilities = over_listing(part, &listing, now);
    let (left_out, factors_eased) = (1.0 - share, bound.eased);
    Some(Solution {
        probabilities,
        listing,
        exact: false,
        left_out,
        factors_eased,
        ..Solution::whole()
    })
}

/// Just the chance of each cause being present now; nothing where no set fits the evidence.
pub(super) fn chances(part: &Part, now: usize) -> Option<Vec<(usize, f64)>> {
    if part.assignments().is_some_and(|count| count <= LISTED_FOR_CHANCES) {
        return Some(over_listing(part, &every_set(part).finish(NEGLIGIBLE)?, now));
    }
    let bound = bound(part, WIDEST)?;
    if bound.eased > 0 {
        Some(solve(part, now)?.probabilities)
    } else {
        Some(over_states(part, &bound, now))
    }
}

fn list_whole(part: &Part, now: usize) -> Option<Solution> {
    let listing = every_set(part).finish(NEGLIGIBLE)?;
    let probabilities = over_listing(part, &listing, now);
    Some(Solution { probabilities, listing, ..Solution::whole() })
}

impl Solution {
    /// A solution that leaves nothing out, its numbers still to be filled in.
    fn whole() -> Self {
        let (probabilities, listing) = (Vec::new(), Listing::default());
        Self { probabilities, listing, listed: 1.0, exact: true, left_out: 0.0, factors_eased: 0 }
    }
}

/// Chance of each cause being present now, over the listed sets.
fn over_listing(part: &Part, listing: &Listing, now: usize) -> Vec<(usize, f64)> {
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

/// Chance of each cause being present now, from its states.
fn over_states(part: &Part, bound: &Bound, now: usize) -> Vec<(usize, f64)> {
    part.variables
        .iter()
        .zip(&bound.states)
        .map(|(variable, chances)| {
            let here = variable.states.iter().zip(chances).filter(|(state, _)| now < state.leaves);
            (variable.cause, here.map(|(_, chance)| chance).sum())
        })
        .collect()
}
