//! A sweep for any part: where the table would grow too wide, some evidence is eased, that is, taken
//! at its most favourable. The sum over all sets can only grow by that, so it stays a bound.

use super::order::{Axis, Needs, order};
use super::part::{Clue, Part};
use super::sweep::sweep;

/// The sum over all sets of a part, or a bound on it.
pub(super) struct Bound {
    /// Natural logarithm of the sum, or of what it is at most.
    pub(super) log_total: f64,
    /// The chances of each variable's states; near the true ones where evidence was eased.
    pub(super) states: Vec<Vec<f64>>,
    /// How many pieces of evidence were eased; with none the sum is exact.
    pub(super) eased: usize,
}

/// Sums with at most `widest` axes; nothing where no set has a weight.
pub(super) fn bound(part: &Part, widest: usize) -> Option<Bound> {
    let mut eased: Vec<usize> = Vec::new();
    loop {
        let needs = Needs::new(part, &eased);
        let order = order(&needs);
        let too_many = order.widest.len().saturating_sub(widest);
        if too_many > 0 {
            // Easing one clue mostly frees more than one axis further on: half at a time does not
            // overshoot, and orders are costly to find.
            let tell_least = least_telling(part, &needs, &order.widest);
            eased.extend(tell_least.into_iter().take(too_many.div_ceil(2)));
            continue;
        }
        let swept = sweep(part, &needs, &order.variables)?;
        let most: f64 = eased.iter().map(|clue| ease(part, &part.clues[*clue]).ln()).sum();
        return Some(Bound {
            log_total: swept.log_total + most,
            states: swept.states,
            eased: eased.len(),
        });
    }
}

/// The clues open at the widest place, those that say least for the axes they take first.
fn least_telling(part: &Part, needs: &Needs, open: &[Axis]) -> Vec<usize> {
    let mut axes = vec![0_usize; part.clues.len()];
    for axis in open {
        match axis {
            Axis::Come { clue } => axes[*clue] += 1,
            Axis::There { variable, .. } => {
                needs.groups[*variable].iter().for_each(|clue| axes[*clue] += 1)
            }
        }
    }
    let tells = |clue: usize| {
        let (low, high) = range(part, &part.clues[clue]);
        (high.ln() - low.max(f64::MIN_POSITIVE).ln()) / axes[clue] as f64
    };
    let mut clues: Vec<usize> = (0..axes.len()).filter(|clue| axes[*clue] > 0).collect();
    clues.sort_by(|a, b| tells(*a).total_cmp(&tells(*b)));
    clues
}

/// The most a clue can be worth, whatever the causes.
fn ease(part: &Part, clue: &Clue) -> f64 {
    range(part, clue).1
}

/// The least and the most a clue can be worth. Evidence on one finding grows or falls with each cause,
/// so its ends are no cause and all causes; a group reaches from its least weight to its largest, 1.
fn range(part: &Part, clue: &Clue) -> (f64, f64) {
    if clue.single().is_none() {
        return (clue.least(), 1.0);
    }
    let none = clue.value(&part.quiet);
    let mut all_there = part.quiet.clone();
    for touch in part.touches.iter().flatten().filter(|touch| clue.spots.contains(&touch.spot)) {
        all_there[touch.spot] *= touch.keep;
    }
    let all = clue.value(&all_there);
    (none.min(all), none.max(all))
}
