//! What to do next, what it should bring, and whether the last repair brought it.

use crate::formula::VarId;
use crate::interview::{
    Answer, Incomparable, Task, Verdict, Work, alternatives, cautions_with, open_needs,
    planned_work,
};
use crate::report::model::{
    AlternativeLine, IncomparableCode, Named, Shown, SizeLine, VerdictLine, WorkKind, WorkLine,
};
use crate::rules::{CautionId, QuestionId, RepairId, VarOwner};
use crate::text::spaced;

use super::ConclusionBuilder;
use super::figures::{figure_line, shown_band};

impl ConclusionBuilder<'_, '_> {
    pub(super) fn work(&self, work: &Work) -> WorkLine {
        match work.what {
            Task::Check(question) => self.check(work, question),
            Task::Repair(repair) => self.repair(work, repair),
        }
    }

    fn check(&self, work: &Work, question: QuestionId) -> WorkLine {
        let asked = &self.pack.questions[question];
        WorkLine {
            kind: WorkKind::Check,
            id: self.pack.questions.id(question).to_owned(),
            minutes: work.minutes,
            chance: work.chance,
            made_for: work.made_for.map(|repair| self.named_repair(repair)),
            after_check: None,
            alternatives: Vec::new(),
            sizes: Vec::new(),
            missing: Vec::new(),
            leaves_as_is: false,
            expect: asked.normal.clone().unwrap_or_default(),
            title: asked.text.clone(),
            how: asked.how.clone(),
            tools: asked.tools.clone(),
            parts: Vec::new(),
            cautions: self.caution_ids(&cautions_with(self.pack, question)),
        }
    }

    fn repair(&self, work: &Work, repair: RepairId) -> WorkLine {
        let written = &self.pack.repairs[repair];
        WorkLine {
            kind: WorkKind::Repair,
            id: self.pack.repairs.id(repair).to_owned(),
            minutes: work.minutes,
            chance: work.chance,
            made_for: None,
            after_check: work.after_check.map(|question| self.question(question)),
            alternatives: self.alternatives(repair),
            sizes: self.sizes(repair),
            missing: open_needs(self.state, repair)
                .into_iter()
                .map(|question| self.question(question))
                .collect(),
            leaves_as_is: self.leaves_as_is(repair),
            expect: self.expected(repair),
            title: written.title.clone(),
            how: written.how.clone(),
            tools: written.tools.clone(),
            parts: written.parts.clone(),
            cautions: self.caution_ids(&written.cautions),
        }
    }

    /// The work whose plan was asked for, but for what is next anyway.
    pub(super) fn planned(&self, next_work: &[Work]) -> Vec<WorkLine> {
        let first = next_work.first().map(|work| work.what);
        let planned = planned_work(self.state).into_iter();
        let planned = planned.filter(|repair| first != Some(Task::Repair(*repair)));
        planned.map(|repair| self.planned_line(repair)).collect()
    }

    /// What to do next: behind the first, without what stands under the plan.
    pub(super) fn next(&self, next_work: &[Work]) -> Vec<WorkLine> {
        let planned = planned_work(self.state);
        let is_planned =
            |work: &Work| planned.iter().any(|repair| work.what == Task::Repair(*repair));
        let rest = next_work.iter().skip(1).filter(|work| !is_planned(work));
        let next = next_work.iter().take(1).chain(rest);
        let mut lines: Vec<WorkLine> = next.map(|work| self.work(work)).collect();
        // Whatever else there is to do comes before a repair that changes nothing.
        lines.sort_by_key(|line| line.leaves_as_is);
        lines
    }

    fn planned_line(&self, repair: RepairId) -> WorkLine {
        let what = Task::Repair(repair);
        let minutes = self.pack.repairs[repair].minutes;
        let work = Work { what, minutes, chance: 1.0, made_for: None, after_check: None };
        WorkLine { kind: WorkKind::Planned, ..self.repair(&work, repair) }
    }

    fn alternatives(&self, repair: RepairId) -> Vec<AlternativeLine> {
        let line = |other: RepairId| {
            let written = &self.pack.repairs[other];
            AlternativeLine {
                id: self.pack.repairs.id(other).to_owned(),
                title: written.title.clone(),
                minutes: written.minutes,
                mends: !written.mends.is_empty(),
            }
        };
        alternatives(self.state, repair).into_iter().map(line).collect()
    }

    /// The numbers that a repair is done by, as far as an answer stands below them.
    fn sizes(&self, repair: RepairId) -> Vec<SizeLine> {
        let line = |slot: &VarId| {
            let shown = match self.pack.owner_of(*slot) {
                VarOwner::Working(working) => {
                    let written = &self.pack.workings[working];
                    if !self.rests_on_answers(&written.formula.node) {
                        return None;
                    }
                    let worked = self.state.facts.worked(working)?;
                    let kind = written.formula.kind()?;
                    shown_band(&worked.band, &written.unit, kind).into()
                }
                VarOwner::Question(question) => {
                    let best = self.state.facts.shown_answer(question)?;
                    Shown { value: best.clone(), best, band: None }
                }
                VarOwner::CurveVariable => return None,
            };
            let id = self.pack.slot_id(*slot).to_owned();
            Some(SizeLine { id, title: self.title_of(*slot), shown })
        };
        self.pack.repairs[repair].sizes.iter().filter_map(line).collect()
    }

    fn named_repair(&self, repair: RepairId) -> Named {
        Named {
            id: self.pack.repairs.id(repair).to_owned(),
            text: self.pack.repairs[repair].title.clone(),
        }
    }

    fn caution_ids(&self, cautions: &[CautionId]) -> Vec<String> {
        self.pack.cautions.ids_at(cautions)
    }

    /// What a repair should bring, as numbers with their bands.
    fn expected(&self, repair: RepairId) -> String {
        let promises: Vec<String> = self.pack.repairs[repair]
            .predicts
            .iter()
            .filter_map(|(question, by)| {
                let VarOwner::Working(working) = self.pack.owner_of(*by) else { return None };
                let worked = self.state.facts.worked(working)?;
                let written = &self.pack.workings[working];
                let shown = shown_band(&worked.band, &written.unit, written.formula.kind()?);
                Some(format!("{} {}", self.short_title(*question), shown.with_band()))
            })
            .collect();
        promises.join("; ")
    }

    /// Whether all that a repair promises is what was read already, but for less than anyone would notice.
    fn leaves_as_is(&self, repair: RepairId) -> bool {
        const NOTICEABLE: f64 = 0.05;
        let mut told = self.pack.repairs[repair].predicts.iter().filter_map(|(question, by)| {
            let VarOwner::Working(working) = self.pack.owner_of(*by) else { return None };
            let promised = self.state.facts.worked(working)?.band.value;
            let Answer::Number(read) = &self.state.facts.held.get(question)?.answer else {
                return None;
            };
            Some((promised - read.value).abs() <= NOTICEABLE * read.value.abs())
        });
        told.next().is_some_and(|first| first && told.all(|same| same))
    }

    pub(super) fn verdict(&self, verdict: &Verdict) -> VerdictLine {
        let pack = self.pack;
        VerdictLine {
            verdict: verdict.outcome.word().to_owned(),
            probability: verdict.probability,
            told: verdict.told.map(|told| told.word().to_owned()),
            by_word: verdict.by_word,
            before: verdict.before.as_ref().map(figure_line),
            after: verdict.after.as_ref().map(figure_line),
            predicted: verdict.predicted.as_ref().map(figure_line),
            repair: verdict.repair.map(|repair| self.named_repair(repair)),
            judged_by: verdict.judged_by.map(|slot| pack.slot_id(slot).to_owned()),
            judged_by_title: verdict.judged_by.map(|slot| self.title_of(slot)),
            model_held: verdict.fell.as_ref().map(|fell| fell.held),
            expected_reading: verdict.fell.as_ref().map(|fell| figure_line(&fell.expected)),
            chance: verdict.fell.as_ref().map(|fell| fell.chance),
            forecast_now: verdict.forecast_now.as_ref().map(figure_line),
            because: verdict.because.map(|why| match why {
                Incomparable::ConditionsDiffer(_) => IncomparableCode::ConditionsDiffer,
                Incomparable::NothingNew => IncomparableCode::NothingNew,
                Incomparable::NotMeasuredTwice { .. } => IncomparableCode::NotMeasuredTwice,
            }),
            because_text: verdict.because.map(|why| match why {
                Incomparable::ConditionsDiffer(question) => {
                    let what = spaced(pack.questions.id(question));
                    format!("{what} differs too much between the two runs")
                }
                Incomparable::NothingNew => {
                    "nothing was measured again after the repair".to_owned()
                }
                Incomparable::NotMeasuredTwice { still_there } => {
                    let lacks = "the deciding value was not measured both before and after";
                    let rest = if still_there {
                        "; by what was read the trouble is still there"
                    } else {
                        ""
                    };
                    format!("{lacks}{rest}")
                }
            }),
        }
    }
}
