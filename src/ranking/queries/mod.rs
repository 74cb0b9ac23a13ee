//! What is asked of the causes once they are weighed.

pub(in crate::ranking) mod information;
pub(in crate::ranking) mod leave_one_out;
mod minimal_conflict;
pub(in crate::ranking) mod overturn;
pub(in crate::ranking) mod plan;
pub(in crate::ranking) mod posterior;
mod predictive;
mod remaining;
mod reweight;
mod what_if;
