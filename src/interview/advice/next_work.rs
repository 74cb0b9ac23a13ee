//! What to do next: checks by what they settle, repairs in the order that is expected to take the
//! least time.

use std::collections::HashMap;

use crate::ranking::{
    Factor, Observable, Pattern, Posterior, Repair as Mend, Way, joint_probability, lead, odds,
    plan, with_each,
};
use crate::rules::{CauseId, CautionId, Pack, QuestionId, RepairId, TypedIndex};

use crate::interview::advice::danger::cautions_with;
use crate::interview::answers::answer::Answer;
use crate::interview::internal_error::InternalError;
use crate::interview::state::State;
use crate::interview::walk::choose::{Chooser, Valued};
use crate::interview::walk::clear_lead::{is_clear, would_be_clear};
use crate::interview::walk::known::Known;

/// The most checks and the most repairs that are proposed.
const MAX_CHECKS: usize = 3;
const MAX_REPAIRS: usize = 5;
/// A repair with less chance than this is not proposed.
const WORTH_PROPOSING: f64 = 0.03;
/// A check that settles something less often than this is not proposed.
const WORTH_CHECKING: f64 = 0.01;
/// Another cause leads well whose odds are so many times those of the one that led.
const LEADS_WELL: f64 = 2.0;
/// So many questions are tried for how often they settle something.
const MAX_TRIED: usize = 8;
/// For a cause less likely than this nothing is taken apart before somebody has looked.
const UNLIKELY: f64 = 0.1;

/// A check or a repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    Check(QuestionId),
    Repair(RepairId),
}

/// Something to do next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    pub what: Task,
    /// From where the car is now, with the changes of its state and the set-ups that a check needs.
    pub minutes: f64,
    /// For a repair: that one of its causes is present and it mends it. For a check: that one cause
    /// stands clear after it or another leads well; where it is made for a repair, that it finds a cause
    /// which that repair mends.
    pub chance: f64,
    /// For a check: the repair that is done if it finds something.
    pub made_for: Option<RepairId>,
    /// For a repair: the check to make first.
    pub after_check: Option<QuestionId>,
}

impl Work {
    /// The cautions that go with it.
    #[must_use]
    pub fn cautions(&self, pack: &Pack) -> Vec<CautionId> {
        match self.what {
            Task::Check(question) => cautions_with(pack, question),
            Task::Repair(repair) => pack.repairs[repair].cautions.clone(),
        }
    }

    /// The repair that it is, or is made for.
    #[must_use]
    pub fn repair(&self) -> Option<RepairId> {
        match self.what {
            Task::Check(_) => self.made_for,
            Task::Repair(repair) => Some(repair),
        }
    }
}

/// What to do next, in order: while no cause stands clear, the checks that settle most come first.
/// Nothing, once the complaint is gone.
///
/// # Errors
/// A slip of this program.
pub fn next_work(state: &State<'_>) -> Result<Vec<Work>, InternalError> {
    if let Some(error) = state.internal_error() {
        return Err(error.clone());
    }
    let Some(believed) = state.ranked.posterior().filter(|_| !state.cured) else {
        return Ok(Vec::new());
    };
    let planner = WorkPlanner {
        state,
        believed,
        clear: state.standing_clear(),
        chooser: Chooser::by_facts(&state.facts, Some(believed)).knowing(state.valued.clone()),
        factors: state.evidence.iter().map(|evidence| evidence.factor.clone()).collect(),
    };
    let mut work = if planner.clear.is_empty() { planner.checks()? } else { Vec::new() };
    planner.repairs(&mut work)?;
    Ok(work)
}

/// A look that shows whether a cause is there.
#[derive(Debug, Clone, Copy)]
struct Look {
    question: QuestionId,
    minutes: f64,
}

struct WorkPlanner<'a, 'p> {
    state: &'a State<'p>,
    believed: &'a Posterior,
    /// The causes that stand clear.
    clear: Vec<CauseId>,
    chooser: Chooser<'a, 'p>,
    /// The evidence of this round.
    factors: Vec<Factor>,
}

impl WorkPlanner<'_, '_> {
    /// What the interview asks next, then what settles most for its minutes.
    fn checks(&self) -> Result<Vec<Work>, InternalError> {
        let state = self.state;
        let valued = self.chooser.valued().map_err(InternalError::clone)?;
        let mut found: Vec<Work> = Vec::new();
        if let Some(next) = state.walk.next {
            let minutes = self.minutes(next.question);
            let bundle = valued.iter().find(|bundle| bundle.questions.contains(&next.question));
            let chance = bundle.map_or(Ok(0.0), |bundle| self.settled_by_any(bundle))?;
            found.push(check(next.question, minutes, chance));
        }
        for bundle in valued.iter().take(MAX_TRIED) {
            if found.len() == MAX_CHECKS {
                break;
            }
            let open = |question: &&QuestionId| state.open.contains(question);
            let Some(question) = bundle.questions.iter().find(open).copied() else { continue };
            let is_known = found.iter().any(|work| work.what == Task::Check(question));
            if is_known || state.facts.waits_to_be_told(question) {
                continue;
            }
            let chance = self.settled_by_any(bundle)?;
            if chance >= WORTH_CHECKING {
                found.push(check(question, bundle.minutes, chance));
            }
        }
        Ok(found)
    }

    fn settled_by_any(&self, bundle: &Valued) -> Result<f64, InternalError> {
        bundle.observables.iter().try_fold(0.0, |most: f64, own| Ok(most.max(self.settles(own)?)))
    }

    /// About the chance that one cause stands clear once this has been looked at, or another leads well.
    /// The patterns of a group are weighed by their findings' own chances, as if these were
    /// independent.
    fn settles(&self, observable: &Observable) -> Result<f64, InternalError> {
        let told =
            |refusal| InternalError::new("Telling how often a check settles something", refusal);
        let network = &self.state.pack.network;
        let mut chances = HashMap::new();
        for finding in observable.findings() {
            let chance = self.believed.probability_of(network, *finding).map_err(told)?;
            chances.insert(*finding, chance);
        }
        let chance_of = |finding: usize| chances.get(&finding).copied().unwrap_or(0.0);
        let (seen, chances): (Vec<Factor>, Vec<f64>) = outcomes(observable, &chance_of)
            .into_iter()
            .filter(|(_, chance)| *chance > 0.0)
            .unzip();
        let after = with_each(network, &self.state.belief, &self.factors, self.believed, &seen);
        let settling = after
            .map_err(told)?
            .into_iter()
            .zip(&chances)
            .filter(|(after, _)| after.as_ref().is_some_and(|after| self.is_settled_by(after)));
        let settled: f64 = settling.map(|(_, chance)| chance).sum();
        let all: f64 = chances.iter().sum();
        Ok(if all > 0.0 { settled / all } else { 0.0 })
    }

    fn is_settled_by(&self, after: &[f64]) -> bool {
        let (Some(before), Some(now)) = (self.believed.lead(), lead(after)) else { return false };
        // Where nothing leads by much the order of the unlikely changes with every answer.
        let leads_well = now != before && odds(after[now]) >= LEADS_WELL * odds(after[before]);
        would_be_clear(after) || leads_well
    }

    /// The repairs in the order of the plan, each behind the check that comes first.
    fn repairs(&self, work: &mut Vec<Work>) -> Result<(), InternalError> {
        for (repair, way) in self.planned()?.into_iter().take(MAX_REPAIRS) {
            let chance = self.state.pack.repairs[repair].succeeds * self.present(repair);
            let look = self.look_first(repair, way);
            let is_new =
                |look: &Look| work.iter().all(|known| known.what != Task::Check(look.question));
            if let Some(look) = look.filter(is_new) {
                work.push(Work {
                    what: Task::Check(look.question),
                    minutes: look.minutes,
                    chance: self.likeliest(repair).map_or(0.0, |(_, chance)| chance),
                    made_for: Some(repair),
                    after_check: None,
                });
            }
            // Of the unlikely ones the check alone is advised.
            if look.is_none()
                || self.likeliest(repair).is_some_and(|(_, chance)| chance >= UNLIKELY)
            {
                work.push(Work {
                    what: Task::Repair(repair),
                    minutes: self.state.pack.repairs[repair].minutes,
                    chance,
                    made_for: None,
                    after_check: look.map(|look| look.question),
                });
            }
        }
        Ok(())
    }

    /// The repairs worth proposing, in the order of the plan; those of what
    /// stands clear first, those of the unlikely last.
    fn planned(&self) -> Result<Vec<(RepairId, Way)>, InternalError> {
        let pack = self.state.pack;
        let places: Vec<RepairId> = pack
            .repairs
            .indices()
            .filter(|repair| !self.state.danger.forbids_repair(*repair))
            .filter(|repair| self.likeliest(*repair).is_some_and(|(_, c)| c >= WORTH_PROPOSING))
            .collect();
        let places: Vec<RepairId> = places
            .iter()
            .copied()
            .filter(|own| !self.stands_below_another(*own, &places))
            .collect();
        let mends: Vec<Mend> = places
            .iter()
            .map(|place| {
                let repair = &pack.repairs[*place];
                Mend {
                    mends: repair.mends.iter().map(|cause| cause.index()).collect(),
                    succeeds: repair.succeeds,
                    minutes: repair.minutes.max(1.0),
                    check: self.look(*place, Self::is_open).map(|look| look.minutes),
                }
            })
            .collect();
        let plan = plan(self.believed, &self.relevant(), &mends, giving_up(&mends))
            .map_err(|refusal| InternalError::new("Planning the repairs", refusal))?;
        let mut order: Vec<(RepairId, Way)> = plan
            .steps
            .iter()
            .filter_map(|step| Some((*places.get(step.repair)?, step.way)))
            .collect();
        order.retain(|(repair, _)| {
            pack.repairs[*repair].succeeds * self.present(*repair) >= WORTH_PROPOSING
        });
        // The sort is stable.
        order.sort_by_key(|(repair, _)| {
            let is_likely = self.likeliest(*repair).is_some_and(|(_, chance)| chance >= UNLIKELY);
            (!self.mends_what_is_clear(*repair), !is_likely)
        });
        Ok(order)
    }

    /// Whether another of these repairs mends the likeliest of this one's causes and names it as an
    /// alternative: it is then shown there.
    fn stands_below_another(&self, own: RepairId, repairs: &[RepairId]) -> bool {
        let Some((cause, _)) = self.likeliest(own) else { return false };
        repairs
            .iter()
            .map(|other| &self.state.pack.repairs[*other])
            .any(|other| other.alternatives.contains(&own) && other.mends.contains(&cause))
    }

    /// The causes that could bring what the person complains of, and those that stand clear, which are
    /// mended whatever they bring; all, where the complaint doesn't say.
    fn relevant(&self) -> Vec<usize> {
        let pack = self.state.pack;
        let mut found: Vec<usize> = self
            .state
            .complaints
            .iter()
            .flat_map(|complaint| &pack.complaints[*complaint].shows)
            .flat_map(|finding| &pack.network.findings()[finding.index()].links)
            .map(|link| link.cause)
            .collect();
        if found.is_empty() {
            return (0..pack.causes.len()).collect();
        }
        found.extend(self.clear.iter().map(|cause| cause.index()));
        found.sort_unstable();
        found.dedup();
        found
    }

    fn mends_what_is_clear(&self, repair: RepairId) -> bool {
        self.state.pack.repairs[repair].mends.iter().any(|cause| self.clear.contains(cause))
    }

    /// Chance that any of a repair's causes is present, as if they were independent.
    fn present(&self, repair: RepairId) -> f64 {
        let chances = self.believed.probabilities();
        let mends = &self.state.pack.repairs[repair].mends;
        1.0 - mends.iter().map(|cause| 1.0 - chances[cause.index()]).product::<f64>()
    }

    /// The likeliest cause that a repair mends, with its chance.
    fn likeliest(&self, repair: RepairId) -> Option<(CauseId, f64)> {
        let chances = self.believed.probabilities();
        let mends = self.state.pack.repairs[repair].mends.iter();
        mends.map(|cause| (*cause, chances[cause.index()])).max_by(|(_, a), (_, b)| a.total_cmp(b))
    }

    /// What to look at before a repair: where the plan says so; and where nobody has looked yet,
    /// unless the cause stands clear. What somebody couldn't say is then worth another try.
    fn look_first(&self, repair: RepairId, way: Way) -> Option<Look> {
        let open = self.look(repair, Self::is_open);
        if way == Way::CheckFirst {
            return open;
        }
        let (cause, chance) = self.likeliest(repair)?;
        let confirming = &self.state.pack.causes[cause].confirmed_by;
        let seen = confirming.iter().any(|question| self.state.facts.answered(*question));
        if chance >= UNLIKELY && (seen || self.mends_what_is_clear(repair)) {
            return None;
        }
        open.or_else(|| self.look(repair, Self::is_worth_another_try))
    }

    /// The quickest question that confirms the likeliest of a repair's causes.
    fn look(&self, repair: RepairId, may_be_asked: fn(&Self, QuestionId) -> bool) -> Option<Look> {
        let (cause, _) = self.likeliest(repair)?;
        let confirming = self.state.pack.causes[cause].confirmed_by.iter().copied();
        confirming
            .filter(|question| may_be_asked(self, *question))
            .map(|question| Look { question, minutes: self.minutes(question) })
            .min_by(|a, b| a.minutes.total_cmp(&b.minutes))
    }

    fn is_open(&self, question: QuestionId) -> bool {
        self.state.open.contains(&question) && !self.state.facts.waits_to_be_told(question)
    }

    fn is_worth_another_try(&self, question: QuestionId) -> bool {
        let (pack, facts) = (self.state.pack, &self.state.facts);
        let unsaid = facts.held.get(&question).is_some_and(|held| held.answer == Answer::CantSay);
        unsaid
            && !self.state.danger.forbids_question(pack, question)
            && facts.fits(question)
            && facts.wanted_before(question).iter().all(|before| facts.is_answered_well(*before))
    }

    /// Minutes that a check takes with what has to be asked before it, at least 1.
    fn minutes(&self, question: QuestionId) -> f64 {
        self.chooser.minutes(&[question]).max(1.0)
    }
}

/// Where asking has come to its end and no cause stands clear: the check that tells most of all, whatever
/// its minutes and tools. None where it is among the work proposed.
#[must_use]
pub fn workshop_check(state: &State<'_>, proposed: &[Work]) -> Option<QuestionId> {
    let believed =
        state.ranked.posterior().filter(|_| state.walk.next.is_none() && !state.cured)?;
    if is_clear(believed) {
        return None;
    }
    let chooser = Chooser::by_facts(&state.facts, Some(believed)).knowing(state.valued.clone());
    let open = |question: &&QuestionId| {
        let is_work = !state.pack.questions[**question].is_light();
        is_work && state.open.contains(question) && !state.facts.waits_to_be_told(**question)
    };
    let valued = chooser.valued().ok()?.iter();
    let most = valued
        .filter_map(|bundle| Some((bundle.bits, *bundle.questions.iter().find(open)?)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let (_, question) = most?;
    proposed.iter().all(|work| work.what != Task::Check(question)).then_some(question)
}

/// A check for its own sake.
fn check(question: QuestionId, minutes: f64, chance: f64) -> Work {
    let what = Task::Check(question);
    Work { what, minutes, chance, made_for: None, after_check: None }
}

/// What could be seen, each with its chance.
fn outcomes(observable: &Observable, chance_of: &dyn Fn(usize) -> f64) -> Vec<(Factor, f64)> {
    match observable {
        Observable::Finding { finding, sure } => {
            let yes = chance_of(*finding);
            vec![
                (Factor::doubtful(*finding, *sure), yes),
                (Factor::doubtful(*finding, 1.0 - sure), 1.0 - yes),
            ]
        }
        Observable::Group { findings, patterns, .. } => patterns
            .iter()
            .enumerate()
            .map(|(seen, truths)| {
                let pattern = |(index, truths): (usize, &Vec<bool>)| Pattern {
                    truths: truths.clone(),
                    weight: if index == seen { 1.0 } else { 0.0 },
                };
                let factor = Factor::Group {
                    findings: findings.clone(),
                    patterns: patterns.iter().enumerate().map(pattern).collect(),
                };
                let p_false = findings.iter().map(|finding| 1.0 - chance_of(*finding));
                (factor, joint_probability(truths, p_false))
            })
            .collect(),
    }
}

/// What it costs, in minutes, to be left with nothing to try: more than all this work, even where it
/// is as unlikely to help as what is still proposed. The minutes of a repair so settle when it comes in
/// the order, never whether it is named at all.
fn giving_up(repairs: &[Mend]) -> f64 {
    let all: f64 = repairs.iter().map(|repair| repair.minutes).sum();
    all / (WORTH_PROPOSING * WORTH_PROPOSING)
}
