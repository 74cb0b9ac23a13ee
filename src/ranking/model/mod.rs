//! What is known before any inference: the network, the evidence, what earlier rounds left behind,
//! and what could be looked at.

mod belief;
mod factor;
mod network;
mod observable;
mod probability;

pub use belief::Belief;
pub use factor::{Factor, Pattern, joint_probability};
pub use network::{Finding, Link, Network};
pub use observable::Observable;
pub use probability::{odds, probability_from_odds};

pub(super) use probability::check_probability;
