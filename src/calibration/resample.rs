//! Weights of draws, and draws of equal weight in their place.

/// Weights of sum 1 from their logarithms; none where all are 0.
pub(super) fn normalised(logarithms: &[f64]) -> Option<Vec<f64>> {
    let highest = logarithms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !highest.is_finite() {
        return None;
    }
    let weights: Vec<f64> = logarithms.iter().map(|log| (log - highest).exp()).collect();
    let sum: f64 = weights.iter().sum();
    Some(weights.into_iter().map(|weight| weight / sum).collect())
}

/// The effective number of draws with weights of sum 1: as many of equal weight tell a mean as well
/// (Kish, *Survey Sampling*, 1965, 11.2).
pub(super) fn effective(weights: &[f64]) -> f64 {
    1.0 / weights.iter().map(|weight| weight * weight).sum::<f64>()
}

/// Places of so many draws of equal weight: each draw as often as its weight says, to less than one
/// (systematic resampling: Kitagawa, *J. Comput. Graph. Stat.* 5(1), 1996).
pub(super) fn systematic(weights: &[f64], count: usize) -> Vec<usize> {
    #[expect(clippy::cast_precision_loss, reason = "some thousands")]
    let step = 1.0 / count as f64;
    let mut places = Vec::with_capacity(count);
    let mut next = step / 2.0;
    let mut passed = 0.0;
    for (place, weight) in weights.iter().enumerate() {
        passed += weight;
        while next < passed && places.len() < count {
            places.push(place);
            next += step;
        }
    }
    // What rounding left over belongs to the last draw with any weight.
    let last = weights.iter().rposition(|weight| *weight > 0.0).unwrap_or(0);
    places.resize(count, last);
    places
}
