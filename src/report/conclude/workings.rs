//! What was worked out, with formula, numbers, sources and where the band comes from.

use crate::formula::{Estimate, Formula, Node, UncertainInput, VarId, shortened};
use crate::interview::{origin, with_numbers};
use crate::quantity::Printed;
use crate::report::model::{Basis, ShareLine, WorkingLine};
use crate::rules::{Piece, QuestionId, SourceId, TypedIndex, VarOwner, WorkingId};
use crate::text::spaced;

use super::ConclusionBuilder;
use super::figures::{Coherent, band_from, effective_draws, shown_band};

/// The most inputs named for a wide band.
const MAX_SHARES: usize = 3;
/// The most arguments shown of a call.
const MAX_ARGUMENTS: usize = 3;
/// A longer text is no title.
const MAX_TITLE: usize = 60;

impl ConclusionBuilder<'_, '_> {
    /// Those that the steps on the way name, in the order of the steps, then the others by title.
    pub(super) fn workings(&self) -> Vec<WorkingLine> {
        let all: Vec<usize> = self.pack.workings.indices().map(|place| place.index()).collect();
        self.state.facts.evaluator.prepare(&all);
        let mut lines: Vec<(usize, WorkingLine)> = self
            .pack
            .workings
            .indices()
            .filter_map(|place| {
                let named = self.state.walk.named.iter().position(|named| *named == place);
                Some((named.unwrap_or(usize::MAX), self.working(place)?))
            })
            .collect();
        lines.sort_by(|(a_place, a), (b_place, b)| {
            a_place.cmp(b_place).then_with(|| a.title.cmp(&b.title))
        });
        lines.into_iter().map(|(_, line)| line).collect()
    }

    fn working(&self, place: WorkingId) -> Option<WorkingLine> {
        let written = &self.pack.workings[place];
        let kind = written.formula.kind()?;
        let facts = &self.state.facts;
        let worked = facts.worked(place)?;
        let band = &worked.band;
        let coherent = Coherent::of(kind.dimension);
        let id = self.pack.workings.id(place);
        let sources = self.sources_of(&written.formula.node, &written.sources);
        let title = self.pack.working_title(place);
        let shown = shown_band(band, &written.unit, kind);
        let own = Piece::Value(self.pack.working_slot(place));
        let headline = match facts.working_text(place, Printed::with_band) {
            Some(says) if written.says.as_ref().is_some_and(|says| says.0.contains(&own)) => says,
            Some(says) => format!("{title}: {}. {says}", shown.with_band()),
            None => format!("{title}: {}", shown.with_band()),
        };
        Some(WorkingLine {
            id: id.to_owned(),
            title,
            value: coherent.value(band.value),
            unit: coherent.symbol(),
            standard_uncertainty: coherent.size(band.uncertainty),
            low: coherent.value(band.low),
            high: coherent.value(band.high),
            basis: Some(self.basis(&written.formula, &worked, &sources)),
            origin: origin(facts, &written.formula),
            sources,
            rests_on_answers: self.rests_on_answers(&written.formula.node),
            shown: shown.into(),
            says: facts.working_text(place, |own| own.value.clone()),
            headline,
            named: self.state.walk.named.contains(&place),
            step: self.step_of(place),
        })
    }

    fn basis(&self, formula: &Formula, worked: &Estimate, sources: &[String]) -> Basis {
        let facts = &self.state.facts;
        let text = formula.text.clone();
        Basis {
            band_from: band_from(&worked.band).to_owned(),
            effective_draws: effective_draws(&worked.band),
            formula_in_short: shortened(&text, MAX_ARGUMENTS),
            with_numbers: with_numbers(facts, &text).filter(|filled| *filled != text),
            formula: text,
            source: sources.join("; "),
            assumed: self.pack.questions.ids_at(&facts.assumed(&formula.node)),
            widest: self.widest(worked),
        }
    }

    /// What stands in a slot, in a few words.
    pub(super) fn title_of(&self, slot: VarId) -> String {
        match self.pack.owner_of(slot) {
            VarOwner::Question(question) => self.short_title(question),
            VarOwner::Working(working) => self.pack.working_title(working),
            VarOwner::CurveVariable => spaced(self.pack.slot_id(slot)),
        }
    }

    /// The title of the first step on the way that names a working.
    fn step_of(&self, working: WorkingId) -> Option<String> {
        let mut steps = self.state.walk.path.iter().map(|step| &self.pack.steps[*step]);
        steps.find(|step| step.work.contains(&working))?.title.clone()
    }

    /// Whether at least one answer stands below a piece of a formula.
    pub(super) fn rests_on_answers(&self, node: &Node) -> bool {
        let facts = &self.state.facts;
        facts.questions_below(node).any(|question| facts.answered(question))
    }

    /// Where a number comes from: what the pack names, else the books of the functions it calls.
    fn sources_of(&self, node: &Node, sources: &[SourceId]) -> Vec<String> {
        let mut named: Vec<String> = sources.iter().map(|source| self.source(*source)).collect();
        for function in self.state.facts.evaluator.taken_functions(node) {
            if !named.iter().any(|known| known == function.source) {
                named.push(function.source.to_owned());
            }
        }
        if named.is_empty() {
            named.push("arithmetic on the answers".to_owned());
        }
        named
    }

    pub(super) fn source(&self, source: SourceId) -> String {
        let written = &self.pack.sources[source];
        match &written.place {
            Some(place) => format!("{} ({place})", written.title),
            None => written.title.clone(),
        }
    }

    fn widest(&self, worked: &Estimate) -> Vec<ShareLine> {
        let line = |(question, share)| ShareLine {
            id: self.pack.questions.id(question).to_owned(),
            title: self.short_title(question),
            share,
            assumed: !self.state.facts.answered(question),
        };
        let mut shares: Vec<ShareLine> = self.shares(worked).map(line).collect();
        shares.sort_by(|a, b| b.share.total_cmp(&a.share));
        shares.truncate(MAX_SHARES);
        shares
    }

    /// What each question makes of the variance of a result, by the first order.
    pub(super) fn shares(&self, worked: &Estimate) -> impl Iterator<Item = (QuestionId, f64)> {
        let total: f64 = worked.band.shares.iter().map(|share| share * share).sum();
        let inputs = worked.inputs.iter().zip(&worked.band.shares).filter(move |_| total > 0.0);
        inputs.filter_map(move |(input, share)| {
            let UncertainInput::Given(slot) = *input else { return None };
            let VarOwner::Question(question) = self.pack.owner_of(slot) else { return None };
            Some((question, share * share / total))
        })
    }

    /// What a question is about, in a few words: its text where that names a quantity, else its id.
    pub(super) fn short_title(&self, question: QuestionId) -> String {
        let text = &self.pack.questions[question].text;
        if text.ends_with('?') || text.chars().count() > MAX_TITLE {
            spaced(self.pack.questions.id(question))
        } else {
            text.clone()
        }
    }
}
