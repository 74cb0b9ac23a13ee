//! How far evidence can still swing: bounds on its value, and on what one more cause changes in it,
//! whatever other causes come along.
//!
//! Each finding's chance of being false lies between `all` (every cause that is still open is there)
//! and `now` (none of them is). Both ends are known, and everything here is monotone in them or a mean
//! with weights in known ranges.

use super::factor::Pattern;
use super::part::Clue;

/// A number between two others, the first the smaller.
#[derive(Debug, Clone, Copy)]
pub(super) struct Range {
    pub(super) low: f64,
    pub(super) high: f64,
}

/// Where the findings of a clue stand: the chance of each being false.
pub(super) struct Reach<'a> {
    clue: &'a Clue,
    now: &'a [f64],
    all: &'a [f64],
    /// For a group the range of each pattern's chance.
    chances: Vec<Range>,
    value: Range,
}

impl<'a> Reach<'a> {
    /// `now` and `all` are the clue's own, in the order of its findings.
    pub(super) fn new(clue: &'a Clue, now: &'a [f64], all: &'a [f64]) -> Self {
        let range = |pattern: &Pattern| {
            let end = |truth: &bool, when_true: f64, when_false: f64| {
                if *truth { 1.0 - when_true } else { when_false }
            };
            let sides = || pattern.truths.iter().zip(now.iter().zip(all));
            Range {
                low: sides().map(|(truth, (now, all))| end(truth, *now, *all)).product(),
                high: sides().map(|(truth, (now, all))| end(truth, *all, *now)).product(),
            }
        };
        let chances = clue.patterns().iter().map(range).collect();
        let value = Range { low: 0.0, high: 1.0 };
        let mut reach = Self { clue, now, all, chances, value };
        reach.value = reach.worth();
        reach
    }

    /// The least and the most the clue can be worth.
    pub(super) fn value(&self) -> Range {
        self.value
    }

    fn worth(&self) -> Range {
        if let Some((yes, no)) = self.clue.single() {
            let at = |chance_no: f64| yes * (1.0 - chance_no) + no * chance_no;
            let (now, all) = (at(first(self.now)), at(first(self.all)));
            return Range { low: now.min(all), high: now.max(all) };
        }
        let patterns = self.clue.patterns();
        let weight = |place: usize| patterns[place].weight;
        let chance = |place: usize| self.chances[place];
        Range {
            low: least_mean(patterns.len(), weight, chance),
            high: largest_mean(patterns.len(), weight, chance),
        }
        .over(self.clue.largest())
    }

    /// The least and the most that one more cause multiplies the clue's value by. `keep` holds what
    /// the cause leaves of each finding's chance of being false; `changes` is room to work in.
    pub(super) fn change(&self, keep: &[f64], changes: &mut Vec<Range>) -> Range {
        if let Some((yes, no)) = self.clue.single() {
            let keep = first(keep);
            // Without the cause itself the other open ones leave this much.
            let all = if keep > 0.0 { (first(self.all) / keep).min(first(self.now)) } else { 0.0 };
            let at = |chance_no: f64| yes * (1.0 - chance_no) + no * chance_no;
            let ratio = |chance_no: f64| ratio(at(keep * chance_no), at(chance_no));
            let (now, all) = (ratio(first(self.now)), ratio(all));
            return Range { low: now.min(all), high: now.max(all) };
        }
        let patterns = self.clue.patterns();
        changes.clear();
        changes.extend(patterns.iter().map(|pattern| self.pattern_change(pattern, keep)));
        let low = |place: usize| changes[place].low;
        let high = |place: usize| changes[place].high;
        let chance = |place: usize| self.chances[place];
        let fitting = |place: usize| self.chances[place].times(patterns[place].weight);
        let count = patterns.len();
        // The value is a mean of weights: what fits over all there is. Neither end can pass what the
        // value itself can reach.
        let least = ratio(least_mean(count, low, fitting), largest_mean(count, high, chance));
        let most = ratio(largest_mean(count, high, fitting), least_mean(count, low, chance));
        Range {
            low: least.max(self.value.low / self.value.high.max(f64::MIN_POSITIVE)),
            high: most.min(ratio(self.value.high, self.value.low)),
        }
    }

    /// What one more cause multiplies the clue's value by with no other open one there.
    pub(super) fn alone(&self, keep: &[f64]) -> f64 {
        if let Some((yes, no)) = self.clue.single() {
            let at = |chance_no: f64| yes * (1.0 - chance_no) + no * chance_no;
            return ratio(at(first(keep) * first(self.now)), at(first(self.now)));
        }
        let (mut fits, mut fit, mut all, mut any) = (0.0, 0.0, 0.0, 0.0);
        for pattern in self.clue.patterns() {
            let (mut without, mut with) = (1.0, 1.0);
            for (truth, (keep, now)) in pattern.truths.iter().zip(keep.iter().zip(self.now)) {
                let (no, kept) = (*now, now * keep);
                without *= if *truth { 1.0 - no } else { no };
                with *= if *truth { 1.0 - kept } else { kept };
            }
            fits += pattern.weight * with;
            fit += pattern.weight * without;
            all += with;
            any += without;
        }
        // Value with over value without, each the share that fits.
        if all > 0.0 { ratio(fits * any, fit * all) } else { 0.0 }
    }

    /// What one more cause multiplies a pattern's chance by.
    fn pattern_change(&self, pattern: &Pattern, keep: &[f64]) -> Range {
        let mut change = Range { low: 1.0, high: 1.0 };
        for (place, truth) in pattern.truths.iter().enumerate() {
            let (keep, now, all) = (keep[place], self.now[place], self.all[place]);
            if !*truth {
                change = change.times(keep);
            } else if keep < 1.0 {
                let comes = |no: f64| ratio(1.0 - keep * no, 1.0 - no);
                change = Range { low: change.low * comes(all), high: change.high * comes(now) };
            }
        }
        change
    }
}

impl Range {
    fn times(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }

    fn over(self, divisor: f64) -> Self {
        Self { low: self.low / divisor, high: self.high / divisor }
    }
}

fn first(values: &[f64]) -> f64 {
    values.first().copied().unwrap_or(0.0)
}

/// A quotient of numbers that are not negative; over nothing it is without bound.
fn ratio(over: f64, under: f64) -> f64 {
    if under > 0.0 { over / under } else { f64::INFINITY }
}

/// The largest mean of some numbers whose weights are only known within ranges; 0 where nothing has
/// a weight.
fn largest_mean(
    count: usize,
    number: impl Fn(usize) -> f64,
    weight: impl Fn(usize) -> Range,
) -> f64 {
    furthest_mean(count, number, weight, |one, other| one > other).unwrap_or(0.0)
}

/// The least mean, likewise; without bound where nothing has a weight.
fn least_mean(count: usize, number: impl Fn(usize) -> f64, weight: impl Fn(usize) -> Range) -> f64 {
    furthest_mean(count, number, weight, |one, other| one < other).unwrap_or(f64::INFINITY)
}

/// From the mean of the greatest weights outward: numbers beyond the mean at their greatest weight,
/// the others at their least, until the mean moves no more (Dinkelbach, On nonlinear fractional
/// programming, 1967; each pass is one of his steps, and a few suffice).
fn furthest_mean(
    count: usize,
    number: impl Fn(usize) -> f64,
    weight: impl Fn(usize) -> Range,
    beyond: impl Fn(f64, f64) -> bool,
) -> Option<f64> {
    let mean = |is_raised: &dyn Fn(f64) -> bool| {
        let (mut sum, mut total) = (0.0, 0.0);
        for place in 0..count {
            let (number, weight) = (number(place), weight(place));
            let weight = if is_raised(number) { weight.high } else { weight.low };
            if weight > 0.0 {
                sum += weight * number;
                total += weight;
            }
        }
        (total > 0.0).then(|| sum / total)
    };
    let mut furthest = mean(&|_| true)?;
    while let Some(next) = mean(&|number| beyond(number, furthest)).filter(|n| beyond(*n, furthest))
    {
        furthest = next;
    }
    Some(furthest)
}
