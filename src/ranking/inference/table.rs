//! A table of weights over yes-or-no axes (a factor in the sense of Koller & Friedman 2009, §4.2), and
//! the operations of variable elimination on it, each with its transpose for the way back.
//!
//! Axis `p` is bit `p` of the index. Every operation adds or multiplies numbers from 0 up, so no
//! digits are lost to cancellation.

/// Adds an axis above the others with all weight at "no"; its place is the number of those before.
pub(super) fn add_axis(table: &mut Vec<f64>) {
    table.resize(2 * table.len(), 0.0);
}

/// Transpose of [`add_axis`].
pub(super) fn add_axis_backward(table: &mut Vec<f64>) {
    table.truncate(table.len() / 2);
}

/// One more cause in the noisy-OR of the axis: moves all but `inhibition` of what lies at "no" to
/// "yes".
pub(super) fn noisy_or(table: &mut [f64], axis: usize, inhibition: f64) {
    halves(table, axis, |no, yes| {
        *yes += *no * (1.0 - inhibition);
        *no *= inhibition;
    });
}

/// Transpose of [`noisy_or`].
pub(super) fn noisy_or_backward(table: &mut [f64], axis: usize, inhibition: f64) {
    halves(table, axis, |no, yes| *no = *no * inhibition + *yes * (1.0 - inhibition));
}

/// Takes the axis away, weighing its two sides.
pub(super) fn sum_out(table: &[f64], axis: usize, no: f64, yes: f64) -> Vec<f64> {
    let size = 1 << axis;
    let mut summed = Vec::with_capacity(table.len() / 2);
    for chunk in table.chunks_exact(2 * size) {
        let (low, high) = chunk.split_at(size);
        summed.extend(low.iter().zip(high).map(|(low, high)| low * no + high * yes));
    }
    summed
}

/// Transpose of [`sum_out`].
pub(super) fn sum_out_backward(table: &[f64], axis: usize, no: f64, yes: f64) -> Vec<f64> {
    let mut spread = Vec::with_capacity(table.len() * 2);
    for chunk in table.chunks_exact(1 << axis) {
        spread.extend(chunk.iter().map(|weight| weight * no));
        spread.extend(chunk.iter().map(|weight| weight * yes));
    }
    spread
}

/// Multiplies each weight by the value for its sides on `axes`; the transpose of itself.
pub(super) fn multiply(table: &mut [f64], axes: &[usize], values: &[f64]) {
    for (index, weight) in table.iter_mut().enumerate() {
        let local = axes
            .iter()
            .enumerate()
            .fold(0, |local, (bit, axis)| local | (index >> axis & 1) << bit);
        *weight *= values[local];
    }
}

/// Adds `share` of `from` to `to`.
pub(super) fn add_share(to: &mut [f64], from: &[f64], share: f64) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += from * share;
    }
}

/// Sum of the products, place by place.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Divides by the sum and gives it back; leaves a table of zeros as it is.
pub(super) fn normalise(table: &mut [f64]) -> f64 {
    let total: f64 = table.iter().sum();
    if total > 0.0 {
        table.iter_mut().for_each(|weight| *weight /= total);
    }
    total
}

fn halves(table: &mut [f64], axis: usize, change: impl Fn(&mut f64, &mut f64)) {
    let size = 1 << axis;
    for chunk in table.chunks_exact_mut(2 * size) {
        let (no, yes) = chunk.split_at_mut(size);
        for (no, yes) in no.iter_mut().zip(yes) {
            change(no, yes);
        }
    }
}
