//! What a repair promised a reading to be, and where the reading fell: in the distribution of the forecast
//! itself, whatever its form, with the uncertainty of the reading and of the formula on top.

use crate::formula::{COVERAGE, Standing, VarId};
use crate::rules::{QuestionId, TypedIndex, VarOwner};

use crate::interview::advice::figure::{Figure, figure};
use crate::interview::evidence::facts::Facts;

/// A change of less than this share of the number before is no change anyone would notice.
pub(super) const NOTICEABLE: f64 = 0.05;

/// A reading that fewer would be as far off as is one that was not foretold.
const FORETOLD: f64 = 0.05;

/// Where a reading fell among those that were to be expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Fell {
    /// Chance of a reading as far out as this or farther, to either side.
    pub chance: f64,
    /// The reading as it was to be expected: the forecast with the uncertainty of gauge and formula.
    pub expected: Figure,
    /// It lies inside the 95 % band, or so near to the forecast that nobody would notice.
    pub held: bool,
}

/// What a repair promised for a question.
#[derive(Clone, Copy)]
pub(super) struct Forecast<'a, 'p> {
    /// What was known when it was promised.
    pub(super) facts: &'a Facts<'p>,
    pub(super) of: QuestionId,
    /// The number that promises it.
    pub(super) by: VarId,
}

impl Forecast<'_, '_> {
    pub(super) fn figure(&self) -> Option<Figure> {
        figure(self.facts, self.by)
    }

    /// Where a number that was read from the question fell.
    pub(super) fn fell(&self, after: &Figure) -> Option<Fell> {
        let promised = self.figure()?;
        let uncertainty = after.uncertainty.hypot(self.good_to(after.value));
        let standing = match self.facts.pack.owner_of(self.by) {
            VarOwner::Working(working) => {
                self.facts.evaluator.standing_at(working.index(), after.value, uncertainty)?
            }
            _ => Standing::among(
                &[promised.value],
                after.value,
                uncertainty.hypot(promised.uncertainty),
            )?,
        };
        let chance = standing.chance();
        let off = (after.value - promised.value).abs();
        let Standing { low, high, .. } = standing;
        Some(Fell {
            chance,
            held: chance >= FORETOLD || off <= NOTICEABLE * promised.value.abs(),
            expected: Figure { uncertainty: (high - low) / 2.0 / COVERAGE, low, high, ..promised },
        })
    }

    /// How good the formula itself is at a value, as far as the rules say it of a reading of that
    /// question, SI.
    fn good_to(&self, value: f64) -> f64 {
        let mut rules = self.facts.pack.readings.iter();
        rules.find(|(_, rule)| rule.of == self.of).map_or(0.0, |(_, rule)| rule.good_to.of(value))
    }
}
