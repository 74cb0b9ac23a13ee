//! Causes ranked by what was seen: plain probability over ids and numbers.
//!
//! A [`Network`] holds the causes' priors and how strongly each brings which finding; evidence comes
//! as [`Factor`]s; a [`Belief`] carries earlier rounds; [`posterior`] puts them together. Causes and
//! findings are indices here: what they mean is left to the rooms above.

mod belief;

mod branch;
mod cases;
mod clash;
mod enumerate;
mod factor;
mod listing;
mod network;
mod order;
mod outward;
mod overturn;
mod part;
mod plan;
mod posterior;

mod refusal;
mod relist;
mod remaining;
mod search;
mod solve;
mod supposing;
mod sweep;
mod table;
mod value;
mod why;

pub use belief::Belief;
pub use factor::{Factor, Pattern};
pub use network::{Finding, Link, Network};
pub use overturn::{Overturn, Wrong, overturns};
pub use plan::{Plan, Repair, Step, Way, plan};
pub use posterior::{Inference, LikelySet, Posterior, RestsOn, posterior};
pub use refusal::{FactorAt, Refusal};
pub use value::{Observable, information};
pub use why::{Without, without_each};
