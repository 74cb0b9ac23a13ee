//! What can be told of a question from how it is written.

use crate::rules::pack::{AnswerForm, Question};

/// What eyes, ears or memory tell takes no longer, in minutes.
const LIGHT: f64 = 3.0;

impl Question {
    /// How often an answer is right, 0 to 1: what is told or chosen by its `sure`, a measurement as often
    /// as it is no slip.
    #[must_use]
    pub fn right(&self) -> f64 {
        match &self.answer {
            AnswerForm::YesOrNo | AnswerForm::Choose(_) => self.sure,
            AnswerForm::Measure(measure) => 1.0 - measure.slips,
            AnswerForm::Table(_) => 1.0,
        }
    }

    /// Whether it needs the car in some state or set-up; memory needs neither.
    #[must_use]
    pub fn needs_a_place(&self) -> bool {
        self.car.is_some() || self.setup.is_some()
    }

    /// Whether eyes, ears or memory answer it in a moment, wherever the car is.
    #[must_use]
    pub fn is_light(&self) -> bool {
        !self.needs_a_place() && self.tools.is_empty() && self.minutes <= LIGHT
    }
}
