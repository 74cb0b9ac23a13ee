//! What one more reading would be worth for a forecast.

/// The share, 0 to 1, of a forecast's variance that a reading would take away: Cov(f, r)² over
/// Var f · (Var r + s²), for a straight line between them (Raiffa and Schlaifer, *Applied Statistical
/// Decision Theory*, 1961, ch. 5 and 11). Both at the same draws of the inputs; draws where either is
/// missing are passed over. `uncertainty` is the reading's own, 0 or more. 0 where nothing can be told.
///
/// # Examples
/// ```
/// use boostwright::calibration::variance_share;
/// let same = [Some(1.0), Some(2.0), Some(3.0)];
/// assert!((variance_share(&same, &same, 0.0) - 1.0).abs() < 1e-12);
/// // A reading as uncertain as what is known already takes half of the variance away.
/// let third = (2.0_f64 / 3.0).sqrt();
/// assert!((variance_share(&same, &same, third) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn variance_share(forecast: &[Option<f64>], reading: &[Option<f64>], uncertainty: f64) -> f64 {
    let pairs: Vec<(f64, f64)> =
        forecast.iter().zip(reading).filter_map(|(f, r)| Some(((*f)?, (*r)?))).collect();
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let count = pairs.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / count;
    let (f, r) = (mean(|pair| pair.0), mean(|pair| pair.1));
    let (mut ff, mut rr, mut fr) = (0.0, 0.0, 0.0);
    for (one, other) in &pairs {
        ff += (one - f) * (one - f) / count;
        rr += (other - r) * (other - r) / count;
        fr += (one - f) * (other - r) / count;
    }
    let share = fr * fr / (ff * (rr + uncertainty * uncertainty));
    if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
}
