//! One part solved: the chance of each of its causes, and its sets one by one.

use super::best_first_search::{Limits, best_sets};
use super::component::Part;
use super::conditioning::{Limits as OutwardLimits, Outward, outward};
use super::elimination_order::{Needs, order};
use super::enumerate::every_set;
use super::variable_elimination::{Swept, sweep};
use super::weighted_sets::Listing;

/// What is known of one part of the network.
#[derive(Debug, Clone)]
pub(in crate::ranking) struct Solution {
    /// Each cause of the part with its chance of being present now.
    pub(in crate::ranking) probabilities: Vec<(usize, f64)>,
    /// Its likeliest sets; the weights sum to 1.
    pub(in crate::ranking) listing: Listing,
    /// Share of the probability that the listed sets hold, so far as it is known.
    pub(in crate::ranking) listed: f64,
    /// Whether `probabilities` count every set.
    pub(in crate::ranking) exact: bool,
    /// About this share of the probability might be otherwise spread over the causes; 0 where exact.
    pub(in crate::ranking) left_out: f64,
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
const LISTED_RATHER_THAN_ESTIMATED: usize = 1 << 18;

/// Where a sweep would be wider, no more of the sum than this stays in doubt: nobody acts on so little.
const DOUBT: f64 = 2e-3;

/// Most branches weighed for that.
const MOST_BRANCHES: usize = 600;

/// Where more than this stayed in doubt, the sum says nothing, and the likeliest sets by themselves say
/// more.
const TOO_MUCH: f64 = 0.3;

/// Share of the sum after which the search for sets stops. Chances count every set all the same; the
/// list only serves likely sets and the value of questions, to a fraction of a thousandth.
const ENOUGH: f64 = 1.0 - 1e-4;

/// Most sets the search weighs.
const MOST_SETS: usize = 12_000;

/// Whether any set of causes fits the evidence.
pub(in crate::ranking) fn is_possible(part: &Part) -> bool {
    match swept(part) {
        Ok(swept) => swept.is_some(),
        Err(()) => wide(part).is_some(),
    }
}

/// Solves a part; nothing where no set of causes fits the evidence.
pub(in crate::ranking) fn solve(part: &Part, now: usize) -> Option<Solution> {
    let count = part.assignments().unwrap_or(usize::MAX);
    if count <= LISTED_WHOLE {
        return list_whole(part, now);
    }
    let Ok(swept) = swept(part) else {
        return if count <= LISTED_RATHER_THAN_ESTIMATED {
            list_whole(part, now)
        } else {
            solve_wide(part, now)
        };
    };
    let Swept { log_total, states } = swept?;
    let limits = Limits { log_total, enough: ENOUGH, most: MOST_SETS };
    let listing = best_sets(part, &states, &limits).finish(NEGLIGIBLE)?;
    let listed = (listing.log_total - log_total).exp().min(1.0);
    let probabilities = over_states(part, &states, now);
    Some(Solution { probabilities, listing, listed, exact: true, left_out: 0.0 })
}

fn solve_wide(part: &Part, now: usize) -> Option<Solution> {
    let Outward { log, doubt, states, sets } = wide(part)?;
    if doubt > TOO_MUCH {
        let limits = Limits { log_total: log, enough: ENOUGH, most: MOST_SETS };
        let listing = best_sets(part, &states, &limits).finish(NEGLIGIBLE)?;
        let probabilities = over_listing(part, &listing, now);
        return Some(Solution {
            probabilities,
            listing,
            listed: 1.0,
            exact: false,
            left_out: doubt,
        });
    }
    let listing = sets.finish(NEGLIGIBLE)?;
    let listed = (listing.log_total - log).exp().min(1.0);
    let probabilities = over_states(part, &states, now);
    Some(Solution { probabilities, listing, listed, exact: false, left_out: doubt })
}

/// Just the chance of each cause being present now; nothing where no set fits the evidence.
pub(in crate::ranking) fn chances(part: &Part, now: usize) -> Option<Vec<(usize, f64)>> {
    if part.assignments().is_some_and(|count| count <= LISTED_FOR_CHANCES) {
        return Some(over_listing(part, &every_set(part).finish(NEGLIGIBLE)?, now));
    }
    let states = match swept(part) {
        Ok(swept) => swept?.states,
        Err(()) => wide(part)?.states,
    };
    Some(over_states(part, &states, now))
}

/// The exact sum over all sets; an error where the sweep would be too wide.
fn swept(part: &Part) -> Result<Option<Swept>, ()> {
    let needs = Needs::new(part);
    let order = order(&needs, WIDEST).ok_or(())?;
    Ok(sweep(part, &needs, &order.variables))
}

fn wide(part: &Part) -> Option<Outward> {
    outward(part, &OutwardLimits { doubt: DOUBT, most: MOST_BRANCHES })
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
