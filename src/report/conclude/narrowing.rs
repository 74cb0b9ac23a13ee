//! What to measure next, or more closely, to narrow the bands of a plan: by how much they would all be
//! narrower, could one input be known exactly.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::calibration::variance_share;
use crate::formula::{FEW_DRAWS, JointDraws};
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
            let by_reading = self.reading_shares(*working);
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

    /// What each reading that could still be taken would take off the variance of a working.
    fn reading_shares(&self, working: WorkingId) -> Vec<(QuestionId, f64)> {
        let facts = &self.state.facts;
        let open: Vec<_> = self
            .pack
            .readings
            .iter()
            .map(|(_, rule)| rule)
            .filter(|rule| !facts.answered(rule.of) && self.state.open.contains(&rule.of))
            .filter(|rule| facts.evaluator.value(&rule.should_be).is_ok())
            .collect();
        if open.is_empty() {
            return Vec::new();
        }
        let taught = facts.learnt.as_ref().and_then(|learnt| learnt.joint.clone());
        let joint =
            taught.unwrap_or_else(|| Arc::new(JointDraws::new(FEW_DRAWS, std::iter::empty(), 0.0)));
        let draws = |formula| facts.evaluator.at_draws(formula, &joint);
        let forecast = draws(&self.pack.workings[working].formula);
        open.into_iter()
            .map(|rule| {
                let own = match &self.pack.questions[rule.of].answer {
                    AnswerForm::Measure(measure) => match measure.uncertainty {
                        UsualUncertainty::Amount(amount) => amount,
                        UsualUncertainty::Relative(_) => 0.0,
                    },
                    _ => 0.0,
                };
                let uncertainty = rule.good_to.hypot(own);
                (rule.of, variance_share(&forecast, &draws(&rule.should_be), uncertainty))
            })
            .collect()
    }
}
