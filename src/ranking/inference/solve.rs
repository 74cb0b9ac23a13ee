//! One component solved: the probability of each of its causes, and its sets one by one.
//!
//! How it is done depends on how many assignments of states there are, and on how many axes the
//! cheapest elimination order found needs:
//!
//! | way | taken | what it guarantees | cost |
//! | --- | --- | --- | --- |
//! | `enumeration` | up to 2^13 assignments, or up to 2^18 where elimination is too wide | exact, all sets listed | assignments × links |
//! | `variable_elimination`, then `best_first_search` | up to 16 axes | probabilities exact; the list holds all but 1e-4 of the sum, or 12,000 sets | variables × 2^axes, twice; then sets × links |
//! | `conditioning` | wider than that | probabilities and list to an error estimated from pairs of causes, where 300 branches (600 for a conclusion) bring that below 2e-3 | branches × links |
//! | `sampling` over the branches | where they don't | probabilities unbiased, each with four standard errors and a bit as its doubt, below 8e-3 if the work allowed suffices; the list holds the likeliest sets the branches came by | draws × links |
//! | `markov_chain` | where the first draws leave a doubt above 0.1 | four standard errors as the doubt; the list holds sets as often as they were drawn | sweeps × links |
//!
//! Which way was taken shows in `rests_on`, and how good it is in `doubts`. The listed sets never stand
//! for the sum: they serve likely sets and the value of questions. `marginals`, which asks for no list,
//! enumerates up to 2^8 assignments, and goes on to elimination and conditioning from there.

use std::sync::Arc;

use super::best_first_search::best_sets;
use super::branched::Branched;
use super::component::Component;
use super::conditioning::{Effort, EstimatedSum, estimated_sum};
use super::elimination_order::{Scope, elimination_order};
use super::enumeration::every_set;
use super::rests_on::RestsOn;
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
    /// What `probabilities` and `doubts` rest on.
    pub(in crate::ranking) rests_on: RestsOn,
    /// The order its causes were eliminated in; empty where they were not.
    pub(in crate::ranking) order: Vec<usize>,
    /// The branches its sum was made of; none where every set was counted.
    pub(in crate::ranking) branched: Option<Arc<Branched>>,
    /// By how much each of the probabilities may be off; 0 where exact.
    pub(in crate::ranking) doubts: Vec<f64>,
}

impl ComponentPosterior {
    /// Whether `probabilities` count every set.
    pub(in crate::ranking) fn is_exact(&self) -> bool {
        self.rests_on == RestsOn::AllSets
    }
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

/// Whether any set of causes fits the evidence.
pub(in crate::ranking) fn is_possible(component: &Component) -> bool {
    match by_elimination(component, &[]) {
        Ok(marginals) => marginals.is_some(),
        Err(TooWide) => estimated_sum(component, Effort::Question).is_some(),
    }
}

/// Solves a component; nothing where no set of causes fits the evidence.
pub(in crate::ranking) fn solve(
    component: &Component,
    now: usize,
    effort: Effort,
) -> Option<ComponentPosterior> {
    let count = component.assignments().unwrap_or(usize::MAX);
    if count <= MAX_ENUMERATED {
        return by_enumeration(component, now);
    }
    match by_elimination(component, &[]) {
        Ok(marginals) => {
            let (Marginals { log_total, states }, order) = marginals?;
            let sets = search(component, &states, log_total)?;
            let probabilities = over_states(component, &states, now);
            let listed = share_listed(&sets, log_total);
            let cause = |variable: usize| component.variables[variable].cause;
            let order = order.into_iter().map(cause).collect();
            Some(ComponentPosterior { order, ..exactly(probabilities, sets, listed) })
        }
        Err(TooWide) if count <= MAX_ENUMERATED_RATHER_THAN_ESTIMATED => {
            by_enumeration(component, now)
        }
        Err(TooWide) => by_conditioning(component, now, effort),
    }
}

/// Just the probability of each cause being present now; nothing where no set fits the evidence.
/// `ranks` says for each cause when it is best eliminated, as found for much the same evidence.
pub(in crate::ranking) fn marginals(
    component: &Component,
    now: usize,
    ranks: &[Option<usize>],
) -> Option<Vec<(usize, f64)>> {
    if component.assignments().is_some_and(|count| count <= MAX_ENUMERATED_FOR_MARGINALS) {
        return Some(over_sets(component, &every_set(component).finish(NEGLIGIBLE)?, now));
    }
    let states = match by_elimination(component, ranks) {
        Ok(marginals) => marginals?.0.states,
        Err(TooWide) => estimated_sum(component, Effort::Question)?.states,
    };
    Some(over_states(component, &states, now))
}

/// Elimination would need more than [`MAX_AXES`].
struct TooWide;

/// The exact sum over all sets, and the order it was made in.
fn by_elimination(
    component: &Component,
    ranks: &[Option<usize>],
) -> Result<Option<(Marginals, Vec<usize>)>, TooWide> {
    let scope = Scope::new(component);
    let known = known_order(component, ranks).filter(|order| scope.width(order) <= MAX_AXES);
    let order = known.or_else(|| elimination_order(&scope, MAX_AXES)).ok_or(TooWide)?;
    Ok(eliminate(component, &scope, &order).map(|marginals| (marginals, order)))
}

/// The variables by the ranks of their causes; nothing where one has none.
fn known_order(component: &Component, ranks: &[Option<usize>]) -> Option<Vec<usize>> {
    let rank = |cause: usize| ranks.get(cause).copied().flatten();
    let ranked =
        component.causes().enumerate().map(|(variable, cause)| Some((rank(cause)?, variable)));
    let mut ranked: Vec<(usize, usize)> = ranked.collect::<Option<_>>()?;
    ranked.sort_unstable();
    Some(ranked.into_iter().map(|(_, variable)| variable).collect())
}

fn by_enumeration(component: &Component, now: usize) -> Option<ComponentPosterior> {
    let sets = every_set(component).finish(NEGLIGIBLE)?;
    let probabilities = over_sets(component, &sets, now);
    Some(exactly(probabilities, sets, 1.0))
}

fn exactly(
    probabilities: Vec<(usize, f64)>,
    sets: WeightedSets,
    listed: f64,
) -> ComponentPosterior {
    let doubts = vec![0.0; probabilities.len()];
    let rests_on = RestsOn::AllSets;
    ComponentPosterior {
        probabilities,
        doubts,
        sets,
        listed,
        rests_on,
        order: Vec::new(),
        branched: None,
    }
}

fn by_conditioning(
    component: &Component,
    now: usize,
    effort: Effort,
) -> Option<ComponentPosterior> {
    let EstimatedSum { log_total, states, doubts, rests_on, sets, branches } =
        estimated_sum(component, effort)?;
    let probabilities = over_states(component, &states, now);
    let of_causes = |(_, doubt): (usize, f64)| doubt.min(1.0);
    let doubts = over_states(component, &doubts, now).into_iter().map(of_causes).collect();
    // The sum itself says that some set fits, also where none of few causes does.
    let sets = sets.finish(NEGLIGIBLE).unwrap_or_default();
    let listed = log_total.map_or(1.0, |log_total| share_listed(&sets, log_total));
    let branched = (!branches.is_empty())
        .then(|| Arc::new(Branched { component: component.clone(), branches }));
    let order = Vec::new();
    Some(ComponentPosterior { probabilities, doubts, sets, listed, rests_on, order, branched })
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

/// The figures of each cause's states where it is present now, added up.
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
