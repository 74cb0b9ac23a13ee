//! When the lead stands clear of the other causes.

/// The lead must be this likely ...
const LIKELY: f64 = 0.8;
/// ... and its odds this many times those of the next.
const TIMES_THE_NEXT: f64 = 4.0;

/// Whether one cause is likely, and several times as likely as the next.
#[must_use]
pub(super) fn is_clear(probabilities: &[f64]) -> bool {
    let mut sorted = probabilities.to_vec();
    sorted.sort_by(|a, b| b.total_cmp(a));
    let odds = |chance: f64| chance / (1.0 - chance).max(1e-12);
    match sorted.as_slice() {
        [] => false,
        [first] => *first >= LIKELY,
        [first, second, ..] => *first >= LIKELY && odds(*first) >= TIMES_THE_NEXT * odds(*second),
    }
}
