//! Questions that were checked and linked: what may be answered, and what is usual for it.

use indexmap::IndexMap;

use super::table::{CarStateId, CautionId, InstrumentId, QuestionId, SetupId, SourceId};
use crate::formula::Formula;
use crate::quantity::{Kind, Unit, print_value};
use crate::text::range;

/// What eyes, ears or memory tell takes no longer, in minutes.
const LIGHT: f64 = 3.0;

#[derive(Debug, Clone)]
pub struct Question {
    pub text: String,
    pub answer: AnswerForm,
    pub how: Option<String>,
    pub why: Option<String>,
    pub normal: Option<String>,
    pub car: Option<CarStateId>,
    pub setup: Option<SetupId>,
    pub minutes: f64,
    pub tools: Vec<String>,
    /// How often such an answer is right, as the question or its pack's head says; 1 where neither
    /// does. See [`Self::right`].
    pub sure: f64,
    /// Of a list and of its options: how often an option that is true isn't picked, 0 to 1; nothing where
    /// the file doesn't say.
    pub overlooked: Option<f64>,
    /// How many readings to take.
    pub repeats: usize,
    pub holds: Holds,
    pub cautions: Vec<CautionId>,
    /// The cars it can be asked of; all, where the file says nothing.
    pub fits: Option<Formula>,
    pub not_before: Vec<QuestionId>,
    pub invalidates: Vec<QuestionId>,
    /// Other words by which a person may look for it.
    pub also: Vec<String>,
    /// The list that it is an option of: asked and answered with that one, a yes or no to formulas.
    pub list: Option<QuestionId>,
    pub sources: Vec<SourceId>,
}

impl Question {
    /// Whether its answer is of one run alone, and stale with the next.
    #[must_use]
    pub fn is_of_one_run(&self) -> bool {
        self.holds == Holds::EachRun
    }

    /// How often an answer is right, 0 to 1: what is told or chosen by its `sure`, a measurement as often
    /// as it is no slip.
    #[must_use]
    pub fn right(&self) -> f64 {
        match &self.answer {
            AnswerForm::YesOrNo | AnswerForm::Choose(_) | AnswerForm::AnyOf(_) => self.sure,
            AnswerForm::Measure(measure) => 1.0 - measure.slips,
            AnswerForm::Table(_) => 1.0,
        }
    }

    /// How often an option that wasn't picked from its list is really not so, were it as likely as not
    /// beforehand: what people don't mention need not be absent.
    #[must_use]
    pub fn right_unpicked(&self) -> f64 {
        let right = self.right();
        self.overlooked.map_or(right, |overlooked| right / (right + overlooked))
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

/// How long an answer holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// As long as it is the same car.
    Car,
    /// Until the part is worked on.
    UntilTouched,
    /// For the one run it was taken on.
    EachRun,
}

/// What may be answered.
#[derive(Debug, Clone)]
pub enum AnswerForm {
    YesOrNo,
    Measure(Measure),
    /// Options: id and text.
    Choose(IndexMap<String, String>),
    /// Options any number of which may be true, each a question of its own.
    AnyOf(Vec<QuestionId>),
    /// Columns: id and kind.
    Table(Vec<(String, Kind)>),
}

/// A number with its unit, and what is usual for it.
#[derive(Debug, Clone)]
pub struct Measure {
    pub kind: Kind,
    /// The unit it is asked in.
    pub unit: Unit,
    /// The plausible range, SI.
    pub from: Option<f64>,
    pub to: Option<f64>,
    /// What may be assumed where nobody measured: value and one standard uncertainty, SI.
    pub typical: Option<(f64, f64)>,
    pub uncertainty: UsualUncertainty,
    /// How often a reading is off altogether, as the question or its pack's head says; 0 where neither
    /// does.
    pub slips: f64,
    pub read_with: Vec<InstrumentId>,
}

impl Measure {
    /// The plausible range in the unit it is asked in: `0 to 3 bar`; none where nothing limits it.
    #[must_use]
    pub fn range(&self) -> Option<String> {
        let limit = |si: f64| print_value(si, 0.0, &self.unit, self.kind);
        range(self.from.map(limit), self.to.map(limit), self.unit.symbol())
    }
}

/// The usual standard uncertainty of a reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UsualUncertainty {
    /// SI.
    Amount(f64),
    /// As a fraction of the reading.
    Relative(f64),
}

impl UsualUncertainty {
    /// That of a reading of this value, SI.
    #[must_use]
    pub fn of(self, value: f64) -> f64 {
        match self {
            Self::Amount(size) => size,
            Self::Relative(fraction) => (value * fraction).abs(),
        }
    }
}
