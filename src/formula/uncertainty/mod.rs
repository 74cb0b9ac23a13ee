//! What the uncertainty of given values makes of results: bands by first order or by draws, chances,
//! and how much a truth weighs.

mod band;
mod basis;
mod chance;
mod column;
mod density;
mod estimate;
mod evaluator;
mod expected;
mod input_draws;
mod joint;
mod joint_draws;
mod latin_hypercube;
mod lock;
mod memo;
pub mod normal;
mod perturbed;
mod piece;
mod sampled;
mod settled;
mod standing;
mod states;
mod together;
mod weight;

pub use band::{Band, BandFrom, COVERAGE, CURVE_DRAWS, DRAWS, FEW_DRAWS};
pub use basis::{Basis, single_basis};
pub use estimate::Estimate;
pub use evaluator::Evaluator;
pub use joint_draws::JointDraws;
pub use latin_hypercube::stream;
pub use memo::Memo;
pub use settled::{Doubtful, Settled};
pub use standing::Standing;
pub use together::Borders;
pub use weight::Weight;
