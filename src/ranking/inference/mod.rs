//! From the network and the evidence to the probability of each cause: `component` cuts the problem
//! into independent components, `solve` chooses how each is worked out and says what each way
//! guarantees.

mod absorption;
mod best_first_search;
mod branch;
mod branched;
mod component;
mod conditioning;
mod effects;
mod elimination_order;
mod enumeration;
mod markov_chain;
mod priority_queue;
mod rests_on;
mod sampling;
mod solve;
mod table;
mod variable;
mod variable_elimination;
mod weighted_sets;

pub(super) use branched::{Change, Changing};
pub(super) use component::components;
pub use conditioning::Effort;
pub use rests_on::RestsOn;
pub(super) use solve::{ComponentPosterior, is_possible, marginals, solve};
pub(super) use weighted_sets::{WeightedSets, count_to_cover};
