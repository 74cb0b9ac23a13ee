//! Causes ranked by what was seen: plain probability over ids and numbers.
//!
//! A [`Network`] holds the causes' priors and how strongly each brings which finding; evidence comes
//! as [`Factor`]s; a [`Belief`] carries earlier rounds; [`posterior`] puts them together. Causes and
//! findings are indices here: what they mean is left to the rooms above.

mod inference;
mod model;
mod queries;
mod refusal;

pub use model::belief::Belief;
pub use model::factor::{Factor, Pattern};
pub use model::network::{Finding, Link, Network};
pub use queries::information::{Observable, information};
pub use queries::leave_one_out::{Without, without_each};
pub use queries::overturn::{Overturn, Wrong, overturns};
pub use queries::plan::{Plan, Repair, Step, Way, plan};
pub use queries::posterior::{Inference, LikelySet, Posterior, RestsOn, posterior};
pub use refusal::{FactorAt, Refusal};
