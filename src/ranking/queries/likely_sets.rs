//! The likeliest sets of causes present now, put together from the components.

use crate::ranking::inference::ComponentPosterior;

/// A set of causes present now, and how likely exactly this set is.
#[derive(Debug, Clone, PartialEq)]
pub struct LikelySet {
    /// The causes, ascending; empty where all is as it should be.
    pub causes: Vec<usize>,
    /// Probability that these are present and no others.
    pub probability: f64,
}

/// The best sets of one component, those that differ only in the past put together.
pub(super) fn present_sets(
    component: &ComponentPosterior,
    now: usize,
    count: usize,
) -> Vec<LikelySet> {
    let ComponentPosterior { sets: all, listed, .. } = component;
    // With no repair between, each listed set is a present set, and the list is sorted already.
    let distinct =
        all.iter().all(|(members, _)| members.iter().all(|member| member.is_present_in(now)));
    let enough = if distinct { count } else { all.len() };
    let mut sets: Vec<LikelySet> = Vec::new();
    for (members, weight) in all.iter().take(enough) {
        let present = members.iter().filter(|member| member.is_present_in(now));
        let mut causes: Vec<usize> = present.map(|member| member.cause).collect();
        causes.sort_unstable();
        sets.push(LikelySet { causes, probability: weight * listed });
    }
    if !distinct {
        sets.sort_by(|a, b| a.causes.cmp(&b.causes));
        sets.dedup_by(|later, first| {
            let same = later.causes == first.causes;
            if same {
                first.probability += later.probability;
            }
            same
        });
    }
    best_of(sets, count)
}

/// The best unions of a set from each side.
pub(super) fn combined(left: &[LikelySet], right: &[LikelySet], count: usize) -> Vec<LikelySet> {
    let mut sets = Vec::with_capacity(left.len() * right.len());
    for a in left {
        for b in right {
            let mut causes = [a.causes.as_slice(), b.causes.as_slice()].concat();
            causes.sort_unstable();
            sets.push(LikelySet { causes, probability: a.probability * b.probability });
        }
    }
    best_of(sets, count)
}

fn best_of(mut sets: Vec<LikelySet>, count: usize) -> Vec<LikelySet> {
    sets.retain(|set| set.probability > 0.0);
    sets.sort_by(|a, b| {
        b.probability.total_cmp(&a.probability).then_with(|| a.causes.cmp(&b.causes))
    });
    sets.truncate(count);
    sets
}
