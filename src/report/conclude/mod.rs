//! From where an interview stands to what there is to say about it.

mod causes;
mod curves;
mod drawings;
mod figures;
mod given;
mod lessons;
mod narrowing;
mod new_faults;
mod refused;
mod work;
mod workings;

use std::cell::OnceCell;

use crate::interview::{
    Denied, State, Work, cautions_with, next_work, planned_work, verdict, without, workshop_check,
};
use crate::rules::{CautionId, Pack, QuestionId, RepairId};

use super::model::{CautionLine, Conclusion, DeniedLine, Ids, Named};

/// What there is to say. `repair` is the one that opened the present round.
#[must_use]
pub fn conclude(state: &State<'_>, repair: Option<RepairId>) -> Conclusion {
    let chances = vec![OnceCell::new(); state.pack.findings.len()];
    ConclusionBuilder { state, pack: state.pack, chances }.conclusion(repair)
}

struct ConclusionBuilder<'a, 'p> {
    state: &'a State<'p>,
    pack: &'p Pack,
    /// By finding: how likely it is true.
    chances: Vec<OnceCell<Option<f64>>>,
}

impl ConclusionBuilder<'_, '_> {
    /// Whether nobody complains of anything.
    fn only_planned(&self) -> bool {
        let mut complaints = self.state.complaints.iter();
        !complaints.any(|own| self.pack.complaints[*own].tells_of_a_fault())
    }

    fn conclusion(&self, repair: Option<RepairId>) -> Conclusion {
        let (state, pack) = (self.state, self.pack);
        let (next_work, internal_error) = match next_work(state) {
            Ok(work) => (work, None),
            Err(error) => (Vec::new(), Some(error.to_string())),
        };
        // Where nothing was complained of, what is planned is the work.
        let is_for_a_plan =
            self.only_planned() && !state.is_clear() && !planned_work(state).is_empty();
        let next_work = if is_for_a_plan { Vec::new() } else { next_work };
        let workings = self.workings();
        let without = without(state);
        Conclusion {
            complaint: self.complaint(),
            complaint_titles: state
                .complaints
                .iter()
                .map(|complaint| pack.complaints[*complaint].title.clone())
                .collect(),
            round: state.round,
            supposed: Vec::new(),
            next_question: state.walk.next.map(|next| self.question(next.question)),
            open_questions: pack.questions.ids_at(&state.open),
            cautions: self.cautions(&next_work),
            causes: self.causes(&without),
            likely_sets: self.likely_sets(),
            workshop_check: workshop_check(state, &next_work).map(|check| self.question(check)),
            planned: self.planned(&next_work),
            only_planned: self.only_planned(),
            next_work: self.next(&next_work),
            verdict: verdict(state, repair).map(|verdict| self.verdict(&verdict)),
            new_since_repair: self.new_since_repair(),
            denied: self.denied(),
            doubts: self.doubts(&without),
            clear: state.is_clear(),
            standing_clear: pack.causes.ids_at(&state.standing_clear()),
            readings: self.readings(),
            curves: self.curves(),
            drawings: self.drawings(),
            findings: self.findings(),
            answers: self.answers(),
            assumptions: self.assumptions(&workings),
            workings,
            narrowing: self.narrowing(),
            refused: self.refused(),
            not_known: self.not_known(),
            put_back: state
                .in_place
                .iter()
                .map(|setup| pack.setups[*setup].put_back.clone())
                .collect(),
            contradiction: self.contradiction(),
            clashing: self.clashing(),
            inference: self.inference(),
            left_out: None,
            internal_error,
        }
    }

    fn denied(&self) -> Vec<DeniedLine> {
        let line = |denied: &Denied| DeniedLine {
            complaint: self.pack.complaints.id(denied.complaint).to_owned(),
            finding: self.pack.findings.id(denied.finding).to_owned(),
            says: self.state.facts.filled(&self.pack.findings[denied.finding].says),
            answers: denied.answers.iter().map(|question| self.question(*question)).collect(),
        };
        self.state.denied().iter().map(line).collect()
    }

    fn complaint(&self) -> Ids {
        let ids = self.pack.complaints.ids_at(&self.state.complaints);
        match ids.as_slice() {
            [one] => Ids::One(one.clone()),
            _ => Ids::Several(ids),
        }
    }

    fn question(&self, question: QuestionId) -> Named {
        Named {
            id: self.pack.questions.id(question).to_owned(),
            text: self.pack.questions[question].text.clone(),
        }
    }

    /// Those in force, those of the next question and those of the work ahead, the worst first.
    fn cautions(&self, next_work: &[Work]) -> Vec<CautionLine> {
        let (state, pack) = (self.state, self.pack);
        let mut cautions: Vec<CautionId> = state.danger.in_force.clone();
        let due =
            state.walk.next.map(|next| cautions_with(pack, next.question)).unwrap_or_default();
        let ahead = next_work.iter().flat_map(|work| work.cautions(pack));
        let planned = planned_work(state).into_iter();
        let planned = planned.flat_map(|repair| pack.repairs[repair].cautions.iter().copied());
        for caution in due.into_iter().chain(ahead).chain(planned) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        // Within a level those in force stay first: the sort is stable.
        cautions.sort_by_key(|caution| pack.cautions[*caution].level);
        cautions.into_iter().map(|caution| self.caution(caution)).collect()
    }

    fn caution(&self, caution: CautionId) -> CautionLine {
        let written = &self.pack.cautions[caution];
        CautionLine {
            id: self.pack.cautions.id(caution).to_owned(),
            level: written.level.to_string(),
            text: written.text.clone(),
            in_force: self.state.danger.in_force.contains(&caution),
        }
    }
}
