//! What the uncertainty of given values makes of results: bands, probabilities, weights.

pub(crate) mod band;
mod chance;
mod column;
mod joint;
pub(crate) mod latin_hypercube;
pub(crate) mod memo;
pub mod normal;
pub(crate) mod perturbed;
pub(crate) mod sampled;
mod weigh;

pub use band::{Band, BandFrom, COVERAGE, CURVE_DRAWS, DRAWS, FEW_DRAWS};
pub use latin_hypercube::stream;
pub use memo::Memo;
pub use weigh::{Basis, Weight, single_basis};
