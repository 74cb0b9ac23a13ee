//! What is asked of the causes: how likely each is (`posterior`), what a look would tell
//! (`information`), what speaks for a cause (`leave_one_out`), which answer holds the lead where it is
//! (`overturn`), what would be believed if more were seen (`supposed`), in which order to work (`plan`).

mod alike;
mod information;
mod leave_one_out;
mod likely_sets;
mod minimal_conflict;
mod overturn;
mod plan;
mod posterior;
mod predictive;
mod remaining;
mod reweight;
mod supposed;
mod what_if;

pub use information::information;
pub use leave_one_out::{Without, without_each};
pub use likely_sets::LikelySet;
pub use overturn::{Overturn, Wrong, overturns};
pub use plan::{Plan, Step, Way, plan};
pub use posterior::{Inference, Posterior, lead, posterior, posterior_with};
pub use supposed::with_each;
