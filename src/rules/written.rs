//! A rule file as it is written: texts and lists, nothing looked up yet. Every field may be
//! missing here, so that the checker can name all that is wrong at once. Scalars stay text, as
//! they stand in the file.
//!
//! `build.rs` compiles this file too: it writes the built-in rules as these types read them.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// One section: entries by id.
pub type Section<T> = IndexMap<String, T>;

/// A rule file.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct File {
    pub pack: Option<Head>,
    pub complaints: Option<Section<Complaint>>,
    pub car_states: Option<Section<CarState>>,
    pub setups: Option<Section<Setup>>,
    pub instruments: Option<Section<Instrument>>,
    pub questions: Option<Section<Question>>,
    pub conditions: Option<Section<String>>,
    pub arguments: Option<Section<Arguments>>,
    pub relations: Option<Section<Relation>>,
    pub workings: Option<Section<Working>>,
    pub curves: Option<Section<Curve>>,
    pub drawings: Option<Section<Drawing>>,
    pub readings: Option<Section<Reading>>,
    pub findings: Option<Section<Finding>>,
    pub causes: Option<Section<Cause>>,
    pub repairs: Option<Section<Repair>>,
    pub cautions: Option<Section<Caution>>,
    pub steps: Option<Section<Step>>,
    pub strengths: Option<Section<String>>,
    pub sources: Option<Section<Source>>,
    pub cases: Option<Section<Case>>,
}

/// The head of a pack.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Head {
    pub name: Option<String>,
    pub version: Option<String>,
    pub language: Option<String>,
    pub author: Option<String>,
    pub licence: Option<String>,
    pub about: Option<String>,
    pub asking: Option<String>,
    pub usual: Option<Usual>,
    /// Ids of entries in packs below that this pack means to replace.
    pub replaces: Option<Vec<String>>,
}

/// What holds for the questions of a pack that don't say it themselves.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Usual {
    pub sure: Option<String>,
    pub slips: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Complaint {
    pub title: Option<String>,
    pub start: Option<String>,
    pub shows: Option<Vec<String>>,
    pub about: Option<String>,
    pub judged_by: Option<String>,
    pub better: Option<String>,
    pub gone_when: Option<String>,
    pub told_by: Option<String>,
    pub group: Option<String>,
    pub common: Option<String>,
    pub also: Option<Vec<String>>,
    pub comparable_within: Option<IndexMap<String, String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct CarState {
    pub title: Option<String>,
    pub how: Option<String>,
    pub minutes: Option<String>,
    pub cautions: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Setup {
    pub title: Option<String>,
    pub how: Option<String>,
    pub put_back: Option<String>,
    pub minutes: Option<String>,
    pub cautions: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Instrument {
    pub title: Option<String>,
    pub class: Option<String>,
    pub span: Option<String>,
    pub uncertainty: Option<String>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Question {
    pub text: Option<String>,
    pub answer: Option<AnswerForm>,
    pub how: Option<String>,
    pub why: Option<String>,
    pub normal: Option<String>,
    pub car: Option<String>,
    pub setup: Option<String>,
    pub minutes: Option<String>,
    pub tools: Option<Vec<String>>,
    pub sure: Option<String>,
    pub repeats: Option<String>,
    pub holds: Option<String>,
    pub cautions: Option<Vec<String>>,
    pub fits: Option<String>,
    pub not_before: Option<Vec<String>>,
    pub invalidates: Option<Vec<String>>,
    pub also: Option<Vec<String>>,
    pub source: Option<Vec<String>>,
}

/// How a question is answered: a bare word, or a mapping with one of `measure`, `choose`, `any_of`,
/// `table`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AnswerForm {
    Word(String),
    Fields(Box<AnswerFields>),
}

impl Question {
    /// Options that may be true together, with their texts.
    #[must_use]
    pub fn options(&self) -> IndexMap<String, String> {
        match &self.answer {
            Some(AnswerForm::Fields(fields)) => fields.any_of.clone().unwrap_or_default(),
            _ => IndexMap::new(),
        }
    }
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct AnswerFields {
    pub measure: Option<String>,
    pub unit: Option<String>,
    pub from: Option<String>,
    pub to: Option<String>,
    pub typical: Option<String>,
    pub uncertainty: Option<String>,
    pub slips: Option<String>,
    pub read_with: Option<Vec<String>>,
    pub choose: Option<IndexMap<String, String>>,
    pub any_of: Option<IndexMap<String, String>>,
    pub overlooked: Option<String>,
    pub table: Option<IndexMap<String, String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Arguments {
    pub values: Option<IndexMap<String, String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Relation {
    pub given: Option<Vec<String>>,
    pub formula: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Working {
    pub title: Option<String>,
    pub formula: Option<String>,
    pub unit: Option<String>,
    pub says: Option<String>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Curve {
    pub title: Option<String>,
    pub over: Option<String>,
    pub from: Option<String>,
    pub to: Option<String>,
    pub steps: Option<String>,
    pub formula: Option<String>,
    pub unit: Option<String>,
    pub marks: Option<Vec<CurveMark>>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct CurveMark {
    pub title: Option<String>,
    pub at: Option<String>,
    pub value: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Drawing {
    pub title: Option<String>,
    pub about: Option<String>,
    pub shapes: Option<Vec<Shape>>,
}

/// A circle, a line, a dimension, an angle or holes of a drawing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Shape {
    pub kind: Option<String>,
    pub title: Option<String>,
    pub x: Option<String>,
    pub y: Option<String>,
    pub across: Option<String>,
    pub to_x: Option<String>,
    pub to_y: Option<String>,
    pub from_angle: Option<String>,
    pub to_angle: Option<String>,
    pub table: Option<String>,
    pub stroke: Option<String>,
    pub tolerance: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Reading {
    pub of: Option<String>,
    pub should_be: Option<String>,
    pub when: Option<String>,
    pub good_to: Option<String>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Finding {
    pub when: Option<String>,
    pub says: Option<String>,
    pub leak: Option<String>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Cause {
    pub title: Option<String>,
    pub common: Option<String>,
    pub about: Option<String>,
    pub fits: Option<String>,
    pub brings: Option<IndexMap<String, String>>,
    pub confirmed_by: Option<Vec<String>>,
    pub confused_with: Option<Vec<String>>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Repair {
    pub title: Option<String>,
    pub how: Option<String>,
    pub mends: Option<Vec<String>>,
    pub succeeds: Option<String>,
    pub minutes: Option<String>,
    pub tools: Option<Vec<String>>,
    pub parts: Option<Vec<String>>,
    pub cautions: Option<Vec<String>>,
    pub invalidates: Option<Vec<String>>,
    pub predicts: Option<IndexMap<String, String>>,
    pub sizes: Option<Vec<String>>,
    pub planned_when: Option<String>,
    pub needs: Option<Vec<String>>,
    pub alternatives: Option<Vec<String>>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Caution {
    pub level: Option<String>,
    pub when: Option<String>,
    pub text: Option<String>,
    pub forbids: Option<Vec<String>>,
    pub source: Option<Vec<String>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Step {
    pub title: Option<String>,
    pub ask: Option<Vec<String>>,
    pub work: Option<Vec<String>>,
    pub ask_best_of: Option<Vec<String>>,
    pub until: Option<String>,
    pub then: Option<Vec<Branch>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Branch {
    pub when: Option<String>,
    pub go: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Source {
    pub title: Option<String>,
    pub kind: Option<String>,
    #[serde(rename = "where")]
    pub place: Option<String>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Case {
    pub about: Option<String>,
    pub complaint: Option<OneOrMore>,
    pub answers: Option<IndexMap<String, Given>>,
    pub then: Option<Expected>,
    pub source: Option<Vec<String>>,
}

/// What a case expects of its conclusion.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub struct Expected {
    pub first: Option<String>,
    pub among_first: Option<IndexMap<String, String>>,
    pub cautions: Option<Vec<String>>,
    pub no_cautions: Option<Vec<String>>,
    pub repair: Option<String>,
    pub questions_at_most: Option<String>,
}

/// An id, or a list of ids.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OneOrMore(pub Vec<String>);

/// An answer as a person gave it: the text of a scalar, the ids of what was picked from a list, or the
/// rows of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    Text(String),
    Rows(Vec<IndexMap<String, String>>),
    Picked(Vec<String>),
}
