//! The one result model. Every form is rendered from it and computes nothing; as JSON it is the
//! contract that scripts rest on, so field names stay.

use indexmap::IndexMap;
use serde::Serialize;

use super::scale_drawing::ScaleDrawing;

pub use super::numbers::{
    Basis, CurveLine, FigureLine, GapCode, NarrowingLine, PointLine, RefusedLine, RowLine,
    ShareLine, Shown, WorkingLine,
};

/// An id, or a list of them where there are several.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Ids {
    One(String),
    Several(Vec<String>),
}

/// What an interview has come to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Conclusion {
    pub complaint: Ids,
    pub complaint_titles: Vec<String>,
    /// From 1.
    pub round: usize,
    /// Answers nobody gave, laid over the others to see what if: `peak_boost=0.9 bar`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub supposed: Vec<String>,
    pub next_question: Option<Named>,
    pub open_questions: Vec<String>,
    pub cautions: Vec<CautionLine>,
    pub causes: Vec<CauseLine>,
    pub likely_sets: Vec<SetLine>,
    pub next_work: Vec<WorkLine>,
    /// Work whose plan was asked for, with or without a fault.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub planned: Vec<WorkLine>,
    /// Whether nothing is complained of: a plan is all that was asked for.
    #[serde(skip)]
    pub only_planned: bool,
    /// Where asking ended and nothing stands clear: the check that tells most, for one with all tools.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub workshop_check: Option<Named>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<VerdictLine>,
    /// What was not so before the last repair and is so now.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub new_since_repair: Vec<NewLine>,
    /// What the complaint shows and answers rule out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub denied: Vec<DeniedLine>,
    /// The answers that the lead hangs on, the most doubtful first.
    pub doubts: Vec<DoubtLine>,
    /// Whether the lead stands clear of the other causes.
    pub clear: bool,
    /// The causes that stand clear: one, or several that are present together.
    pub standing_clear: Vec<String>,
    pub workings: Vec<WorkingLine>,
    /// What readings have taught of the engine, in the order they were taken.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<ReadingLine>,
    /// The inputs that would narrow the bands of the steps' workings most, were they known exactly.
    pub narrowing: Vec<NarrowingLine>,
    /// Workings of the steps on the way that could not be worked out.
    pub refused: Vec<RefusedLine>,
    pub curves: Vec<CurveLine>,
    /// What is planned, drawn to scale; a form of its own.
    #[serde(skip)]
    pub drawings: Vec<ScaleDrawing>,
    pub findings: Vec<FindingLine>,
    pub answers: Vec<AnswerLine>,
    pub assumptions: Vec<AnswerLine>,
    /// Questions nobody could answer.
    pub not_known: Vec<Named>,
    /// What to put back before the next drive.
    pub put_back: Vec<String>,
    pub contradiction: Option<Vec<String>>,
    /// The answers that clash, as they were given.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub clashing: Vec<AnswerLine>,
    pub inference: InferenceLine,
    /// Where only what a reader of a conclusion needs is told: what was left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_out: Option<LeftOutLine>,
    /// A slip of the program itself, with a request to report it: what stands here is then not whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub internal_error: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Named {
    pub id: String,
    pub text: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CautionLine {
    pub id: String,
    pub level: String,
    pub text: String,
    /// In force by what was answered, not just going with a task.
    pub in_force: bool,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CauseLine {
    pub id: String,
    pub title: String,
    pub probability: f64,
    #[serde(rename = "for")]
    pub speaks_for: Vec<ReasonLine>,
    pub against: Vec<ReasonLine>,
    /// How many weaker reasons are not listed.
    #[serde(skip_serializing_if = "is_zero")]
    pub weaker: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub about: Option<String>,
    /// What would confirm it, not yet answered.
    pub confirmed_by: Vec<Named>,
}

/// A finding and what it does to a cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReasonLine {
    pub finding: String,
    /// The odds with the finding over the odds without it; null where that has no bound.
    pub times: Option<f64>,
    /// The finding is more likely true than not; otherwise it is its absence that speaks.
    pub holds: bool,
    /// How likely it is true; of what was seen before the repair, how likely it was.
    pub probability: Option<f64>,
    /// It was seen in an earlier round, and is not known since.
    pub earlier: bool,
    pub says: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SetLine {
    pub causes: Vec<String>,
    pub titles: Vec<String>,
    pub probability: f64,
}

/// Something to do next.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WorkLine {
    pub kind: WorkKind,
    pub id: String,
    pub minutes: f64,
    /// For a repair: that it cures; for a check: that it settles something, or where it is made for
    /// a repair, that it finds what that repair mends.
    pub chance: f64,
    /// For a check: the repair to do if it finds something.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub made_for: Option<Named>,
    /// For a repair: the check to make first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub after_check: Option<Named>,
    /// For a repair: the other ways out of the same fault.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub alternatives: Vec<AlternativeLine>,
    /// For a repair: the numbers that it is done by.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sizes: Vec<SizeLine>,
    /// For a repair: what must be measured before it is done, and was not.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub missing: Vec<Named>,
    /// For a repair: by its own forecast what was read would stay as it is.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub leaves_as_is: bool,
    /// For a repair: what it should bring; for a check: what is normal.
    pub expect: String,
    pub title: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    pub tools: Vec<String>,
    pub parts: Vec<String>,
    pub cautions: Vec<String>,
}

/// A number that a repair is done by.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeLine {
    /// The working's, or the question's.
    pub id: String,
    pub title: String,
    pub shown: Shown,
}

/// Another way out of the fault that a repair mends.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlternativeLine {
    pub id: String,
    pub title: String,
    pub minutes: f64,
    /// False for a way to live with the fault.
    pub mends: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WorkKind {
    Check,
    Repair,
    /// A repair that is planned, with or without a fault.
    Planned,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VerdictLine {
    pub verdict: String,
    pub probability: f64,
    /// What the person says: cured, better, unchanged or worse.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub told: Option<String>,
    /// The verdict rests on what the person says alone.
    pub by_word: bool,
    pub before: Option<FigureLine>,
    pub after: Option<FigureLine>,
    pub predicted: Option<FigureLine>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub repair: Option<Named>,
    /// Whether what was measured lies where it was predicted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model_held: Option<bool>,
    /// The prediction with the uncertainty of the reading and of the formula itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expected_reading: Option<FigureLine>,
    /// Chance of a reading as far out in that as this or farther, to either side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub judged_by: Option<String>,
    /// What it is judged by, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub judged_by_title: Option<String>,
    /// Where the calculation did not hold: what it gives by all that is known now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forecast_now: Option<FigureLine>,
    /// Why it can't be told, where it can't, and the same in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because: Option<IncomparableCode>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub because_text: Option<String>,
}

/// Why before and after a repair can't be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum IncomparableCode {
    ConditionsDiffer,
    NothingNew,
    NotMeasuredTwice,
}

/// A finding that came with the last repair, and the cause that brings it most often.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NewLine {
    pub finding: String,
    pub says: String,
    pub cause: String,
    pub cause_title: String,
}

/// A finding of the complaint that answers rule out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DeniedLine {
    pub complaint: String,
    pub finding: String,
    pub says: String,
    pub answers: Vec<Named>,
}

/// An answer that, were it wrong, would put another cause in the lead.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DoubtLine {
    pub answers: Vec<Named>,
    /// The cause that would lead then, and its chance.
    pub lead: String,
    pub lead_title: String,
    pub probability: f64,
    /// The chance that all else gives to what was answered.
    pub fits: f64,
}

/// An answer that is a reading of what a formula works out; values in coherent SI.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingLine {
    pub id: String,
    /// The answer that it is.
    pub of: String,
    pub title: String,
    /// The round in which it was taken, from 1.
    pub round: usize,
    pub value: f64,
    pub unit: String,
    /// Of the answer and the formula together.
    pub standard_uncertainty: f64,
    /// What it should have been by the other readings.
    pub expected: Option<f64>,
    pub expected_standard_uncertainty: Option<f64>,
    /// Chance of a reading as far off as this or farther.
    pub chance: f64,
    pub shown: String,
    /// The 95 % band of what it should have been.
    pub shown_expected: Option<String>,
    /// Where the engine can hardly explain it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clash: Option<ClashLine>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClashLine {
    /// The uncertainty that it is taken with in place of its own, coherent SI.
    pub standard_uncertainty: f64,
    /// The other answer that, were it wrong, would explain it best.
    pub doubt: Option<Named>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingLine {
    pub id: String,
    /// Null where it can't be told.
    pub probability: Option<f64>,
    pub says: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnswerLine {
    pub id: String,
    pub text: String,
    pub shown: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// The parts of `source`.
    #[serde(skip)]
    pub sources: Vec<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct InferenceLine {
    pub exact: bool,
    pub left_out: f64,
    pub rests_on: InferenceCode,
    /// The same in words.
    pub rests_on_text: String,
}

/// What the probabilities rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum InferenceCode {
    /// Nothing: the answers clash.
    Contradiction,
    AllSets,
    Pairs,
    Draws,
    /// Combinations drawn one from another by Markov chains.
    Chains,
    /// Nothing: the program failed.
    Failed,
}

/// What was left out of a conclusion, and the little that is said of it all the same.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeftOutLine {
    /// How to get all of it, in words.
    pub note: String,
    /// The causes that are too unlikely for a place among the others, with their chances.
    pub unlikely_causes: IndexMap<String, f64>,
    /// Sets of causes that are as unlikely.
    pub likely_sets: usize,
    /// Reasons of the causes listed that hardly change their odds.
    pub reasons: usize,
    /// Findings that no answer tells anything of.
    pub findings: usize,
    /// Workings that no step named and that say nothing, or that rest on typical values alone.
    pub workings: usize,
    /// Fields that the answers lack.
    pub answer_fields: Vec<String>,
    /// Fields of the workings listed.
    pub working_fields: Vec<String>,
    /// Points of curves as numbers; people's rows of them are listed.
    pub curve_points: usize,
}

/// Whether there is nothing to say of a count.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference over")]
fn is_zero(count: &usize) -> bool {
    *count == 0
}
