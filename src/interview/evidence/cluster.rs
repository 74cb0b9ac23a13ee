//! Units of evidence whose readings scatter together, so that what they show is told by one pattern.

use crate::formula::Settled;
use crate::ranking::{Factor, Pattern};
use crate::rules::TypedIndex;

use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::unit::Unit;

/// Most patterns of a cluster; units that would make it more stay by themselves.
const MAX_PATTERNS: usize = 128;

/// The units by their places, those in clusters that scatter together near their limits.
pub(in crate::interview) fn clusters(facts: &Facts<'_>, units: &[Unit]) -> Vec<Vec<usize>> {
    let formulas: Vec<_> = units.iter().map(|unit| unit.formulas(facts.pack)).collect();
    let borders: Vec<_> = formulas.iter().map(|own| facts.evaluator.borders(own)).collect();
    let mut found: Vec<(Vec<usize>, usize)> = Vec::new();
    for unit in 0..units.len() {
        let patterns = borders[unit].patterns;
        let mut own = (vec![unit], patterns);
        let mut index = 0;
        while index < found.len() {
            let near = |other: &usize| borders[unit].hangs_together(&borders[*other]);
            if found[index].0.iter().any(near)
                && own.1.saturating_mul(found[index].1) <= MAX_PATTERNS
            {
                let (members, patterns) = found.remove(index);
                own = ([members, own.0].concat(), own.1 * patterns);
            } else {
                index += 1;
            }
        }
        found.push(own);
    }
    let mut clusters: Vec<Vec<usize>> = found.into_iter().map(|(members, _)| members).collect();
    clusters.iter_mut().for_each(|members| members.sort_unstable());
    clusters.sort();
    clusters
}

/// What a cluster weighs where it is settled of some answers whether they are off. Units with one that is
/// off scatter no more with the others.
pub(in crate::interview) fn cluster_factor(
    facts: &Facts<'_>,
    units: &[Unit],
    settled: &Settled,
) -> Option<Factor> {
    if let [unit] = units {
        return unit.factor(facts, settled);
    }
    let formulas: Vec<_> = units.iter().map(|unit| unit.formulas(facts.pack)).collect();
    let is_off = |place: &usize| facts.evaluator.rests_on_off(&formulas[*place], settled);
    let (off, right): (Vec<usize>, Vec<usize>) = (0..units.len()).partition(is_off);
    // Per side of the cut: the units, their patterns with weights.
    let together: Vec<_> = right.iter().map(|unit| formulas[*unit].as_slice()).collect();
    let mut sides = vec![(right.clone(), facts.evaluator.together(&together, settled)?)];
    for unit in off {
        let patterns = match units[unit].factor(facts, settled)? {
            Factor::Single { yes, no, .. } => vec![(vec![true], yes), (vec![false], no)],
            Factor::Group { patterns, .. } => {
                patterns.into_iter().map(|pattern| (pattern.truths, pattern.weight)).collect()
            }
            Factor::Joint(_) => return None,
        };
        sides.push((vec![unit], patterns));
    }
    let order: Vec<usize> = sides.iter().flat_map(|(own, _)| own.iter().copied()).collect();
    let mut patterns: Vec<(Vec<bool>, f64)> = vec![(Vec::new(), 1.0)];
    for (_, side) in &sides {
        let longer = patterns.iter().flat_map(|(truths, weight)| {
            side.iter().map(move |(own, more)| ([truths.as_slice(), own].concat(), weight * more))
        });
        patterns = longer.collect();
    }
    Some(in_order(units, &order, patterns))
}

/// The same for each finding left out in turn; nothing where one says that by itself.
pub(in crate::interview) fn cluster_without(
    facts: &Facts<'_>,
    units: &[Unit],
    settled: &Settled,
) -> Option<Vec<Factor>> {
    if units.len() < 2 {
        return Some(Vec::new());
    }
    let mut found = Vec::new();
    for (place, unit) in units.iter().enumerate() {
        for member in &unit.members {
            let mut fewer = units.to_vec();
            fewer[place].members.retain(|other| other != member);
            fewer.retain(|unit| !unit.members.is_empty());
            found.push(cluster_factor(facts, &fewer, settled)?);
        }
    }
    Some(found)
}

/// The patterns with the findings in the order of the units; `order` is that of the patterns.
fn in_order(units: &[Unit], order: &[usize], patterns: Vec<(Vec<bool>, f64)>) -> Factor {
    let mut from = vec![0; units.len()];
    let mut next = 0;
    for unit in order {
        from[*unit] = next;
        next += units[*unit].members.len();
    }
    let places: Vec<usize> =
        units.iter().zip(&from).flat_map(|(unit, from)| *from..from + unit.members.len()).collect();
    let pattern = |(truths, weight): (Vec<bool>, f64)| {
        let truths = places.iter().map(|place| truths[*place]).collect();
        Pattern { truths, weight }
    };
    Factor::Group {
        findings: units.iter().flat_map(|unit| &unit.members).map(|f| f.index()).collect(),
        patterns: patterns.into_iter().map(pattern).collect(),
    }
}
