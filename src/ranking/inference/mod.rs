//! From the network and the evidence to the chance of each cause.

mod best_first_search;
mod branch;
pub(in crate::ranking) mod component;
mod conditioning;
mod elimination_order;
mod enumerate;
pub(in crate::ranking) mod solve;
mod table;
mod variable_elimination;
pub(in crate::ranking) mod weighted_sets;
