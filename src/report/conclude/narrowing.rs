//! What to measure next, or more closely, to narrow the bands of a plan: by how much they would all be
//! narrower, could one input be known exactly.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::calibration::{Predictive, variance_share};
use crate::formula::{CURVE_DRAWS, Formula, JointDraws};
use crate::report::model::NarrowingLine;
use crate::rules::{AnswerForm, QuestionId, UsualUncertainty, WorkingId};

use super::ConclusionBuilder;

/// The most inputs that are named.
const MAX_INPUTS: usize = 3;

/// What one input does to the bands.
#[derive(Default)]
struct Effect {
    /// What it takes off the widths of all bands together.
    taken: f64,
    /// The band from which it takes most, what it takes, and as a part of that band.
    most: Option<(WorkingId, f64, f64)>,
}

/// Readings that could still be taken: what each should be at draws of the engine, and how uncertain it
/// would be.
struct OpenReadings {
    joint: Arc<JointDraws>,
    readings: Vec<(QuestionId, Vec<Option<f64>>, f64)>,
}

impl ConclusionBuilder<'_, '_> {
    /// Over the workings that the steps on the way name and that have a band. A band counts by its
    /// uncertainty over its value, so that the wide ones count most; a value that is lost in its
    /// uncertainty, as differences around 0 are, has no such width. The shares of a band are
    /// those of the first order (JCGM 100:2008, 5.1.2): without one of them it has √(1 − share) of its
    /// width.
    ///
    /// A reading that could still be taken stands beside them with the share of the variance that it
    /// takes away ([`variance_share`]).
    pub(super) fn narrowing(&self) -> Vec<NarrowingLine> {
        let mut effects: BTreeMap<QuestionId, Effect> = BTreeMap::new();
        let mut all = 0.0;
        let open = self.open_readings();
        for working in &self.state.walk.named {
            if !self.rests_on_answers(&self.pack.workings[*working].formula.node) {
                continue;
            }
            let Some(worked) = self.state.facts.worked(*working) else { continue };
            let band = &worked.band;
            let width = band.uncertainty / band.value.abs();
            if !(width > 0.0 && width < 1.0) {
                continue;
            }
            all += width;
            let by_reading = self.reading_shares(&open, &self.pack.workings[*working].formula);
            for (question, share) in self.shares(&worked).chain(by_reading) {
                let narrower = 1.0 - (1.0 - share).max(0.0).sqrt();
                let effect = effects.entry(question).or_default();
                let taken = width * narrower;
                effect.taken += taken;
                if effect.most.is_none_or(|(_, most, _)| taken > most) {
                    effect.most = Some((*working, taken, narrower));
                }
            }
        }
        // What a danger forbids, nobody is sent to measure.
        let danger = &self.state.danger;
        effects.retain(|question, _| !danger.forbids_question(self.pack, *question));
        let line = |(question, effect): (QuestionId, Effect)| {
            let (most, _, most_narrower) = effect.most?;
            Some(NarrowingLine {
                id: self.pack.questions.id(question).to_owned(),
                title: self.short_title(question),
                assumed: !self.state.facts.answered(question),
                narrower: effect.taken / all,
                most: self.pack.workings.id(most).to_owned(),
                most_title: self.pack.working_title(most),
                most_narrower,
            })
        };
        let mut lines: Vec<NarrowingLine> = effects.into_iter().filter_map(line).collect();
        lines.sort_by(|a, b| b.narrower.total_cmp(&a.narrower));
        lines.truncate(MAX_INPUTS);
        lines
    }

    /// The readings that could still be taken, at common draws.
    fn open_readings(&self) -> OpenReadings {
        let facts = &self.state.facts;
        let taught = facts.learnt.as_ref().and_then(|learnt| learnt.joint.clone());
        let joint = taught.map_or_else(
            || JointDraws::new(CURVE_DRAWS, std::iter::empty(), 0.0),
            |joint| joint.spaced(CURVE_DRAWS),
        );
        let mut found = OpenReadings { joint: Arc::new(joint), readings: Vec::new() };
        for (_, rule) in self.pack.readings.iter() {
            let is_open = !facts.answered(rule.of) && self.state.open.contains(&rule.of);
            if !is_open || facts.evaluator.value(&rule.should_be).is_err() {
                continue;
            }
            let should_be = facts.evaluator.at_draws(&rule.should_be, &found.joint);
            let own = match &self.pack.questions[rule.of].answer {
                AnswerForm::Measure(measure) => measure.uncertainty,
                _ => UsualUncertainty::Amount(0.0),
            };
            let reading = Predictive::over(&should_be).map_or(0.0, |over| over.mean);
            let uncertainty = rule.good_to.of(reading).hypot(own.of(reading));
            found.readings.push((rule.of, should_be, uncertainty));
        }
        found
    }

    /// What each of these readings would take off the variance of a formula.
    fn reading_shares(&self, open: &OpenReadings, formula: &Formula) -> Vec<(QuestionId, f64)> {
        if open.readings.is_empty() {
            return Vec::new();
        }
        let forecast = self.state.facts.evaluator.at_draws(formula, &open.joint);
        let share = |(question, should_be, uncertainty): &(QuestionId, Vec<Option<f64>>, f64)| {
            (*question, variance_share(&forecast, should_be, *uncertainty))
        };
        open.readings.iter().map(share).collect()
    }
}
