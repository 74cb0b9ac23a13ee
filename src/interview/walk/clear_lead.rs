//! When the lead stands clear of the other causes: one cause, or several that are present together.

use crate::ranking::{Posterior, odds};

/// Each cause of the lead must be this likely ...
const LIKELY: f64 = 0.8;
/// ... and its odds this many times those of the next behind the lead.
const TIMES_THE_NEXT: f64 = 4.0;
/// From here on all are alike: of two causes that are certain neither stands clear of the other.
const CERTAIN: f64 = 1.0 - 1e-12;

/// The causes that stand clear, the likeliest first: each likely, all of them in the likeliest set,
/// and each several times as likely as any other cause, even if each chance is as far off as it may be.
/// None where no cause does.
#[must_use]
pub(in crate::interview) fn standing_clear(believed: &Posterior) -> Vec<usize> {
    clear_by(believed, believed.doubts())
}

/// Whether a lead would stand clear if its chances were not in doubt.
pub(in crate::interview) fn hangs_on_doubt(believed: &Posterior) -> bool {
    let undoubted = vec![0.0; believed.doubts().len()];
    clear_by(believed, &undoubted) != standing_clear(believed)
}

/// Whether some cause would stand clear with these chances: of several that are as likely it isn't asked
/// whether they go together.
pub(in crate::interview) fn would_be_clear(chances: &[f64]) -> bool {
    !parted(chances, &vec![0.0; chances.len()], |_| true).is_empty()
}

fn clear_by(believed: &Posterior, doubts: &[f64]) -> Vec<usize> {
    parted(believed.probabilities(), doubts, |causes| are_together(believed, causes))
}

/// The likely causes that part from the next, most of them first; those of several that go `together`.
fn parted(chances: &[f64], doubts: &[f64], together: impl Fn(&[usize]) -> bool) -> Vec<usize> {
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|a, b| chances[*b].total_cmp(&chances[*a]));
    let odds = |chance: f64| odds(chance.clamp(0.0, CERTAIN));
    let at_least = |cause: usize| chances[cause] - doubts[cause];
    let at_most = |cause: usize| chances[cause] + doubts[cause];
    let parts_from_the_next = |count: &usize| {
        let (lead, others) = order.split_at(*count);
        let lead = lead.iter().map(|cause| at_least(*cause)).fold(1.0, f64::min);
        let next = others.iter().map(|cause| at_most(*cause)).fold(0.0, f64::max);
        odds(lead) >= TIMES_THE_NEXT * odds(next)
    };
    let likely = order.iter().take_while(|cause| at_least(**cause) >= LIKELY).count();
    // One is likely by itself; of several it must be seen that they go together.
    let together = |count: &usize| *count == 1 || together(&order[..*count]);
    let clear = (1..=likely).rev().filter(parts_from_the_next).find(together);
    order.truncate(clear.unwrap_or(0));
    order
}

/// Whether the likeliest set of causes holds all of these.
fn are_together(believed: &Posterior, causes: &[usize]) -> bool {
    let likeliest = believed.likely_sets(1);
    likeliest.first().is_some_and(|set| causes.iter().all(|cause| set.causes.contains(cause)))
}

/// Whether one cause stands clear of the others, or several together.
#[must_use]
pub(in crate::interview) fn is_clear(believed: &Posterior) -> bool {
    !standing_clear(believed).is_empty()
}
