//! One step of an ordinary differential equation, with its error: the pair of order 5 and 4 of
//! Dormand and Prince, whose last slope is the next step's first.
//!
//! Hairer, Nørsett and Wanner, *Solving Ordinary Differential Equations I*, 2nd ed., table II.5.2.

/// Weights of the slopes at each stage; the last row is the step itself.
const STAGES: [[f64; 6]; 6] = [
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [19_372.0 / 6561.0, -25_360.0 / 2187.0, 64_448.0 / 6561.0, -212.0 / 729.0, 0.0, 0.0],
    [9017.0 / 3168.0, -355.0 / 33.0, 46_732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18_656.0, 0.0],
    [35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0],
];
/// The step less its companion of order 4.
const ERROR: [f64; 7] = [
    71.0 / 57_600.0,
    0.0,
    -71.0 / 16_695.0,
    71.0 / 1920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// A step taken.
pub(super) struct Step<const N: usize> {
    pub(super) end: [f64; N],
    pub(super) end_slope: [f64; N],
    /// How far the two orders lie apart.
    pub(super) error: [f64; N],
}

/// A step of `width` from a state whose slope is known; none where a slope is none. The equation
/// doesn't hang on time.
pub(super) fn step<const N: usize>(
    from: &[f64; N],
    slope: &[f64; N],
    width: f64,
    slope_at: impl Fn(&[f64; N]) -> Option<[f64; N]>,
) -> Option<Step<N>> {
    let mut slopes = [*slope; 7];
    let mut state = *from;
    for (stage, weights) in STAGES.iter().enumerate() {
        state = std::array::from_fn(|i| {
            let rise: f64 = weights.iter().zip(&slopes).map(|(weight, of)| weight * of[i]).sum();
            from[i] + width * rise
        });
        slopes[stage + 1] = slope_at(&state)?;
    }
    let error = std::array::from_fn(|i| {
        width * ERROR.iter().zip(&slopes).map(|(weight, of)| weight * of[i]).sum::<f64>()
    });
    Some(Step { end: state, end_slope: slopes[6], error })
}
