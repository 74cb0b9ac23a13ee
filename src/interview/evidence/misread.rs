//! How far an answer may be misread.

/// By so much of its value, and by no more than this part of its range: of a temperature, whose zero
/// means nothing, that alone counts.
const MISREAD: f64 = 0.3;
const MISREAD_OF_RANGE: f64 = 0.15;
/// Or its point may have slipped by a place.
const SLIPS: [f64; 3] = [1.0, 10.0, 0.1];

/// Where what was meant may lie, for an answer of this plausible range: near the value, or near it with
/// its point slipped; as many stretches as lie in the range.
pub(super) fn misread(range: (f64, f64), value: f64) -> impl Iterator<Item = (f64, f64)> {
    SLIPS.into_iter().filter_map(move |slip| near(range, slip * value))
}

/// The part of a range that a misreading of the value reaches; none where the value lies outside it.
fn near((from, to): (f64, f64), value: f64) -> Option<(f64, f64)> {
    let reach = (MISREAD * value.abs()).min(MISREAD_OF_RANGE * (to - from));
    let (low, high) = ((value - reach).max(from), (value + reach).min(to));
    (low < high).then_some((low, high))
}
