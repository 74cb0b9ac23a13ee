//! The normal distribution, and chances by it (JCGM 106:2012, 7.5).

/// The chance that a standard normal variable lies below `x`.
///
/// ```
/// use boostwright::formula::normal::below;
///
/// // Tables of the normal distribution.
/// assert!((below(1.959_964) - 0.975).abs() < 1e-6);
/// ```
#[must_use]
pub fn below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// The chance that a quantity of this difference to its limit, with this standard uncertainty of
/// the whole difference, lies below the limit. A difference known exactly gives 0 or 1; right on
/// the limit it is not below.
#[must_use]
pub fn chance_negative(difference: f64, uncertainty: f64) -> f64 {
    if uncertainty > 0.0 {
        below(-difference / uncertainty)
    } else if difference < 0.0 {
        1.0
    } else {
        0.0
    }
}

/// The chance that a standard normal variable lies between two limits, the lower first. Far out
/// on either side it keeps its digits.
#[must_use]
pub fn between(low: f64, high: f64) -> f64 {
    let chance = if low > 0.0 { below(-low) - below(-high) } else { below(high) - below(low) };
    chance.max(0.0)
}

/// The standard normal density.
#[must_use]
pub fn density(x: f64) -> f64 {
    (-x * x / 2.0).exp() / (2.0 * std::f64::consts::PI).sqrt()
}
