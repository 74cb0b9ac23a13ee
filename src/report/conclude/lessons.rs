//! What readings have taught, and which of them the engine can hardly explain.

use crate::interview::{Clash, Lesson};
use crate::quantity::{Kind, print_band, print_value};
use crate::report::model::{ClashLine, ReadingLine};
use crate::rules::{AnswerForm, Measure};

use super::ConclusionBuilder;
use super::figures::Coherent;

impl ConclusionBuilder<'_, '_> {
    /// The readings of all rounds, in the order they were taken.
    pub(super) fn readings(&self) -> Vec<ReadingLine> {
        let learnt = self.state.facts.learnt.iter();
        learnt.flat_map(|learnt| &learnt.lessons).filter_map(|one| self.reading(one)).collect()
    }

    fn reading(&self, lesson: &Lesson) -> Option<ReadingLine> {
        let AnswerForm::Measure(measure) = &self.pack.questions[lesson.of].answer else {
            return None;
        };
        let coherent = Coherent::of(measure.kind.dimension);
        let expected = lesson.expected;
        Some(ReadingLine {
            id: self.pack.readings.id(lesson.reading).to_owned(),
            of: self.pack.questions.id(lesson.of).to_owned(),
            title: self.short_title(lesson.of),
            round: lesson.round + 1,
            value: coherent.value(lesson.value),
            unit: coherent.symbol(),
            standard_uncertainty: coherent.size(lesson.uncertainty),
            expected: expected.map(|(mean, _)| coherent.value(mean)),
            expected_standard_uncertainty: expected.map(|(_, spread)| coherent.size(spread)),
            chance: lesson.chance,
            shown: print_value(lesson.value, lesson.uncertainty, &measure.unit, measure.kind),
            shown_expected: expected.map(|(mean, spread)| around(mean, spread, measure)),
            clash: lesson.clash.map(|clash| self.clash_of(&clash, measure)),
        })
    }

    fn clash_of(&self, clash: &Clash, measure: &Measure) -> ClashLine {
        let coherent = Coherent::of(measure.kind.dimension);
        ClashLine {
            standard_uncertainty: coherent.size(clash.widened_to),
            doubt: clash.doubt.map(|question| self.question(question)),
        }
    }
}

/// The stretch in which a value lies 95 times in 100.
fn around(mean: f64, spread: f64, measure: &Measure) -> String {
    let (low, high) = (mean - 1.96 * spread, mean + 1.96 * spread);
    // No boost is below what the air makes.
    let low = if measure.kind == Kind::GAUGE_PRESSURE { low.max(0.0) } else { low };
    print_band(low, high, &measure.unit)
}
