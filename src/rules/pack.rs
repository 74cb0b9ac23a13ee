//! A pack that was checked and linked: the only form that is walked. Every name has become a
//! place, every number is in SI, every formula is checked.

use std::fmt;

use indexmap::IndexMap;

use super::question::{AnswerForm, Question, UsualUncertainty};
use super::table::{
    CarStateId, CauseId, CautionId, ComplaintId, CurveId, DrawingId, FindingId, InstrumentId,
    QuestionId, ReadingId, RepairId, SetupId, SourceId, StepId, Table, TypedIndex, WorkingId,
};
use super::text::Template;
use super::written::Given;
use crate::formula::{Formula, VarId};
use crate::quantity::{Kind, Unit};
use crate::ranking::Network;
use crate::text::spaced;

/// One pack, or several laid over one another.
#[derive(Debug, Clone, Default)]
pub struct Pack {
    /// The heads of the packs, the lowest first.
    pub layers: Vec<Layer>,
    /// Minutes that a question costs beside its work, by the highest pack that says so.
    pub asking: f64,
    pub complaints: Table<ComplaintId, Complaint>,
    pub car_states: Table<CarStateId, CarState>,
    pub setups: Table<SetupId, Setup>,
    pub instruments: Table<InstrumentId, Instrument>,
    pub questions: Table<QuestionId, Question>,
    pub workings: Table<WorkingId, Working>,
    pub curves: Table<CurveId, Curve>,
    pub drawings: Table<DrawingId, Drawing>,
    pub readings: Table<ReadingId, ReadingRule>,
    pub findings: Table<FindingId, Finding>,
    pub causes: Table<CauseId, Cause>,
    pub repairs: Table<RepairId, Repair>,
    pub cautions: Table<CautionId, Caution>,
    pub steps: Table<StepId, Step>,
    pub sources: Table<SourceId, Source>,
    pub cases: IndexMap<String, Case>,
    /// Workings in an order in which each stands behind those it reads.
    pub working_order: Vec<WorkingId>,
    /// Causes and findings as the ranking sees them, by the same places.
    pub network: Network,
    /// Tells these rules from others.
    pub digest: String,
}

/// The head of one pack in a stack.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Layer {
    pub name: String,
    pub version: Option<String>,
    pub author: Option<String>,
    pub licence: Option<String>,
    pub about: Option<String>,
}

#[derive(Debug, Clone)]
pub struct Complaint {
    pub title: String,
    pub about: Option<String>,
    pub start: Option<StepId>,
    pub shows: Vec<FindingId>,
    /// The number that tells whether a repair worked.
    pub judged_by: Option<VarId>,
    /// Which way that number should move.
    pub better: Option<Better>,
    pub gone_when: Option<Formula>,
    /// The choice by which the person tells after a repair whether it is gone.
    pub told_by: Option<QuestionId>,
    /// Two rounds can only be compared where these answers differ by no more than this, SI.
    pub comparable_within: Vec<(QuestionId, f64)>,
    /// The heading it stands under in a menu.
    pub group: Option<String>,
    /// How many of those who come bring it, 0 to 1; 0 where nobody says.
    pub common: f64,
    /// Other words that people use for it.
    pub also: Vec<String>,
}

impl Complaint {
    /// Whether it tells of a fault; one that shows nothing asks for a plan.
    #[must_use]
    pub fn tells_of_a_fault(&self) -> bool {
        !self.shows.is_empty()
    }
}

/// Which way a number should move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Better {
    Lower,
    Higher,
}

#[derive(Debug, Clone)]
pub struct CarState {
    pub title: String,
    pub how: Option<String>,
    pub minutes: f64,
    pub cautions: Vec<CautionId>,
}

#[derive(Debug, Clone)]
pub struct Setup {
    pub title: String,
    pub how: Option<String>,
    pub put_back: String,
    pub minutes: f64,
    pub cautions: Vec<CautionId>,
}

#[derive(Debug, Clone)]
pub struct Instrument {
    pub title: String,
    /// One standard uncertainty of a reading, SI.
    pub uncertainty: f64,
    /// The kind of what it reads.
    pub kind: Option<Kind>,
    /// In words: class and span, as the file gives them.
    pub grade: String,
}

#[derive(Debug, Clone)]
pub struct Working {
    pub title: Option<String>,
    pub formula: Formula,
    pub unit: Unit,
    pub says: Option<Template>,
    pub sources: Vec<SourceId>,
}

#[derive(Debug, Clone)]
pub struct Curve {
    pub title: String,
    /// The slot that is varied: a question's, or the curve's own.
    pub over: VarId,
    pub over_name: String,
    pub over_unit: Unit,
    pub from: f64,
    pub to: f64,
    pub steps: usize,
    pub formula: Formula,
    pub unit: Unit,
    pub marks: Vec<CurveMark>,
    pub sources: Vec<SourceId>,
}

/// Something measured or planned, to be seen against a curve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CurveMark {
    pub title: String,
    /// What tells where along the curve it stands.
    pub at: VarId,
    /// What was measured there; a plan has none.
    pub value: Option<VarId>,
}

/// Parts of a plan, drawn to scale.
#[derive(Debug, Clone)]
pub struct Drawing {
    pub title: String,
    pub about: Option<String>,
    pub shapes: Vec<Shape>,
}

/// A shape of a drawing. Its formulas give lengths, m: x to the right, y up; angles turn from x towards y.
#[derive(Debug, Clone)]
pub struct Shape {
    pub title: Option<String>,
    pub form: ShapeForm,
    pub x: Formula,
    pub y: Formula,
    pub stroke: Stroke,
    /// How exactly it is to be made, as the file says it.
    pub tolerance: Option<String>,
}

#[derive(Debug, Clone)]
pub enum ShapeForm {
    /// Its diameter.
    Circle(Formula),
    /// Where it ends.
    Line(Formula, Formula),
    /// The same with arrows, and its length beside it.
    Dimension(Formula, Formula),
    /// An arc with arrows, and its degrees beside it.
    Angle { across: Formula, from: Formula, to: Formula },
    /// A circle for each row of a table: an angle clockwise from the top, and how far out it lies.
    Holes { table: QuestionId, angle_first: bool, across: Formula },
}

/// How a shape is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    Thick,
    Thin,
    Dashed,
}

/// An answer that is a reading of what a formula works out.
#[derive(Debug, Clone)]
pub struct ReadingRule {
    pub of: QuestionId,
    /// What it should read, SI.
    pub should_be: Formula,
    /// The reading counts with the chance that this holds; left out, always.
    pub when: Option<Formula>,
    /// One standard uncertainty of the formula itself; above 0.
    pub good_to: UsualUncertainty,
    pub sources: Vec<SourceId>,
}

#[derive(Debug, Clone)]
pub struct Finding {
    pub when: Formula,
    pub says: Template,
    pub sources: Vec<SourceId>,
}

#[derive(Debug, Clone)]
pub struct Cause {
    pub title: String,
    pub about: Option<String>,
    /// The cars it can be in; all, where the file says nothing.
    pub fits: Option<Formula>,
    pub confirmed_by: Vec<QuestionId>,
    pub confused_with: Vec<CauseId>,
    pub sources: Vec<SourceId>,
}

#[derive(Debug, Clone)]
pub struct Repair {
    pub title: String,
    pub how: Option<String>,
    pub mends: Vec<CauseId>,
    pub succeeds: f64,
    pub minutes: f64,
    pub tools: Vec<String>,
    pub parts: Vec<String>,
    pub cautions: Vec<CautionId>,
    pub invalidates: Vec<QuestionId>,
    /// What a question should read afterwards, as a working or a question gives it.
    pub predicts: Vec<(QuestionId, VarId)>,
    /// Workings and answers that it is done by, shown beside it.
    pub sizes: Vec<VarId>,
    /// While it holds the work is planned, with or without a fault.
    pub planned_when: Option<Formula>,
    /// What must be answered before it is done.
    pub needs: Vec<QuestionId>,
    /// Other ways out of the same fault, shown with it; those that mend nothing among them.
    pub alternatives: Vec<RepairId>,
    pub sources: Vec<SourceId>,
}

/// How much a caution matters, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    Stop,
    Danger,
    Care,
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Stop => "stop",
            Self::Danger => "danger",
            Self::Care => "care",
        })
    }
}

#[derive(Debug, Clone)]
pub struct Caution {
    pub level: Level,
    /// Left out: it goes with whatever names it.
    pub when: Option<Formula>,
    pub text: String,
    pub forbids: Vec<Forbidden>,
}

/// What a caution in force forbids.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Forbidden {
    CarState(CarStateId),
    Setup(SetupId),
    Question(QuestionId),
    Repair(RepairId),
}

#[derive(Debug, Clone)]
pub struct Step {
    pub title: Option<String>,
    pub ask: Vec<QuestionId>,
    pub work: Vec<WorkingId>,
    pub ask_best_of: Vec<QuestionId>,
    /// Asks no more once the lead stands clear; what is chosen among never does.
    pub until_clear: bool,
    pub then: Vec<Branch>,
}

#[derive(Debug, Clone)]
pub struct Branch {
    pub when: Option<Formula>,
    /// Left out: conclude.
    pub go: Option<StepId>,
}

#[derive(Debug, Clone)]
pub struct Source {
    pub title: String,
    pub kind: SourceKind,
    pub place: Option<String>,
}

/// How far a source can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SourceKind {
    Standard,
    Book,
    Maker,
    Paper,
    Trade,
    Practice,
    Memory,
}

/// A pack's own test.
#[derive(Debug, Clone)]
pub struct Case {
    /// The file it stands in, by its place among the files that were read.
    pub file: usize,
    pub about: Option<String>,
    pub complaints: Vec<ComplaintId>,
    pub answers: IndexMap<String, Given>,
    pub first: Option<CauseId>,
    pub among_first: Vec<(CauseId, usize)>,
    pub cautions: Vec<CautionId>,
    pub no_cautions: Vec<CautionId>,
    /// The first repair that is proposed.
    pub repair: Option<RepairId>,
    pub questions_at_most: Option<usize>,
}

impl Pack {
    /// Whose value stands in a slot.
    #[must_use]
    pub fn owner_of(&self, slot: VarId) -> VarOwner {
        let questions = self.questions.len();
        if slot.0 < questions {
            VarOwner::Question(QuestionId::from_index(slot.0))
        } else if slot.0 < questions + self.workings.len() {
            VarOwner::Working(WorkingId::from_index(slot.0 - questions))
        } else {
            VarOwner::CurveVariable
        }
    }

    /// The question that is put to a person: of an option that may be true with others, its list.
    #[must_use]
    pub fn asked_with(&self, question: QuestionId) -> QuestionId {
        self.questions[question].list.unwrap_or(question)
    }

    /// The options of a list; of any other question none.
    #[must_use]
    pub fn options_of(&self, question: QuestionId) -> &[QuestionId] {
        match &self.questions[question].answer {
            AnswerForm::AnyOf(options) => options,
            _ => &[],
        }
    }

    /// The slot of a question's value.
    #[must_use]
    pub fn question_slot(&self, question: QuestionId) -> VarId {
        VarId(question.index())
    }

    /// The slot of a working's value.
    #[must_use]
    pub fn working_slot(&self, working: WorkingId) -> VarId {
        VarId(self.questions.len() + working.index())
    }

    /// The id of what stands in a slot.
    #[must_use]
    pub fn slot_id(&self, slot: VarId) -> &str {
        match self.owner_of(slot) {
            VarOwner::Question(question) => self.questions.id(question),
            VarOwner::Working(working) => self.workings.id(working),
            VarOwner::CurveVariable => "the curve's variable",
        }
    }

    /// What a working is called: its title, else its id in words.
    #[must_use]
    pub fn working_title(&self, working: WorkingId) -> String {
        let title = self.workings[working].title.clone();
        title.unwrap_or_else(|| spaced(self.workings.id(working)))
    }
}

/// Whose value a slot holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VarOwner {
    Question(QuestionId),
    Working(WorkingId),
    CurveVariable,
}
