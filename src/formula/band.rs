//! The uncertainty of a result that is a pure function of uncertain roots: evaluate it again with
//! each root moved (JCGM 100:2008, 5.1, first order); where that doesn't hold, draw the roots at
//! random (JCGM 101:2008). Inputs that share a root are so correlated rightly without bookkeeping.

use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use super::evaluate::Gap;
use crate::physics::Refusal;

/// Draws of the Monte Carlo evaluation.
const DRAWS: usize = 10_000;
/// One fixed seed: the same answers give the same band, on every machine.
const SEED: u64 = 0x00b0_0573;
/// Covers 95 % of a normal distribution to either side.
pub const COVERAGE: f64 = 1.96;
/// The step of the central difference, in uncertainties of the root.
const STEP: f64 = 1e-3;
/// How far the change over a whole uncertainty may differ from the first-order one.
const TOLERANCE: f64 = 0.1;

/// An uncertain input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    pub value: f64,
    /// One standard uncertainty; 0 where it is exact.
    pub uncertainty: f64,
}

/// How a band was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandFrom {
    FirstOrder,
    MonteCarlo {
        /// Draws that the calculation refused.
        refused: usize,
        draws: usize,
    },
}

/// A result with its standard uncertainty and the 95 % band.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    pub value: f64,
    pub uncertainty: f64,
    pub low: f64,
    pub high: f64,
    pub from: BandFrom,
    /// For each root: the change of the result for one uncertainty of the root, first order.
    pub shares: Vec<f64>,
}

/// The band of `result` over its roots.
///
/// # Errors
/// What `result` gives at the roots' own values; or a refusal where more than half of the random
/// draws are refused.
pub fn band(
    roots: &[Root],
    result: &mut dyn FnMut(&[f64]) -> Result<f64, Gap>,
) -> Result<Band, Gap> {
    let mut at: Vec<f64> = roots.iter().map(|root| root.value).collect();
    let value = result(&at)?;
    let mut sides = Vec::with_capacity(roots.len());
    for (index, root) in roots.iter().enumerate() {
        if root.uncertainty > 0.0 {
            sides.push(Sides::around(index, root, &mut at, result));
        } else {
            sides.push(Sides::still());
        }
    }
    let shares: Vec<f64> = sides.iter().map(|side| side.share(value)).collect();
    let uncertainty = shares.iter().map(|share| share * share).sum::<f64>().sqrt();
    // Rounding of the inner roots, and shares that can't be seen in the sum, are no curvature.
    let noise = 1e-8 * value.abs() + 1e-6 * uncertainty;
    if sides.iter().all(|side| side.straight(value, noise)) {
        let half = COVERAGE * uncertainty;
        let (low, high) = (value - half, value + half);
        return Ok(Band { value, uncertainty, low, high, from: BandFrom::FirstOrder, shares });
    }
    monte_carlo(roots, value, shares, result)
}

/// The result with one root moved a small step and a whole uncertainty to either side.
struct Sides {
    near: [Option<f64>; 2],
    far: [Option<f64>; 2],
    moved: bool,
}

impl Sides {
    fn still() -> Self {
        Self { near: [None; 2], far: [None; 2], moved: false }
    }

    fn around(
        index: usize,
        root: &Root,
        at: &mut [f64],
        result: &mut dyn FnMut(&[f64]) -> Result<f64, Gap>,
    ) -> Self {
        let mut moved = |by: f64| {
            at[index] = root.value + by * root.uncertainty;
            let found = result(at).ok();
            at[index] = root.value;
            found
        };
        Self {
            near: [moved(-STEP), moved(STEP)],
            far: [moved(-1.0), moved(1.0)],
            moved: true,
        }
    }

    /// The first-order change for one uncertainty; one-sided at the edge of what is accepted.
    fn share(&self, value: f64) -> f64 {
        match self.near {
            [Some(below), Some(above)] => (above - below) / (2.0 * STEP),
            [Some(below), None] => (value - below) / STEP,
            [None, Some(above)] => (above - value) / STEP,
            [None, None] => 0.0,
        }
    }

    fn straight(&self, value: f64, noise: f64) -> bool {
        if !self.moved {
            return true;
        }
        let ([Some(_), Some(_)], [Some(below), Some(above)]) = (self.near, self.far) else {
            return false;
        };
        let share = self.share(value);
        let allowed = TOLERANCE * share.abs() + noise;
        (above - value - share).abs() <= allowed && (value - below - share).abs() <= allowed
    }
}

fn monte_carlo(
    roots: &[Root],
    value: f64,
    shares: Vec<f64>,
    result: &mut dyn FnMut(&[f64]) -> Result<f64, Gap>,
) -> Result<Band, Gap> {
    let mut generator = Xoshiro256PlusPlus::seed_from_u64(SEED);
    let mut at = vec![0.0; roots.len()];
    let mut drawn = Vec::with_capacity(DRAWS);
    for _ in 0..DRAWS {
        for (place, root) in at.iter_mut().zip(roots) {
            let normal: f64 = StandardNormal.sample(&mut generator);
            *place = root.value + root.uncertainty * normal;
        }
        if let Ok(found) = result(&at) {
            drawn.push(found);
        }
    }
    let refused = DRAWS - drawn.len();
    if refused * 2 > DRAWS {
        let reason = format!(
            "more than half of what its uncertain inputs may be ({refused} of {DRAWS} draws) can't be calculated"
        );
        return Err(Gap::Refused(Refusal::new("result", reason)));
    }
    drawn.sort_by(f64::total_cmp);
    let (low, high) = (quantile(&drawn, 0.025), quantile(&drawn, 0.975));
    let uncertainty = (high - low) / 2.0 / COVERAGE;
    Ok(Band { value, uncertainty, low, high, from: BandFrom::MonteCarlo { refused, draws: DRAWS }, shares })
}

/// The quantile of sorted draws, linear between neighbours.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "at most DRAWS")]
    let place = share * (sorted.len().saturating_sub(1)) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to DRAWS")]
    let below = place as usize;
    let value = |index: usize| sorted.get(index).or(sorted.last()).copied().unwrap_or(f64::NAN);
    value(below) + (value(below + 1) - value(below)) * place.fract()
}
