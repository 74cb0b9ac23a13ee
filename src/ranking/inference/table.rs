//! A table of weights over yes-or-no axes, and the few moves the sweep makes on it, each with its
//! mirror image for the way back.
//!
//! Axis `p` is bit `p` of the index. Every move adds or multiplies numbers from 0 up, so no digits
//! are lost to cancellation.

/// Adds an axis above the others; `yes` of each weight goes to its upper half.
pub(super) fn open(table: &mut Vec<f64>, yes: f64) {
    let size = table.len();
    table.resize(2 * size, 0.0);
    let (low, high) = table.split_at_mut(size);
    for (low, high) in low.iter_mut().zip(high) {
        *high = *low * yes;
        *low *= 1.0 - yes;
    }
}

/// Mirror of [`open`].
pub(super) fn open_back(table: &mut Vec<f64>, yes: f64) {
    let size = table.len() / 2;
    let (low, high) = table.split_at_mut(size);
    for (low, high) in low.iter_mut().zip(high) {
        *low = *low * (1.0 - yes) + *high * yes;
    }
    table.truncate(size);
}

/// Moves all but `keep` of what lies at "no" on the axis to "yes".
pub(super) fn activate(table: &mut [f64], axis: usize, keep: f64) {
    halves(table, axis, |no, yes| {
        *yes += *no * (1.0 - keep);
        *no *= keep;
    });
}

/// Mirror of [`activate`].
pub(super) fn activate_back(table: &mut [f64], axis: usize, keep: f64) {
    halves(table, axis, |no, yes| *no = *no * keep + *yes * (1.0 - keep));
}

/// Takes the axis away, weighing its two sides.
pub(super) fn close(table: &[f64], axis: usize, no: f64, yes: f64) -> Vec<f64> {
    let size = 1 << axis;
    let mut closed = Vec::with_capacity(table.len() / 2);
    for block in table.chunks_exact(2 * size) {
        let (low, high) = block.split_at(size);
        closed.extend(low.iter().zip(high).map(|(low, high)| low * no + high * yes));
    }
    closed
}

/// Mirror of [`close`].
pub(super) fn close_back(table: &[f64], axis: usize, no: f64, yes: f64) -> Vec<f64> {
    let mut opened = Vec::with_capacity(table.len() * 2);
    for block in table.chunks_exact(1 << axis) {
        opened.extend(block.iter().map(|weight| weight * no));
        opened.extend(block.iter().map(|weight| weight * yes));
    }
    opened
}

/// Multiplies each weight by the value for its sides on `axes`; the mirror of itself.
pub(super) fn weigh(table: &mut [f64], axes: &[usize], values: &[f64]) {
    for (index, weight) in table.iter_mut().enumerate() {
        let local = axes
            .iter()
            .enumerate()
            .fold(0, |local, (bit, axis)| local | (index >> axis & 1) << bit);
        *weight *= values[local];
    }
}

/// Adds `share` of `from` to `to`.
pub(super) fn add(to: &mut [f64], from: &[f64], share: f64) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += from * share;
    }
}

/// Sum of the products, place by place.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Divides by the sum and gives it back; leaves a table of zeros as it is.
pub(super) fn scale(table: &mut [f64]) -> f64 {
    let total: f64 = table.iter().sum();
    if total > 0.0 {
        table.iter_mut().for_each(|weight| *weight /= total);
    }
    total
}

fn halves(table: &mut [f64], axis: usize, change: impl Fn(&mut f64, &mut f64)) {
    let size = 1 << axis;
    for block in table.chunks_exact_mut(2 * size) {
        let (no, yes) = block.split_at_mut(size);
        for (no, yes) in no.iter_mut().zip(yes) {
            change(no, yes);
        }
    }
}
