//! The uncertainty of a result that is a pure function of uncertain inputs: evaluate it again with
//! each input moved (first order, JCGM 100:2008 (GUM), 5.1); where that doesn't hold, draw the inputs
//! at random (JCGM 101:2008). Results that share an input are so correlated rightly without
//! bookkeeping.

use super::joint_draws::moments;
use crate::formula::evaluate::EvalError;
use crate::physics::Refusal;

/// Draws of the Monte Carlo evaluation.
pub const DRAWS: usize = 10_000;
/// Draws where each one solves the balances of a whole engine, and there are dozens of results: they
/// place an end of a band to about a seventh of the standard uncertainty (input mean square over the
/// longest recorded interview, against 100,000 draws).
pub const FEW_DRAWS: usize = 1_000;
/// Draws for each point of a curve, which is looked at and not read: to about a fifth.
pub const CURVE_DRAWS: usize = 250;
/// Covers 95 % of a normal distribution to either side.
pub const COVERAGE: f64 = 1.96;
/// The step of the central difference, in uncertainties of the input.
const STEP: f64 = 1e-3;
/// A share of the result that is smaller comes from the last digits of floats.
const ROUNDING: f64 = 1e-10;
/// How far the change over a whole uncertainty may differ from the first-order one.
const TOLERANCE: f64 = 0.1;

/// How a band was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BandFrom {
    FirstOrder,
    MonteCarlo {
        /// Draws that the calculation refused.
        refused: usize,
        draws: usize,
    },
    /// By draws of the inputs together, as readings have taught them.
    Conditioned {
        refused: usize,
        draws: usize,
        /// How many independent draws they are worth.
        effective: f64,
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
    /// For each input: the change of the result for one uncertainty of the input, first order.
    pub shares: Vec<f64>,
}

/// How a result answers to its uncertain inputs, by their places.
pub(crate) trait Response {
    /// The result with one input moved by the step at that place of [`OFFSETS`]; none where it is
    /// refused.
    fn perturbed(&self, input: usize, step: usize) -> Option<f64>;

    /// The result at each of so many random draws of all inputs.
    fn sampled(&self, draws: usize) -> Vec<Option<f64>>;
}

/// The band of a result that is `value` at its inputs' own values and has so many uncertain inputs.
/// Where the first order fails they are drawn `draws` times.
///
/// # Errors
/// Refuses where more than half of the random draws are refused.
pub(crate) fn band(
    value: f64,
    inputs: usize,
    draws: usize,
    result: &impl Response,
) -> Result<Band, EvalError> {
    let sides: Vec<Sides> = (0..inputs).map(|input| Sides::near(input, result)).collect();
    let mut band = first_order(value, &sides);
    if !straight(&band, &sides, result) {
        monte_carlo(draws, result, &mut band)?;
    }
    finite(band)
}

/// The band of a result that is `value` at its inputs' own values, by so many draws alone.
///
/// # Errors
/// As [`band`].
pub(crate) fn sampled_band(
    value: f64,
    draws: usize,
    result: &impl Response,
) -> Result<Band, EvalError> {
    let mut band = first_order(value, &[]);
    monte_carlo(draws, result, &mut band)?;
    finite(band)
}

/// The band of a result by what it is at draws of its inputs that readings have taught: the value is the
/// median, since the inputs' own middles needn't lie together. `inputs` are the columns of its
/// uncertain inputs at the same draws, where they have one: the share of each is Cov(f, x)/s(x), what
/// a straight line makes of one standard deviation of it.
///
/// # Errors
/// As [`band`].
pub(crate) fn conditioned_band(
    seen: &[Option<f64>],
    inputs: &[Option<&[f64]>],
    effective: f64,
) -> Result<Band, EvalError> {
    let draws = seen.len();
    let mut told: Vec<f64> = seen.iter().copied().flatten().collect();
    let refused = draws - told.len();
    let low_high = outer_points(&mut told, draws)?;
    let value = quantile(&mut told, 0.5);
    let shares = inputs.iter().map(|column| column.map_or(0.0, |column| share_of(seen, column)));
    finite(Band {
        value,
        uncertainty: (low_high.1 - low_high.0) / 2.0 / COVERAGE,
        low: low_high.0,
        high: low_high.1,
        from: BandFrom::Conditioned { refused, draws, effective },
        shares: shares.collect(),
    })
}

fn share_of(seen: &[Option<f64>], column: &[f64]) -> f64 {
    let pairs = || seen.iter().zip(column).filter_map(|(value, input)| Some(((*value)?, *input)));
    let values: Vec<f64> = pairs().map(|(value, _)| value).collect();
    let inputs: Vec<f64> = pairs().map(|(_, input)| input).collect();
    let (Some((mean, _)), Some((middle, deviation))) = (moments(&values), moments(&inputs)) else {
        return 0.0;
    };
    if deviation <= 0.0 {
        return 0.0;
    }
    let products =
        values.iter().zip(&inputs).map(|(value, input)| (value - mean) * (input - middle));
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let count = values.len() as f64;
    products.sum::<f64>() / count / deviation
}

/// A band that can be shown.
fn finite(band: Band) -> Result<Band, EvalError> {
    if [band.uncertainty, band.low, band.high].into_iter().all(f64::is_finite) {
        return Ok(band);
    }
    Err(EvalError::Refused(Refusal::new("uncertainty", "too large a number")))
}

/// Where each input is evaluated, in its own uncertainties: a small step for the slope, a whole
/// uncertainty to see whether the slope holds.
pub(crate) const OFFSETS: [f64; 4] = [-STEP, STEP, -1.0, 1.0];

/// A result with one input moved a little; none where it was refused.
#[derive(Debug, Clone, Copy)]
struct Sides {
    below: Option<f64>,
    above: Option<f64>,
}

impl Sides {
    fn near(input: usize, result: &impl Response) -> Self {
        Self { below: result.perturbed(input, 0), above: result.perturbed(input, 1) }
    }

    /// The first-order change for one uncertainty; one-sided at the edge of what is accepted.
    fn share(self, value: f64) -> f64 {
        match (self.below, self.above) {
            (Some(below), Some(above)) => (above - below) / (2.0 * STEP),
            (Some(below), None) => (value - below) / STEP,
            (None, Some(above)) => (above - value) / STEP,
            (None, None) => 0.0,
        }
    }
}

/// The root of the sum of squares, by the largest: the square of a share may be too large for a number,
/// or too small, where the share itself is not.
pub(super) fn length(shares: &[f64]) -> f64 {
    let largest = shares.iter().fold(0.0, |largest: f64, share| largest.max(share.abs()));
    if largest <= 0.0 || !largest.is_finite() {
        return largest;
    }
    let squares = shares.iter().fold(0.0, |sum, share| sum + (share / largest).powi(2));
    largest * squares.sqrt()
}

/// The first-order band.
fn first_order(value: f64, sides: &[Sides]) -> Band {
    // What cancels out leaves the rounding of its parts behind, which is no uncertainty.
    let told = |share: f64| if share.abs() > ROUNDING * value.abs() { share } else { 0.0 };
    let shares: Vec<f64> = sides.iter().map(|side| told(side.share(value))).collect();
    let uncertainty = length(&shares);
    let half = COVERAGE * uncertainty;
    let (low, high) = (value - half, value + half);
    Band { value, uncertainty, low, high, from: BandFrom::FirstOrder, shares }
}

/// Whether the first order holds over a whole uncertainty of every input to either side.
fn straight(band: &Band, sides: &[Sides], result: &impl Response) -> bool {
    if sides.iter().any(|side| side.below.is_none() || side.above.is_none()) {
        return false;
    }
    let value = band.value;
    // Rounding of the inner inputs, and shares that can't be seen in the sum, are no curvature.
    let noise = 1e-8 * value.abs() + 1e-6 * band.uncertainty;
    // The input that does most shows a bend first.
    let mut order: Vec<usize> = (0..sides.len()).collect();
    order.sort_by(|a, b| band.shares[*b].abs().total_cmp(&band.shares[*a].abs()));
    order.into_iter().all(|input| {
        let share = sides[input].share(value);
        let allowed = TOLERANCE * share.abs() + noise;
        let holds = |step: usize, expected: f64| {
            result.perturbed(input, step).is_some_and(|found| (found - expected).abs() <= allowed)
        };
        holds(2, value - share) && holds(3, value + share)
    })
}

/// Replaces a band whose first order doesn't hold.
fn monte_carlo(draws: usize, result: &impl Response, band: &mut Band) -> Result<(), EvalError> {
    let mut seen: Vec<f64> = result.sampled(draws).into_iter().flatten().collect();
    let refused = draws - seen.len();
    (band.low, band.high) = outer_points(&mut seen, draws)?;
    band.uncertainty = (band.high - band.low) / 2.0 / COVERAGE;
    band.from = BandFrom::MonteCarlo { refused, draws };
    Ok(())
}

/// The 2.5 and 97.5 % points of those of `draws` that gave a value.
fn outer_points(seen: &mut [f64], draws: usize) -> Result<(f64, f64), EvalError> {
    let refused = draws - seen.len();
    if refused * 2 > draws {
        let reason = format!(
            "can't be calculated for more than half of the possible values of its uncertain inputs \
             ({refused} of {draws} draws)"
        );
        return Err(EvalError::Refused(Refusal::new("result", reason)));
    }
    Ok((quantile(seen, 0.025), quantile(seen, 0.975)))
}

/// The quantile of draws in any order, linear between neighbours.
fn quantile(seen: &mut [f64], share: f64) -> f64 {
    let Some(last) = seen.len().checked_sub(1) else { return f64::NAN };
    #[expect(clippy::cast_precision_loss, reason = "at most DRAWS")]
    let place = share * last as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to DRAWS")]
    let below = place as usize;
    let (_, value, above) = seen.select_nth_unstable_by(below, f64::total_cmp);
    let next = above.iter().copied().min_by(f64::total_cmp).unwrap_or(*value);
    *value + (next - *value) * place.fract()
}
