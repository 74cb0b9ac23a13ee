//! One part solved: the chance of each of its causes, and its sets one by one.

use super::bracket::{Bracket, Limits as BracketLimits, bracket};
use super::enumerate::every_set;
use super::listing::Listing;
use super::order::{Needs, order};
use super::part::Part;
use super::reach::Range;
use super::search::{Limits, best_sets};
use super::sweep::sweep;

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
}

/// Weight below which sets are not worth keeping in a list: far below any tolerance in use.
const NEGLIGIBLE: f64 = 1e-15;

/// Up to so many sets are listed whole: quicker than a sweep and a search.
const LISTED_WHOLE: usize = 1 << 13;

/// Up to so many sets the list is quicker than a sweep, where the list itself is not wanted.
const LISTED_FOR_CHANCES: usize = 1 << 8;

/// Most axes of a sweep's table: 65,536 weights.
const WIDEST: usize = 16;

/// Up to so many sets are listed whole where a sweep would be wider: slow, but exact.
const LISTED_RATHER_THAN_BRACKETED: usize = 1 << 18;

/// Where a sweep would be wider, brackets are split until so little is unknown. No chance is off by
/// more, and nobody acts on so little.
const UNKNOWN: f64 = 5e-3;

/// Most brackets weighed for that.
const MOST_BRACKETS: usize = 800;

/// Where more stayed unknown than this, a long list may know more than the brackets do.
const TOO_MUCH: f64 = 0.5;

/// Share of the sum after which the search for sets stops. Chances count every set all the same; the
/// list only serves likely sets and the value of questions, to a fraction of a thousandth.
const ENOUGH: f64 = 1.0 - 1e-4;

/// Most sets the search weighs.
const MOST_SETS: usize = 12_000;

/// The same beside brackets, where more would not make it whole either; and where those stayed wide.
const MOST_SETS_BESIDE: usize = 4_000;
const MOST_SETS_INSTEAD: usize = 40_000;

/// The sum over all sets of a part.
struct Total {
    /// Natural logarithms of the ends of the sum, and of what it is taken for.
    log: Range,
    log_best: f64,
    exact: bool,
    /// The chances of each variable's states.
    states: Vec<Vec<f64>>,
}

impl Total {
    /// Share of the sum that lies above what is known, given as a logarithm.
    fn beyond(&self, log_known: f64) -> f64 {
        (1.0 - (log_known - self.log.high).exp()).clamp(0.0, 1.0)
    }
}

/// Sums over all sets; nothing where no set has a weight.
fn total(part: &Part) -> Option<Total> {
    let needs = Needs::new(part);
    let order = order(&needs);
    if order.widest <= WIDEST {
        let swept = sweep(part, &needs, &order.variables)?;
        let log = Range { low: swept.log_total, high: swept.log_total };
        return Some(Total { log, log_best: swept.log_total, exact: true, states: swept.states });
    }
    let bracket = bracket(part, &BracketLimits { unknown: UNKNOWN, most: MOST_BRACKETS })?;
    let Bracket { log, log_best, states } = bracket;
    Some(Total { log, log_best, exact: false, states })
}

/// Whether any set of causes fits the evidence.
pub(super) fn is_possible(part: &Part) -> bool {
    total(part).is_some()
}

/// Solves a part; nothing where no set of causes fits the evidence.
pub(super) fn solve(part: &Part, now: usize) -> Option<Solution> {
    let count = part.assignments().unwrap_or(usize::MAX);
    if count <= LISTED_WHOLE {
        return list_whole(part, now);
    }
    let total = total(part)?;
    if !total.exact && count <= LISTED_RATHER_THAN_BRACKETED {
        return list_whole(part, now);
    }
    let left_out = if total.exact { 0.0 } else { total.beyond(total.log.low) };
    let most = match (total.exact, left_out > TOO_MUCH) {
        (true, _) => MOST_SETS,
        (false, false) => MOST_SETS_BESIDE,
        (false, true) => MOST_SETS_INSTEAD,
    };
    let limits = Limits { log_total: total.log_best, enough: ENOUGH, most };
    let listing = best_sets(part, &total.states, &limits).finish(NEGLIGIBLE)?;
    let listed = (listing.log_total - total.log_best).exp().min(1.0);
    if left_out > TOO_MUCH && listing.log_total > total.log.low {
        let probabilities = over_listing(part, &listing, now);
        let left_out = total.beyond(listing.log_total);
        return Some(Solution { probabilities, listing, listed, exact: false, left_out });
    }
    let probabilities = over_states(part, &total.states, now);
    Some(Solution { probabilities, listing, listed, exact: total.exact, left_out })
}

/// Just the chance of each cause being present now; nothing where no set fits the evidence.
pub(super) fn chances(part: &Part, now: usize) -> Option<Vec<(usize, f64)>> {
    if part.assignments().is_some_and(|count| count <= LISTED_FOR_CHANCES) {
        return Some(over_listing(part, &every_set(part).finish(NEGLIGIBLE)?, now));
    }
    Some(over_states(part, &total(part)?.states, now))
}

fn list_whole(part: &Part, now: usize) -> Option<Solution> {
    let listing = every_set(part).finish(NEGLIGIBLE)?;
    let probabilities = over_listing(part, &listing, now);
    Some(Solution { probabilities, listing, listed: 1.0, exact: true, left_out: 0.0 })
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
fn over_states(part: &Part, states: &[Vec<f64>], now: usize) -> Vec<(usize, f64)> {
    part.variables
        .iter()
        .zip(states)
        .map(|(variable, chances)| {
            let here = variable.states.iter().zip(chances).filter(|(state, _)| now < state.leaves);
            (variable.cause, here.map(|(_, chance)| chance).sum())
        })
        .collect()
}
