//! What to do next: checks by what they settle, repairs in the order that is expected to take the
//! least time.

use crate::ranking::{Factor, Observable, Pattern, Repair as Mend, Way, plan, posterior};
use crate::rules::{CautionId, Pack, Place, QuestionId, RepairId};

use super::choose::Chooser;
use super::danger::cautions_with;
use super::fold::State;
use super::lead::is_clear;

/// The most checks and the most repairs that are proposed.
const MOST_CHECKS: usize = 3;
const MOST_REPAIRS: usize = 5;
/// A repair with less chance than this is not proposed.
const WORTH_PROPOSING: f64 = 0.03;
/// What it costs, in minutes, to be left with nothing to try: a day's work.
const GIVING_UP: f64 = 480.0;

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
    pub minutes: f64,
    /// For a repair: that one of its causes is present and it mends it; for a check: that one cause
    /// stands clear after it.
    pub chance: f64,
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
}

/// What to do next, in order: while no cause stands clear, the checks that settle most come first.
#[must_use]
pub fn work_ahead(state: &State<'_>) -> Vec<Work> {
    let mut checks = checks(state);
    let mut repairs = repairs(state);
    if state.is_clear() {
        repairs.append(&mut checks);
        repairs
    } else {
        checks.append(&mut repairs);
        checks
    }
}

fn checks(state: &State<'_>) -> Vec<Work> {
    let Some(believed) = state.ranked.posterior() else { return Vec::new() };
    let chooser = Chooser::by_facts(&state.facts, state.ranked.posterior());
    let mut found: Vec<Work> = Vec::new();
    for bundle in chooser.valued(believed) {
        let Some(question) =
            bundle.questions.iter().copied().find(|question| state.open.contains(question))
        else {
            continue;
        };
        if found.iter().any(|work| work.what == Task::Check(question)) {
            continue;
        }
        let chance = settles(state, bundle.observables.first());
        found.push(Work { what: Task::Check(question), minutes: bundle.minutes, chance });
        if found.len() == MOST_CHECKS {
            break;
        }
    }
    found
}

/// About the chance that one cause stands clear once this has been looked at. The patterns of a
/// group are weighed by their findings' own chances, as if these were independent.
fn settles(state: &State<'_>, observable: Option<&Observable>) -> f64 {
    let (Some(observable), Some(believed)) = (observable, state.ranked.posterior()) else {
        return 0.0;
    };
    let network = &state.pack.network;
    let chance_of = |finding: usize| believed.chance_of(network, finding).unwrap_or(0.0);
    let mut clear = 0.0;
    let mut all = 0.0;
    for (factor, chance) in outcomes(observable, &chance_of) {
        all += chance;
        if chance > 0.0 && clear_with(state, factor) {
            clear += chance;
        }
    }
    if all > 0.0 { clear / all } else { 0.0 }
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
                let chances = findings.iter().zip(truths).map(|(finding, truth)| {
                    let yes = chance_of(*finding);
                    if *truth { yes } else { 1.0 - yes }
                });
                (factor, chances.product())
            })
            .collect(),
    }
}

fn clear_with(state: &State<'_>, factor: Factor) -> bool {
    let mut factors: Vec<Factor> =
        state.evidence.iter().map(|evidence| evidence.factor.clone()).collect();
    factors.push(factor);
    posterior(&state.pack.network, &state.belief, &factors)
        .is_ok_and(|after| is_clear(after.probabilities()))
}

fn repairs(state: &State<'_>) -> Vec<Work> {
    let pack = state.pack;
    let Some(believed) = state.ranked.posterior() else { return Vec::new() };
    let probabilities = believed.probabilities();
    let places: Vec<RepairId> = pack
        .repairs
        .places()
        .filter(|repair| !state.danger.forbids_repair(*repair))
        .filter(|repair| {
            pack.repairs[*repair]
                .mends
                .iter()
                .any(|cause| probabilities[cause.index()] >= WORTH_PROPOSING)
        })
        .collect();
    let mends: Vec<Mend> = places
        .iter()
        .map(|place| {
            let repair = &pack.repairs[*place];
            Mend {
                mends: repair.mends.iter().map(|cause| cause.index()).collect(),
                succeeds: repair.succeeds,
                minutes: repair.minutes.max(1.0),
                check: confirming(state, *place),
            }
        })
        .collect();
    let Ok(plan) = plan(believed, &relevant(state), &mends, GIVING_UP) else { return Vec::new() };
    plan.steps
        .iter()
        .filter_map(|step| {
            let place = *places.get(step.repair)?;
            let repair = &pack.repairs[place];
            let none = repair
                .mends
                .iter()
                .map(|cause| 1.0 - probabilities[cause.index()])
                .product::<f64>();
            let chance = repair.succeeds * (1.0 - none);
            let check = if step.way == Way::CheckFirst {
                confirming(state, place).unwrap_or(0.0)
            } else {
                0.0
            };
            Some(Work { what: Task::Repair(place), minutes: repair.minutes + check, chance })
        })
        .filter(|work| work.chance >= WORTH_PROPOSING)
        .take(MOST_REPAIRS)
        .collect()
}

/// The quickest question still open that confirms one of a repair's causes.
fn confirming(state: &State<'_>, repair: RepairId) -> Option<f64> {
    let pack = state.pack;
    pack.repairs[repair]
        .mends
        .iter()
        .flat_map(|cause| &pack.causes[*cause].confirmed_by)
        .filter(|question| state.open.contains(question))
        .map(|question| pack.questions[*question].minutes.max(1.0))
        .min_by(f64::total_cmp)
}

/// The causes that could bring what the person complains of; all, where the complaint doesn't say.
fn relevant(state: &State<'_>) -> Vec<usize> {
    let pack = state.pack;
    let mut found: Vec<usize> = state
        .complaints
        .iter()
        .flat_map(|complaint| &pack.complaints[*complaint].shows)
        .flat_map(|finding| &pack.network.findings()[finding.index()].links)
        .map(|link| link.cause)
        .collect();
    found.sort_unstable();
    found.dedup();
    if found.is_empty() { (0..pack.causes.len()).collect() } else { found }
}
