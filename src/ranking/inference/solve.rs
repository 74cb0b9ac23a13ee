//! One component solved: the probability of each of its causes, and its sets one by one.
//!
//! How it is done depends on how many assignments of states there are, and on how many axes the
//! cheapest elimination order found needs:
//!
//! | way | taken | what it guarantees | cost |
//! | --- | --- | --- | --- |
//! | `enumeration` | up to 2^13 assignments, or up to 2^18 where elimination is too wide | exact, all sets listed | assignments × links |
//! | `variable_elimination`, then `best_first_search` | up to 16 axes | probabilities exact; the list holds all but 1e-4 of the sum, or 12,000 sets | variables × 2^axes, twice; then sets × links |
//! | `conditioning` | wider than that | probabilities and list to an error estimated from pairs of causes (not a bound), 2e-3 or what 600 branches reach | branches × links |
//! | `best_first_search` alone | where conditioning leaves an error above 0.3 | the likeliest sets it found speak for all; the error is reported | sets × links |
//!
//! Which way was taken shows in `exact` and `left_out`. `marginals`, which asks for no list, enumerates
//! up to 2^8 assignments, and goes on to elimination and conditioning from there.

use super::best_first_search::best_sets;
use super::component::Component;
use super::conditioning::{EstimatedSum, estimated_sum};
use super::elimination_order::{Scope, elimination_order};
use super::enumeration::every_set;
use super::variable_elimination::{Marginals, eliminate};
use super::weighted_sets::WeightedSets;

/// What is known of one component of the network.
#[derive(Debug, Clone)]
pub(in crate::ranking) struct ComponentPosterior {
    /// Each cause of the component with its probability of being present now.
    pub(in crate::ranking) probabilities: Vec<(usize, f64)>,
    /// Its likeliest sets; the weights sum to 1.
    pub(in crate::ranking) sets: WeightedSets,
    /// Share of the probability that the listed sets hold, so far as it is known.
    pub(in crate::ranking) listed: f64,
    /// Whether `probabilities` count every set.
    pub(in crate::ranking) exact: bool,
    /// About this share of the probability might be otherwise spread over the causes; 0 where exact.
    pub(in crate::ranking) left_out: f64,
}

/// Weight below which sets are not worth keeping in a list: far below any tolerance in use.
const NEGLIGIBLE: f64 = 1e-15;

/// Up to so many assignments are enumerated: quicker than elimination and a search.
const MAX_ENUMERATED: usize = 1 << 13;

/// Up to so many are enumerated rather than eliminated where the list itself is not wanted.
const MAX_ENUMERATED_FOR_MARGINALS: usize = 1 << 8;

/// Most axes of a table: 65,536 weights.
const MAX_AXES: usize = 16;

/// Up to so many are enumerated where elimination needs more axes: slow, but exact.
const MAX_ENUMERATED_RATHER_THAN_ESTIMATED: usize = 1 << 18;

/// Where conditioning leaves more than this uncertain, the sum says nothing, and the likeliest sets by
/// themselves say more.
const MAX_USEFUL_ERROR: f64 = 0.3;

/// Whether any set of causes fits the evidence.
pub(in crate::ranking) fn is_possible(component: &Component) -> bool {
    match by_elimination(component) {
        Ok(marginals) => marginals.is_some(),
        Err(TooWide) => estimated_sum(component).is_some(),
    }
}

/// Solves a component; nothing where no set of causes fits the evidence.
pub(in crate::ranking) fn solve(component: &Component, now: usize) -> Option<ComponentPosterior> {
    let count = component.assignments().unwrap_or(usize::MAX);
    if count <= MAX_ENUMERATED {
        return by_enumeration(component, now);
    }
    match by_elimination(component) {
        Ok(marginals) => {
            let Marginals { log_total, states } = marginals?;
            let sets = search(component, &states, log_total)?;
            let probabilities = over_states(component, &states, now);
            let listed = share_listed(&sets, log_total);
            Some(ComponentPosterior { probabilities, sets, listed, exact: true, left_out: 0.0 })
        }
        Err(TooWide) if count <= MAX_ENUMERATED_RATHER_THAN_ESTIMATED => {
            by_enumeration(component, now)
        }
        Err(TooWide) => by_conditioning(component, now),
    }
}

/// Just the probability of each cause being present now; nothing where no set fits the evidence.
pub(in crate::ranking) fn marginals(
    component: &Component,
    now: usize,
) -> Option<Vec<(usize, f64)>> {
    if component.assignments().is_some_and(|count| count <= MAX_ENUMERATED_FOR_MARGINALS) {
        return Some(over_sets(component, &every_set(component).finish(NEGLIGIBLE)?, now));
    }
    let states = match by_elimination(component) {
        Ok(marginals) => marginals?.states,
        Err(TooWide) => estimated_sum(component)?.states,
    };
    Some(over_states(component, &states, now))
}

/// Elimination would need more than [`MAX_AXES`].
struct TooWide;

/// The exact sum over all sets.
fn by_elimination(component: &Component) -> Result<Option<Marginals>, TooWide> {
    let scope = Scope::new(component);
    let order = elimination_order(&scope, MAX_AXES).ok_or(TooWide)?;
    Ok(eliminate(component, &scope, &order))
}

fn by_enumeration(component: &Component, now: usize) -> Option<ComponentPosterior> {
    let sets = every_set(component).finish(NEGLIGIBLE)?;
    let probabilities = over_sets(component, &sets, now);
    Some(ComponentPosterior { probabilities, sets, listed: 1.0, exact: true, left_out: 0.0 })
}

fn by_conditioning(component: &Component, now: usize) -> Option<ComponentPosterior> {
    let EstimatedSum { log_total, error, states, sets } = estimated_sum(component)?;
    let (probabilities, sets, listed) = if error > MAX_USEFUL_ERROR {
        let sets = search(component, &states, log_total)?;
        (over_sets(component, &sets, now), sets, 1.0)
    } else {
        let sets = sets.finish(NEGLIGIBLE)?;
        let listed = share_listed(&sets, log_total);
        (over_states(component, &states, now), sets, listed)
    };
    Some(ComponentPosterior { probabilities, sets, listed, exact: false, left_out: error })
}

fn search(component: &Component, states: &[Vec<f64>], log_total: f64) -> Option<WeightedSets> {
    best_sets(component, states, log_total).finish(NEGLIGIBLE)
}

fn share_listed(sets: &WeightedSets, log_total: f64) -> f64 {
    (sets.log_total - log_total).exp().min(1.0)
}

/// Probability of each cause being present now, over the listed sets.
fn over_sets(component: &Component, sets: &WeightedSets, now: usize) -> Vec<(usize, f64)> {
    let causes: Vec<usize> = component.causes().collect();
    let mut sums = vec![0.0; causes.len()];
    let mut total = 0.0;
    for (members, weight) in sets.iter() {
        total += weight;
        for member in members.iter().filter(|member| member.is_present_in(now)) {
            if let Ok(place) = causes.binary_search(&member.cause) {
                sums[place] += weight;
            }
        }
    }
    causes.into_iter().zip(sums.into_iter().map(|sum| sum / total)).collect()
}

/// Probability of each cause being present now, from its states.
fn over_states(component: &Component, states: &[Vec<f64>], now: usize) -> Vec<(usize, f64)> {
    let variables = component.variables.iter().zip(states);
    variables
        .map(|(variable, probabilities)| {
            let states = variable.states.iter().zip(probabilities);
            let here = states.filter(|(state, _)| state.is_present_in(now));
            (variable.cause, here.map(|(_, probability)| probability).sum())
        })
        .collect()
}
