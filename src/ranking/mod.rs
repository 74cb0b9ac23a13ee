//! Causes ranked by what was seen: plain probability over ids and numbers.
//!
//! A [`Network`] holds the causes' priors and how strongly each brings which finding; evidence comes
//! as [`Factor`]s; a [`Belief`] carries earlier rounds; [`posterior`] puts them together. Causes and
//! findings are indices here: what they mean is left to the rooms above.
//!
//! Three folders, each of which uses only those before it: `model` is what is known, `inference` makes
//! the probability of each cause of it, `queries` is what is asked of the result.
//!
//! ```
//! use boostwright::ranking::{
//!     Belief, Factor, Finding, Link, Network, Observable, Repair, information, plan, posterior,
//! };
//!
//! // Two causes that bring the same complaint, and a second finding that tells them apart.
//! let link = |cause, strength| Link { cause, strength };
//! let complaint = Finding { leak: 0.01, links: vec![link(0, 0.9), link(1, 0.9)] };
//! let telling = Finding { leak: 0.05, links: vec![link(0, 0.9)] };
//! let network = Network::new(vec![0.05, 0.05], vec![complaint, telling])?;
//!
//! // As likely as each other, until the second finding is seen to be true.
//! let seen = posterior(&network, &Belief::start(), &[Factor::yes(0)])?;
//! let look = vec![Observable::Finding { finding: 1, sure: 0.95 }];
//! assert!(information(&network, &seen, &[look])?[0] > 0.3);
//! let seen = posterior(&network, &Belief::start(), &[Factor::yes(0), Factor::yes(1)])?;
//! assert_eq!(seen.lead(), Some(0));
//!
//! // So its repair comes first.
//! let repair = |cause| Repair { mends: vec![cause], succeeds: 0.9, minutes: 30.0, check: None };
//! let plan = plan(&seen, &[0, 1], &[repair(0), repair(1)], 600.0)?;
//! assert_eq!(plan.steps[0].repair, 0);
//! # Ok::<(), boostwright::ranking::Refusal>(())
//! ```

mod distinct;
mod inference;
mod model;
mod queries;
mod refusal;

pub use inference::{Effort, RestsOn};
pub use model::{
    Belief, Factor, Finding, Joint, Link, Network, Observable, Part, Pattern, Repair, Slip,
    joint_probability, odds, probability_from_odds,
};
pub use queries::{
    Inference, LikelySet, Overturn, Plan, Posterior, Step, Way, Without, Wrong, information, lead,
    overturns, plan, posterior, posterior_with, with_each, without_each,
};
pub use refusal::{FactorAt, Refusal};
