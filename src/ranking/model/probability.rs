//! Probabilities and odds.

use crate::ranking::refusal::Refusal;

/// Odds of a probability from 0 to 1: `p / (1 − p)`, infinite at 1.
///
/// ```
/// use boostwright::ranking::{odds, probability_from_odds};
///
/// assert_eq!(odds(0.75), 3.0);
/// assert_eq!(odds(1.0), f64::INFINITY);
/// assert_eq!(probability_from_odds(odds(1.0)), 1.0);
/// ```
#[must_use]
pub fn odds(probability: f64) -> f64 {
    probability / (1.0 - probability)
}

/// Probability of odds from 0 up: `o / (1 + o)`, and 1 where they are infinite, which has no quotient.
///
/// ```
/// assert_eq!(boostwright::ranking::probability_from_odds(3.0), 0.75);
/// ```
#[must_use]
pub fn probability_from_odds(odds: f64) -> f64 {
    if odds.is_infinite() { 1.0 } else { odds / (1.0 + odds) }
}

/// Refuses a number that is no probability.
pub(in crate::ranking) fn check_probability(
    value: f64,
    what: impl FnOnce() -> String,
) -> Result<(), Refusal> {
    if (0.0..=1.0).contains(&value) {
        Ok(())
    } else {
        Err(Refusal::NotAChance { what: what(), value })
    }
}
