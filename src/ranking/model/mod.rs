//! What is known before any inference: the network, the evidence, what earlier rounds left behind,
//! what could be looked at and what could be done.

mod belief;
mod factor;
mod network;
mod observable;
mod probability;
mod repair;

pub use belief::Belief;
pub use factor::{Factor, Joint, Part, Pattern, Slip, joint_probability};
pub use network::{Finding, Link, Network};
pub use observable::Observable;
pub use probability::{odds, probability_from_odds};
pub use repair::Repair;

pub(super) use factor::check_distinct;
pub(super) use probability::check_probability;
