//! What readings teach about the uncertain inputs of a model: Bayesian calibration.
//!
//! Inputs are counted in standard normal coordinates: each input's prior, whatever its form, is mapped
//! to a standard normal variable by its quantiles, and the inputs are independent beforehand. A
//! [`Reading`] is what was read of a quantity that a [`Model`] works out from those inputs, with the
//! uncertainty of both. [`condition`] gives draws of all inputs together that are distributed as they
//! are believed once the readings are known. Inputs, readings and models are numbers and functions
//! here: what they mean is left to the rooms above.
//!
//! Ways to the draws, the cheap one first; the next is taken where the effective number of draws
//! (Kish: 1/Σw²) of the one before falls short:
//!
//! | way | taken | guarantees | evaluations |
//! | --- | --- | --- | --- |
//! | Laplace | a few of its draws weigh alike | exact where the model is linear | some ten times inputs, then one a draw |
//! | importance sampling | the weights of Laplace's draws differ | right in the limit | one or two a draw more |
//! | moves | importance sampling keeps few | right in the limit | six a draw more |
//! | tempering | it keeps next to none | right in the limit, far modes too | some tens a draw |
//!
//! Sources: Gelman et al., *Bayesian Data Analysis*, 3rd ed., 4.1 and 13.3 (Laplace), 10.4 (importance
//! sampling); Cappé, Guillin, Marin and Robert, "Population Monte Carlo", *J. Comput. Graph. Stat.*
//! 13(4), 2004; Del Moral, Doucet and Jasra, "Sequential Monte Carlo samplers", *J. R. Stat. Soc. B*
//! 68(3), 2006.

mod condition;
mod draws;
mod importance;
mod likelihood;
mod mode;
mod moves;
mod narrowing;
mod predictive;
mod resample;
mod subspace;
mod tempering;

pub use condition::{Conditioned, Method, condition};
pub use draws::Draws;
pub use likelihood::{Model, Reading};
pub use narrowing::variance_share;
pub use predictive::{Predictive, Surprise};
