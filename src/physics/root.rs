//! The one way in which roots are found here: bracketed, so that what comes out is a root or
//! nothing.

/// More halvings than a double has digits; Chandrupatla's method needs about ten.
const MAX_STEPS: usize = 200;

/// A root of `function` between `from` and `to`, to the last digits of a double, or `None` where
/// the ends don't differ in sign or a value is not a number. An infinite end is fine.
///
/// Inverse quadratic interpolation where it is safe, halving where not: T. R. Chandrupatla,
/// *Advances in Engineering Software* 28 (1997) 145–149. Chosen over Brent's method because it is
/// shorter and no slower.
pub(super) fn bracketed(from: f64, to: f64, function: impl Fn(f64) -> f64) -> Option<f64> {
    let end = |end: f64| (end, function(end));
    between(end(from), end(to), &function)
}

/// [`bracketed`] between two places at which the function is known.
pub(super) fn between(
    (from, at_from): (f64, f64),
    (to, at_to): (f64, f64),
    function: impl Fn(f64) -> f64,
) -> Option<f64> {
    // `a` is the newest point, `b` lies on the other side of the root, `c` is the point before.
    let (mut a, mut at_a) = (from, at_from);
    let (mut b, mut at_b) = (to, at_to);
    if at_a == 0.0 {
        return Some(a);
    }
    if at_b == 0.0 {
        return Some(b);
    }
    if at_a.is_nan() || at_b.is_nan() || (at_a > 0.0) == (at_b > 0.0) {
        return None;
    }
    let mut share = 0.5;
    for _ in 0..MAX_STEPS {
        let x = a + share * (b - a);
        let at_x = function(x);
        if at_x.is_nan() {
            return None;
        }
        let (c, at_c);
        if (at_x > 0.0) == (at_a > 0.0) {
            (c, at_c) = (a, at_a);
        } else {
            (c, at_c) = (b, at_b);
            (b, at_b) = (a, at_a);
        }
        (a, at_a) = (x, at_x);
        let best = if at_a.abs() < at_b.abs() { a } else { b };
        let least = (2.0 * f64::EPSILON * best.abs() + f64::MIN_POSITIVE) / (b - a).abs();
        if at_a == 0.0 || least > 0.5 {
            return Some(best);
        }
        let interpolated = interpolated([a, b, c], [at_a, at_b, at_c]);
        if let Some(share) = interpolated {
            // Steps that close in shrink faster from one to the next: one after this would be smaller
            // by more than this is smaller than the last, and beyond the last digits.
            let (last, next) = ((a - c).abs(), (share * (b - a)).abs());
            if best == a && next * next <= f64::EPSILON * a.abs() * last {
                return Some(a + share * (b - a));
            }
        }
        share = interpolated.unwrap_or(0.5).clamp(least, 1.0 - least);
    }
    None
}

/// Share of the way from a to b for the next point, where inverse quadratic interpolation is safe.
fn interpolated([a, b, c]: [f64; 3], [at_a, at_b, at_c]: [f64; 3]) -> Option<f64> {
    let place = (a - b) / (c - b);
    let height = (at_a - at_b) / (at_c - at_b);
    let safe = height * height < place && (1.0 - height) * (1.0 - height) < 1.0 - place;
    safe.then(|| {
        at_a / (at_b - at_a) * at_c / (at_b - at_c)
            + (c - a) / (b - a) * at_a / (at_c - at_a) * at_b / (at_c - at_b)
    })
}
