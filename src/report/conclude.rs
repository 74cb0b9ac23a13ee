//! From where an interview stands to what there is to say about it.

use crate::formula::{Node, RootId, Worked};
use crate::interview::{
    Answer, Ranked, State, Task, Verdict, Work, cautions_with, doubts, reasons, verdict, work_ahead,
};
use crate::quantity::print_value;
use crate::ranking::RestsOn;
use crate::rules::{CautionId, Named, Pack, Place, QuestionId, RepairId, SourceId, WorkingId};

use super::curves::curves;
use super::figures::{Coherent, band_from, figure_line, shown_band};
use super::model::{
    AnswerLine, CauseLine, CautionLine, Conclusion, DoubtLine, FindingLine, Ids, InferenceLine,
    NextQuestion, ReasonLine, SetLine, ShareLine, VerdictLine, WorkKind, WorkLine, WorkingLine,
};

/// The most likely sets that are listed.
const MOST_SETS: usize = 10;
/// The most answers named that the lead hangs on.
const MOST_DOUBTS: usize = 3;
/// The most inputs named for a wide band.
const MOST_SHARES: usize = 3;

/// What there is to say. `repair` is the one that opened the present round.
#[must_use]
pub fn conclude(state: &State<'_>, repair: Option<RepairId>) -> Conclusion {
    Writer { state, pack: state.pack }.conclusion(repair)
}

struct Writer<'a, 'p> {
    state: &'a State<'p>,
    pack: &'p Pack,
}

impl Writer<'_, '_> {
    fn conclusion(&self, repair: Option<RepairId>) -> Conclusion {
        let (state, pack) = (self.state, self.pack);
        let ids: Vec<String> = state
            .complaints
            .iter()
            .map(|complaint| pack.complaints.id(*complaint).to_owned())
            .collect();
        let next_work = work_ahead(state);
        let mut cautions: Vec<CautionId> = state.danger.in_force.clone();
        let due =
            state.walk.next.map(|next| cautions_with(pack, next.question)).unwrap_or_default();
        let ahead = next_work.iter().flat_map(|work| work.cautions(pack));
        for caution in due.into_iter().chain(ahead) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        // Within a level those in force stay first: the sort is stable.
        cautions.sort_by_key(|caution| pack.cautions[*caution].level);
        Conclusion {
            complaint: match ids.as_slice() {
                [one] => Ids::One(one.clone()),
                _ => Ids::Several(ids.clone()),
            },
            complaint_titles: state
                .complaints
                .iter()
                .map(|complaint| pack.complaints[*complaint].title.clone())
                .collect(),
            round: state.round,
            supposed: Vec::new(),
            next_question: state.walk.next.map(|next| self.question(next.question)),
            open_questions: state
                .open
                .iter()
                .map(|question| pack.questions.id(*question).to_owned())
                .collect(),
            cautions: cautions.into_iter().map(|caution| self.caution(caution)).collect(),
            causes: self.causes(),
            likely_sets: self.likely_sets(),
            next_work: next_work.iter().map(|work| self.work(work)).collect(),
            verdict: verdict(state, repair).map(|verdict| self.verdict(&verdict)),
            doubts: self.doubts(),
            clear: state.is_clear(),
            workings: self.workings(),
            curves: curves(state),
            findings: self.findings(),
            answers: self.answers(),
            assumptions: self.assumptions(),
            not_known: self.not_known(),
            put_back: state
                .in_place
                .iter()
                .map(|setup| pack.setups[*setup].put_back.clone())
                .collect(),
            contradiction: self.contradiction(),
            inference: self.inference(),
        }
    }
}

impl Writer<'_, '_> {
    fn question(&self, question: QuestionId) -> NextQuestion {
        NextQuestion {
            id: self.pack.questions.id(question).to_owned(),
            text: self.pack.questions[question].text.clone(),
        }
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

    /// All causes, the likeliest first; equals stay in the pack's order.
    fn causes(&self) -> Vec<CauseLine> {
        let probabilities = self.state.ranked.probabilities();
        if probabilities.is_empty() {
            return Vec::new();
        }
        let speaks = reasons(self.state);
        let mut order: Vec<_> = self.pack.causes.places().collect();
        order.sort_by(|a, b| probabilities[b.index()].total_cmp(&probabilities[a.index()]));
        order
            .into_iter()
            .map(|place| {
                let cause = &self.pack.causes[place];
                let unanswered =
                    |question: &&QuestionId| !self.state.facts.held.contains_key(*question);
                let mut line = CauseLine {
                    id: self.pack.causes.id(place).to_owned(),
                    title: cause.title.clone(),
                    probability: probabilities[place.index()],
                    speaks_for: Vec::new(),
                    against: Vec::new(),
                    about: cause.about.clone(),
                    confirmed_by: cause
                        .confirmed_by
                        .iter()
                        .filter(unanswered)
                        .map(|question| self.question(*question))
                        .collect(),
                };
                for reason in &speaks[place.index()] {
                    let written = &self.pack.findings[reason.finding];
                    let reason_line = ReasonLine {
                        finding: self.pack.findings.id(reason.finding).to_owned(),
                        times: Some(reason.times).filter(|times| times.is_finite()),
                        says: self.state.facts.filled(&written.says),
                    };
                    if reason.times > 1.0 {
                        line.speaks_for.push(reason_line);
                    } else {
                        line.against.push(reason_line);
                    }
                }
                line
            })
            .collect()
    }

    fn likely_sets(&self) -> Vec<SetLine> {
        let Some(posterior) = self.state.ranked.posterior() else { return Vec::new() };
        let name = |cause: &usize| self.pack.causes.id(Place::from_index(*cause)).to_owned();
        posterior
            .likely_sets(MOST_SETS)
            .iter()
            .map(|set| SetLine {
                causes: set.causes.iter().map(name).collect(),
                probability: set.probability,
            })
            .collect()
    }

    fn verdict(&self, verdict: &Verdict) -> VerdictLine {
        let pack = self.pack;
        VerdictLine {
            verdict: verdict.outcome.word().to_owned(),
            probability: verdict.probability,
            before: verdict.before.as_ref().map(figure_line),
            after: verdict.after.as_ref().map(figure_line),
            predicted: verdict.predicted.as_ref().map(figure_line),
            repair: verdict.repair.map(|repair| NextQuestion {
                id: pack.repairs.id(repair).to_owned(),
                text: pack.repairs[repair].title.clone(),
            }),
            judged_by: verdict.judged_by.map(|slot| pack.slot_id(slot).to_owned()),
            model_held: verdict.model_held,
            because: verdict.because.clone(),
        }
    }

    fn doubts(&self) -> Vec<DoubtLine> {
        doubts(self.state)
            .into_iter()
            .take(MOST_DOUBTS)
            .map(|doubt| DoubtLine {
                answers: doubt.answers.iter().map(|question| self.question(*question)).collect(),
                lead: self.pack.causes.id(doubt.lead).to_owned(),
                lead_title: self.pack.causes[doubt.lead].title.clone(),
                probability: doubt.probability,
                fits: doubt.fits,
            })
            .collect()
    }

    fn workings(&self) -> Vec<WorkingLine> {
        self.pack.workings.places().filter_map(|place| self.working(place)).collect()
    }

    fn working(&self, place: WorkingId) -> Option<WorkingLine> {
        let written = &self.pack.workings[place];
        let kind = written.formula.kind()?;
        let worked = self.state.facts.worked(place)?;
        let band = &worked.band;
        let coherent = Coherent::of(kind.dimension);
        let assumed = self.state.facts.assumed(&written.formula.node);
        let name = |question: &QuestionId| self.pack.questions.id(*question).to_owned();
        Some(WorkingLine {
            id: self.pack.workings.id(place).to_owned(),
            title: written
                .title
                .clone()
                .unwrap_or_else(|| self.pack.workings.id(place).replace('_', " ")),
            value: coherent.value(band.value),
            unit: coherent.symbol(),
            standard_uncertainty: coherent.size(band.uncertainty),
            low: coherent.value(band.low),
            high: coherent.value(band.high),
            band_from: band_from(band).to_owned(),
            formula: written.formula.text.clone(),
            source: self.source_of(&written.formula.node, &written.sources),
            assumed: assumed.iter().map(name).collect(),
            shown: print_value(band.value, band.uncertainty, &written.unit, kind),
            shown_band: shown_band(band, &written.unit),
            says: written.says.as_ref().map(|says| self.state.facts.filled(says)),
            named: self.state.walk.named.contains(&place),
            widest: self.widest(&worked),
        })
    }

    /// Where a number comes from: what the pack names, else the books of the functions it calls.
    fn source_of(&self, node: &Node, sources: &[SourceId]) -> String {
        let mut named: Vec<String> = sources.iter().map(|source| self.source(*source)).collect();
        node.walk(&mut |part| {
            if let Node::Call { function, .. } = part
                && !named.iter().any(|known| known == function.source)
            {
                named.push(function.source.to_owned());
            }
        });
        if named.is_empty() { "arithmetic on the answers".to_owned() } else { named.join("; ") }
    }

    fn source(&self, source: SourceId) -> String {
        let written = &self.pack.sources[source];
        match &written.place {
            Some(place) => format!("{} ({place})", written.title),
            None => written.title.clone(),
        }
    }

    fn widest(&self, worked: &Worked) -> Vec<ShareLine> {
        let total: f64 = worked.band.shares.iter().map(|share| share * share).sum();
        if total <= 0.0 {
            return Vec::new();
        }
        let mut shares: Vec<ShareLine> = worked
            .roots
            .iter()
            .zip(&worked.band.shares)
            .filter_map(|(root, share)| {
                let RootId::Given(slot) = root else { return None };
                let Named::Question(question) = self.pack.named(*slot) else { return None };
                Some(ShareLine {
                    id: self.pack.questions.id(question).to_owned(),
                    share: share * share / total,
                    assumed: !self.state.facts.answered(question),
                })
            })
            .collect();
        shares.sort_by(|a, b| b.share.total_cmp(&a.share));
        shares.truncate(MOST_SHARES);
        shares
    }

    fn findings(&self) -> Vec<FindingLine> {
        self.pack
            .findings
            .iter()
            .map(|(place, finding)| {
                let shown =
                    self.state.round == 1
                        && self.state.complaints.iter().any(|complaint| {
                            self.pack.complaints[*complaint].shows.contains(&place)
                        });
                let weight = self.state.facts.weigh(&finding.when).map(|weight| weight.probability);
                FindingLine {
                    id: self.pack.findings.id(place).to_owned(),
                    probability: weight.or_else(|| shown.then_some(1.0)),
                    says: self.state.facts.filled(&finding.says),
                }
            })
            .collect()
    }

    fn answer_line(&self, question: QuestionId) -> Option<AnswerLine> {
        let asked = &self.pack.questions[question];
        Some(AnswerLine {
            id: self.pack.questions.id(question).to_owned(),
            text: asked.text.clone(),
            shown: self.state.facts.shown_answer(question)?,
            source: asked
                .sources
                .iter()
                .map(|source| self.source(*source))
                .collect::<Vec<_>>()
                .join("; "),
        })
    }

    fn answers(&self) -> Vec<AnswerLine> {
        let held = self.state.facts.held.keys().copied();
        held.filter(|question| self.state.facts.answered(*question))
            .filter_map(|question| self.answer_line(question))
            .collect()
    }

    /// Typical values that a working used.
    fn assumptions(&self) -> Vec<AnswerLine> {
        let mut used: Vec<QuestionId> = self
            .pack
            .workings
            .places()
            .filter(|working| self.state.facts.worked(*working).is_some())
            .flat_map(|working| self.state.facts.assumed(&self.pack.workings[working].formula.node))
            .collect();
        used.sort_unstable();
        used.dedup();
        used.into_iter().filter_map(|question| self.answer_line(question)).collect()
    }

    fn not_known(&self) -> Vec<NextQuestion> {
        let held = self.state.facts.held.iter();
        held.filter(|(_, held)| held.answer == Answer::CantSay)
            .map(|(question, _)| self.question(*question))
            .collect()
    }

    fn contradiction(&self) -> Option<Vec<String>> {
        match &self.state.ranked {
            Ranked::Causes(_) => None,
            Ranked::Contradiction(answers) => Some(
                answers
                    .iter()
                    .map(|question| self.pack.questions.id(*question).to_owned())
                    .collect(),
            ),
        }
    }

    fn inference(&self) -> InferenceLine {
        match self.state.ranked.posterior().map(|posterior| posterior.inference()) {
            None => InferenceLine {
                exact: true,
                left_out: 0.0,
                rests_on: "the answers clash".to_owned(),
            },
            Some(inference) => InferenceLine {
                exact: inference.exact,
                left_out: inference.left_out,
                rests_on: match inference.rests_on {
                    RestsOn::AllSets => "every set of causes was counted".to_owned(),
                    RestsOn::BoundOnTheRest { factors_eased } => format!(
                        "the likeliest sets were counted, the rest bounded from above with {factors_eased} findings at their most favourable"
                    ),
                },
            },
        }
    }

    fn work(&self, work: &Work) -> WorkLine {
        let pack = self.pack;
        let titles = |cautions: &[CautionId]| {
            cautions.iter().map(|caution| pack.cautions.id(*caution).to_owned()).collect()
        };
        match work.what {
            Task::Check(question) => {
                let asked = &pack.questions[question];
                WorkLine {
                    kind: WorkKind::Check,
                    id: pack.questions.id(question).to_owned(),
                    minutes: work.minutes,
                    chance: work.chance,
                    expect: asked.normal.clone().unwrap_or_default(),
                    title: asked.text.clone(),
                    tools: asked.tools.clone(),
                    parts: Vec::new(),
                    cautions: titles(&cautions_with(pack, question)),
                }
            }
            Task::Repair(repair) => {
                let written = &pack.repairs[repair];
                WorkLine {
                    kind: WorkKind::Repair,
                    id: pack.repairs.id(repair).to_owned(),
                    minutes: work.minutes,
                    chance: work.chance,
                    expect: self.expected(repair),
                    title: written.title.clone(),
                    tools: written.tools.clone(),
                    parts: written.parts.clone(),
                    cautions: titles(&written.cautions),
                }
            }
        }
    }

    /// What a repair should bring, as numbers with their bands.
    fn expected(&self, repair: RepairId) -> String {
        let promises: Vec<String> = self.pack.repairs[repair]
            .predicts
            .iter()
            .filter_map(|(question, by)| {
                let Named::Working(working) = self.pack.named(*by) else { return None };
                let worked = self.state.facts.worked(working)?;
                let written = &self.pack.workings[working];
                let kind = written.formula.kind()?;
                let value = print_value(worked.band.value, 0.0, &written.unit, kind);
                let band = shown_band(&worked.band, &written.unit)
                    .map_or_else(String::new, |band| format!(" ({band})"));
                Some(format!(
                    "{}: {value}{band}",
                    self.pack.questions.id(*question).replace('_', " ")
                ))
            })
            .collect();
        promises.join("; ")
    }
}
