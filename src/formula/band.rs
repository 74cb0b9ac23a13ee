//! The uncertainty of a result that is a pure function of uncertain roots: evaluate it again with
//! each root moved (JCGM 100:2008, 5.1, first order); where that doesn't hold, draw the roots at
//! random (JCGM 101:2008). Inputs that share a root are so correlated rightly without bookkeeping.

use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use super::evaluate::Gap;
use crate::physics::Refusal;

/// Draws of the Monte Carlo evaluation.
pub const DRAWS: usize = 10_000;
/// Draws where each one solves the balances of a whole engine, and for each point of a curve: nobody
/// waits ten seconds for the third digit of a band.
pub const FEW_DRAWS: usize = 1_000;
/// One fixed seed: the same answers give the same band, on every machine.
const SEED: u64 = 0x00b0_0573;
/// Covers 95 % of a normal distribution to either side.
pub const COVERAGE: f64 = 1.96;
/// The step of the central difference, in uncertainties of the root.
const STEP: f64 = 1e-3;
/// A share of the result that is smaller comes from the last digits of floats.
const ROUNDING: f64 = 1e-10;
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

/// Evaluates the wanted results (by their places) with the roots at the given values.
pub(super) type Results<'a> = dyn FnMut(&[f64], &[usize]) -> Vec<Result<f64, Gap>> + 'a;

/// The bands of several results over common roots: `rests_on[i]` are the places of the roots below
/// result `i`. Each root is moved once for all that rest on it.
///
/// Each result is what it gives at the roots' own values, or a refusal where more than half of
/// the random draws are refused.
pub(super) fn bands(
    roots: &[Root],
    rests_on: &[Vec<usize>],
    draws: usize,
    results: &mut Results<'_>,
) -> Vec<Result<Band, Gap>> {
    let mut at: Vec<f64> = roots.iter().map(|root| root.value).collect();
    let everything: Vec<usize> = (0..rests_on.len()).collect();
    let centre = results(&at, &everything);
    let mut sides: Vec<Vec<Sides>> =
        rests_on.iter().map(|rests| vec![Sides::default(); rests.len()]).collect();
    for (place, root) in roots.iter().enumerate() {
        let wanted: Vec<usize> = (0..rests_on.len())
            .filter(|result| centre[*result].is_ok() && rests_on[*result].contains(&place))
            .collect();
        if wanted.is_empty() || root.uncertainty <= 0.0 {
            continue;
        }
        for (offset, by) in OFFSETS.iter().enumerate() {
            at[place] = root.value + by * root.uncertainty;
            for (result, found) in wanted.iter().zip(results(&at, &wanted)) {
                let own = rests_on[*result].iter().position(|rest| *rest == place);
                if let Some(side) = own.and_then(|own| sides[*result].get_mut(own)) {
                    side.found[offset] = found.ok();
                    side.moved = true;
                }
            }
        }
        at[place] = root.value;
    }
    let mut found: Vec<Result<Band, Gap>> = Vec::with_capacity(centre.len());
    let mut curved = Vec::new();
    for (result, (value, sides)) in centre.into_iter().zip(&sides).enumerate() {
        found.push(value.map(|value| {
            let (band, straight) = first_order(value, sides);
            if !straight {
                curved.push(result);
            }
            band
        }));
    }
    if !curved.is_empty() {
        monte_carlo(roots, &curved, draws, results, &mut found);
    }
    found.into_iter().map(|band| band.and_then(finite)).collect()
}

/// A band that can be shown.
fn finite(band: Band) -> Result<Band, Gap> {
    if [band.uncertainty, band.low, band.high].into_iter().all(f64::is_finite) {
        return Ok(band);
    }
    Err(Gap::Refused(Refusal::new("uncertainty", "it is too large to be a number")))
}

/// Where each root is evaluated, in its own uncertainties: a small step for the slope, a whole
/// uncertainty to see whether the slope holds.
const OFFSETS: [f64; 4] = [-STEP, STEP, -1.0, 1.0];

/// A result with one root moved to each of [`OFFSETS`]; none where it was refused.
#[derive(Debug, Clone, Copy, Default)]
struct Sides {
    found: [Option<f64>; 4],
    moved: bool,
}

impl Sides {
    /// The first-order change for one uncertainty; one-sided at the edge of what is accepted.
    fn share(&self, value: f64) -> f64 {
        match self.found {
            [Some(below), Some(above), ..] => (above - below) / (2.0 * STEP),
            [Some(below), None, ..] => (value - below) / STEP,
            [None, Some(above), ..] => (above - value) / STEP,
            [None, None, ..] => 0.0,
        }
    }

    fn straight(&self, value: f64, noise: f64) -> bool {
        if !self.moved {
            return true;
        }
        let [Some(_), Some(_), Some(below), Some(above)] = self.found else { return false };
        let share = self.share(value);
        let allowed = TOLERANCE * share.abs() + noise;
        (above - value - share).abs() <= allowed && (value - below - share).abs() <= allowed
    }
}

/// The first-order band, and whether the first order holds.
fn first_order(value: f64, sides: &[Sides]) -> (Band, bool) {
    // What cancels out leaves the rounding of its parts behind, which is no uncertainty.
    let told = |share: f64| if share.abs() > ROUNDING * value.abs() { share } else { 0.0 };
    let shares: Vec<f64> = sides.iter().map(|side| told(side.share(value))).collect();
    // From zero, since an empty sum is minus zero.
    let uncertainty = shares.iter().fold(0.0, |sum, share| sum + share * share).sqrt();
    // Rounding of the inner roots, and shares that can't be seen in the sum, are no curvature.
    let noise = 1e-8 * value.abs() + 1e-6 * uncertainty;
    let straight = sides.iter().all(|side| side.straight(value, noise));
    let half = COVERAGE * uncertainty;
    let (low, high) = (value - half, value + half);
    (Band { value, uncertainty, low, high, from: BandFrom::FirstOrder, shares }, straight)
}

/// Replaces the bands of the results whose first order doesn't hold.
fn monte_carlo(
    roots: &[Root],
    curved: &[usize],
    draws: usize,
    results: &mut Results<'_>,
    found: &mut [Result<Band, Gap>],
) {
    let mut generator = Xoshiro256PlusPlus::seed_from_u64(SEED);
    let mut at = vec![0.0; roots.len()];
    let mut drawn: Vec<Vec<f64>> = vec![Vec::with_capacity(draws); curved.len()];
    for _ in 0..draws {
        for (place, root) in at.iter_mut().zip(roots) {
            let normal: f64 = StandardNormal.sample(&mut generator);
            *place = root.value + root.uncertainty * normal;
        }
        for (seen, result) in drawn.iter_mut().zip(results(&at, curved)) {
            seen.extend(result.ok());
        }
    }
    for (result, mut seen) in curved.iter().zip(drawn) {
        seen.sort_by(f64::total_cmp);
        let refused = draws - seen.len();
        if let Ok(band) = &mut found[*result] {
            if refused * 2 > draws {
                let reason = format!(
                    "more than half of what its uncertain inputs may be ({refused} of {draws} draws) can't be calculated"
                );
                found[*result] = Err(Gap::Refused(Refusal::new("result", reason)));
                continue;
            }
            band.low = quantile(&seen, 0.025);
            band.high = quantile(&seen, 0.975);
            band.uncertainty = (band.high - band.low) / 2.0 / COVERAGE;
            band.from = BandFrom::MonteCarlo { refused, draws };
        }
    }
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
