//! The causes in order, each with what speaks for and against it, and how sure the order is.

use crate::interview::{Facts, FindingReason, Ranked, doubts, reasons};
use crate::ranking::{RestsOn, Without};
use crate::report::model::{
    AnswerLine, CauseLine, DoubtLine, FindingLine, InferenceCode, InferenceLine, ReasonLine,
    SetLine,
};
use crate::rules::{CauseId, FindingId, QuestionId, TypedIndex};

use super::ConclusionBuilder;

/// The most likely sets that are listed.
const MAX_SETS: usize = 10;
/// The likeliest causes, whose reasons are listed as far as anybody may want them.
const DETAILED: usize = 20;
/// The most reasons on each side that are listed of such a cause, and of any other.
const MAX_REASONS: (usize, usize) = (40, 8);
/// The most answers named that the lead hangs on.
const MAX_DOUBTS: usize = 3;

impl ConclusionBuilder<'_, '_> {
    /// All causes, the likeliest first; equals stay in the pack's order.
    pub(super) fn causes(&self, without: &[Without]) -> Vec<CauseLine> {
        let probabilities = self.state.ranked.probabilities();
        if probabilities.is_empty() {
            return Vec::new();
        }
        let speaks = reasons(self.state, without);
        let mut order: Vec<CauseId> = self.pack.causes.indices().collect();
        order.sort_by(|a, b| probabilities[b.index()].total_cmp(&probabilities[a.index()]));
        order
            .into_iter()
            .enumerate()
            .map(|(rank, place)| {
                let most = if rank < DETAILED { MAX_REASONS.0 } else { MAX_REASONS.1 };
                self.cause(place, probabilities[place.index()], (&speaks[place.index()], most))
            })
            .collect()
    }

    fn cause(
        &self,
        place: CauseId,
        probability: f64,
        (speaks, most): (&[FindingReason], usize),
    ) -> CauseLine {
        let cause = &self.pack.causes[place];
        let unanswered = |question: &&QuestionId| !self.state.facts.held.contains_key(*question);
        let (speaks_for, against): (Vec<&FindingReason>, Vec<&FindingReason>) =
            speaks.iter().partition(|reason| reason.times > 1.0);
        let weaker = [&speaks_for, &against].map(|side| side.len().saturating_sub(most));
        let lines = |reasons: Vec<&FindingReason>| {
            reasons.into_iter().take(most).map(|reason| self.reason(reason)).collect()
        };
        CauseLine {
            id: self.pack.causes.id(place).to_owned(),
            title: cause.title.clone(),
            probability,
            speaks_for: lines(speaks_for),
            against: lines(against),
            weaker: weaker.iter().sum(),
            about: cause.about.clone(),
            confirmed_by: cause
                .confirmed_by
                .iter()
                .filter(unanswered)
                .map(|question| self.question(*question))
                .collect(),
        }
    }

    fn reason(&self, reason: &FindingReason) -> ReasonLine {
        let says = &self.pack.findings[reason.finding].says;
        let now = self.chance_of(reason.finding).map(|chance| (chance, &self.state.facts));
        let earlier = now.is_none();
        let seen = now.or_else(|| self.earlier_chance_of(reason.finding));
        ReasonLine {
            finding: self.pack.findings.id(reason.finding).to_owned(),
            times: Some(reason.times).filter(|times| times.is_finite()),
            holds: seen.is_some_and(|(chance, _)| chance > 0.5),
            probability: seen.map(|(chance, _)| chance),
            earlier: earlier && seen.is_some(),
            says: seen.map_or(&self.state.facts, |(_, facts)| facts).filled(says),
        }
    }

    pub(super) fn findings(&self) -> Vec<FindingLine> {
        self.pack
            .findings
            .iter()
            .map(|(place, finding)| FindingLine {
                id: self.pack.findings.id(place).to_owned(),
                probability: self.chance_of(place),
                says: self.state.facts.filled(&finding.says),
            })
            .collect()
    }

    /// How likely a finding is true by the answers, or by the complaint itself.
    fn chance_of(&self, finding: FindingId) -> Option<f64> {
        let chance = || self.chance_worked_out(finding);
        self.chances.get(finding.index()).map_or_else(chance, |kept| *kept.get_or_init(chance))
    }

    /// How likely it was true in the last earlier round that could tell, and what was known then: a
    /// repair makes an answer stale, not what it showed of the car before.
    fn earlier_chance_of(&self, finding: FindingId) -> Option<(f64, &Facts<'_>)> {
        let when = &self.pack.findings[finding].when;
        let told = |facts: &'_ Facts<'_>| facts.weigh(when).and_then(|weight| weight.decided());
        let before = &self.state.before;
        let seen = before.iter().rev().find_map(|facts| Some((told(facts)?, facts)));
        seen.or_else(|| Some((1.0, before.first()?)).filter(|_| self.is_shown(finding)))
    }

    /// Whether a complaint shows it.
    fn is_shown(&self, finding: FindingId) -> bool {
        let mut complaints = self.state.complaints.iter();
        complaints.any(|complaint| self.pack.complaints[*complaint].shows.contains(&finding))
    }

    fn chance_worked_out(&self, finding: FindingId) -> Option<f64> {
        let shown = || self.state.round == 1 && self.is_shown(finding);
        let weight = self.state.facts.weigh(&self.pack.findings[finding].when);
        match weight {
            Some(weight) => weight.decided(),
            None => shown().then_some(1.0),
        }
    }

    pub(super) fn likely_sets(&self) -> Vec<SetLine> {
        let Some(posterior) = self.state.ranked.posterior() else { return Vec::new() };
        let places = |causes: &[usize]| -> Vec<CauseId> {
            causes.iter().map(|cause| CauseId::from_index(*cause)).collect()
        };
        posterior
            .likely_sets(MAX_SETS)
            .iter()
            .map(|set| {
                let causes = places(&set.causes);
                SetLine {
                    causes: self.pack.causes.ids_at(&causes),
                    titles: causes
                        .iter()
                        .map(|cause| self.pack.causes[*cause].title.clone())
                        .collect(),
                    probability: set.probability,
                }
            })
            .collect()
    }

    pub(super) fn doubts(&self, without: &[Without]) -> Vec<DoubtLine> {
        doubts(self.state, without)
            .into_iter()
            .take(MAX_DOUBTS)
            .map(|doubt| DoubtLine {
                answers: doubt.answers.iter().map(|question| self.question(*question)).collect(),
                lead: self.pack.causes.id(doubt.lead).to_owned(),
                lead_title: self.pack.causes[doubt.lead].title.clone(),
                probability: doubt.probability,
                fits: doubt.fits,
            })
            .collect()
    }

    pub(super) fn contradiction(&self) -> Option<Vec<String>> {
        Some(self.pack.questions.ids_at(self.clash()?))
    }

    pub(super) fn clashing(&self) -> Vec<AnswerLine> {
        let clashing = self.clash().unwrap_or_default();
        clashing.iter().filter_map(|question| self.answer_line(*question)).collect()
    }

    fn clash(&self) -> Option<&[QuestionId]> {
        match &self.state.ranked {
            Ranked::Causes(_) | Ranked::Failed(_) => None,
            Ranked::Contradiction(answers) => Some(answers),
        }
    }

    pub(super) fn inference(&self) -> InferenceLine {
        let inference = self.state.ranked.posterior().map(|posterior| posterior.inference());
        let (exact, left_out) =
            inference.map_or((true, 0.0), |inference| (inference.exact, inference.left_out));
        let (rests_on, text) = match inference.map(|inference| inference.rests_on) {
            None if self.state.internal_error().is_some() => {
                (InferenceCode::Failed, "nothing: the program failed")
            }
            None => (InferenceCode::Contradiction, "the answers clash"),
            Some(RestsOn::AllSets) => {
                (InferenceCode::AllSets, "every combination of causes was evaluated")
            }
            Some(RestsOn::Pairs) => (
                InferenceCode::Pairs,
                "an estimate: the likeliest causes in every combination, the others in pairs",
            ),
            Some(RestsOn::Draws) => (
                InferenceCode::Draws,
                "the likeliest causes were taken set by set, the others drawn: four standard errors",
            ),
            Some(RestsOn::Chains) => (
                InferenceCode::Chains,
                "combinations of causes drawn one from another (Markov chains): four standard errors",
            ),
        };
        InferenceLine { exact, left_out, rests_on, rests_on_text: text.to_owned() }
    }
}
