//! A series of simulated interviews: cars with drawn faults, answers and readings that show them, and the
//! very interview held with their owners.

use std::sync::Arc;

use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;
use rayon::prelude::*;

use crate::ranking::{Network, odds, probability_from_odds};
use crate::rules::{AnswerForm, CarStateId, CauseId, ComplaintId, Pack, QuestionId, TypedIndex};

use crate::interview::answers::round::Round;
use crate::interview::bench::car::{Car, draw_car};
use crate::interview::bench::frame::Frame;
use crate::interview::bench::owner::answer;
use crate::interview::bench::showing::{Showing, Values, deviation};
use crate::interview::evidence::reasons::{reasons, without};
use crate::interview::fold::fold_with;
use crate::interview::state::State;

/// No simulated interview asks more.
const MAX_QUESTIONS: usize = 200;
/// Cars are drawn until one's answers show its complaint, but no longer than this.
const MAX_CARS: usize = 300;
/// Answers of one and the same car are drawn so often. Another car in place of one whose answers come out
/// otherwise would make causes the rarer the harder their answers are to draw.
const DRAWS_A_CAR: usize = 8;
/// How far the truth is shaken: deviations of the logarithm of the odds of strengths and leaks, and of
/// the logarithm of how common a cause is.
const SHAKEN_ODDS: f64 = 0.7;
const SHAKEN_COMMON: f64 = 1.0;

/// Which interviews are held. The same series gives the same results with any number of cores.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    pub complaints: Vec<ComplaintId>,
    /// Cars a complaint.
    pub cars: usize,
    /// Each car is drawn from chances that are off those of the pack.
    pub shaken: bool,
    pub seed: u64,
}

/// By what an interview was decided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToldBy {
    /// Yes, no and choices.
    Words,
    /// Findings that rest on a measurement make up more than half of what speaks for the lead, as
    /// logarithms of the factors on its odds.
    Readings,
}

/// How one interview ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Interviewed {
    pub complaint: ComplaintId,
    /// The causes that the car had.
    pub present: Vec<CauseId>,
    /// The causes in the lead with their chances, no more than five; none where the answers clash.
    pub lead: Vec<(CauseId, f64)>,
    /// The place of the first true cause among all, from 0.
    pub place: Option<usize>,
    pub told_by: ToldBy,
    pub minutes: f64,
    pub questions: usize,
    /// Findings that the answers show as they were drawn, and all that they tell.
    pub as_drawn: usize,
    pub told: usize,
}

/// Leads of one stretch of chances: how many, how many true, sum of what was said.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Leads {
    pub count: usize,
    pub present: usize,
    pub said: f64,
}

impl Leads {
    /// Of the interviews told by `told_by`, the leads of a chance within these limits.
    #[must_use]
    pub fn of(held: &[Interviewed], told_by: Option<ToldBy>, from: f64, to: f64) -> Self {
        let mut found = Self::default();
        let own = held.iter().filter(|one| told_by.is_none_or(|by| one.told_by == by));
        for (one, (lead, chance)) in own.filter_map(|one| Some((one, one.lead.first()?))) {
            if (from..to).contains(chance) {
                found.count += 1;
                found.present += usize::from(one.present.contains(lead));
                found.said += chance;
            }
        }
        found
    }
}

impl Series {
    /// Holds the interviews, on all cores; `done` is told of each that is over. Complaints that no drawn
    /// car shows have fewer.
    #[must_use]
    pub fn hold(&self, pack: &Pack, done: &(dyn Fn() + Sync)) -> Vec<Interviewed> {
        let frame = Frame::new(pack);
        let cars: Vec<(ComplaintId, usize)> = self
            .complaints
            .iter()
            .flat_map(|complaint| (0..self.cars).map(|car| (*complaint, car)))
            .collect();
        let held: Vec<Option<Interviewed>> = cars
            .into_par_iter()
            .with_max_len(1)
            .map(|(complaint, car)| {
                let found = self.interview(&frame, complaint, car);
                done();
                found
            })
            .collect();
        held.into_iter().flatten().collect()
    }

    fn interview(
        &self,
        frame: &Frame<'_>,
        complaint: ComplaintId,
        car: usize,
    ) -> Option<Interviewed> {
        let seed = self.seed ^ ((complaint.index() as u64) << 40) ^ ((car as u64) << 1);
        let mut chance = Xoshiro256PlusPlus::seed_from_u64(seed);
        let network = &frame.pack.network;
        let truth = if self.shaken { shaken(network, &mut chance) } else { network.clone() };
        let (car, values) = draw(frame, &truth, complaint, &mut chance)?;
        Some(hold(frame, complaint, &car, &values, &mut chance))
    }
}

/// The network with other chances: of strengths and leaks the odds, of causes how common they are.
fn shaken(network: &Network, chance: &mut Xoshiro256PlusPlus) -> Network {
    let mut findings = network.findings().to_vec();
    let mut shake = |share: f64| {
        if share <= 0.0 || share >= 1.0 {
            return share;
        }
        probability_from_odds(odds(share) * (SHAKEN_ODDS * deviation(chance)).exp())
    };
    for finding in &mut findings {
        finding.leak = shake(finding.leak);
        finding.links.iter_mut().for_each(|link| link.strength = shake(link.strength));
    }
    let common = |prior: &f64| (prior * (SHAKEN_COMMON * deviation(chance)).exp()).min(0.9);
    let priors = network.priors().iter().map(common).collect();
    Network::new(priors, findings).unwrap_or_else(|_| network.clone())
}

/// A car with the complaint, and the answers that show it.
pub(in crate::interview) fn draw(
    frame: &Frame<'_>,
    truth: &Network,
    complaint: ComplaintId,
    chance: &mut Xoshiro256PlusPlus,
) -> Option<(Car, Values)> {
    let pack = frame.pack;
    let shown: Vec<usize> =
        pack.complaints[complaint].shows.iter().map(|finding| finding.index()).collect();
    for _ in 0..MAX_CARS {
        let car = draw_car(pack, truth, complaint, &frame.groups, &|_, _| true, chance)?;
        let showing = Showing::new(frame, truth, &shown, &car);
        let denies =
            |values: &Values| shown.iter().any(|own| seen(frame, values, *own) == Some(false));
        let values = (0..DRAWS_A_CAR)
            .filter_map(|_| showing.draw(chance))
            .find(|values| !denies(values) && frame.fit(&car.causes, values));
        if let Some(values) = values {
            return Some((car, values));
        }
    }
    None
}

/// Whether a finding shows in a car's answers, all of them told.
fn seen(frame: &Frame<'_>, values: &Values, finding: usize) -> Option<bool> {
    let demand = frame.demands.iter().find(|demand| demand.finding.index() == finding)?;
    frame.shows(demand, values)
}

fn hold(
    frame: &Frame<'_>,
    complaint: ComplaintId,
    car: &Car,
    values: &Values,
    chance: &mut Xoshiro256PlusPlus,
) -> Interviewed {
    let pack = frame.pack;
    let memo = Arc::default();
    let mut round = Round { complaints: vec![complaint], ..Round::default() };
    let (mut minutes, mut questions, mut car_now) = (0.0, 0, None);
    let fold = |round: &Round| fold_with(pack, std::slice::from_ref(round), None, &memo);
    let mut state = fold(&round);
    while let Some(next) = state.walk.next.filter(|_| questions < MAX_QUESTIONS) {
        let question = next.question;
        questions += 1;
        minutes += takes(pack, question, &mut car_now);
        round.give(question, answer(frame, values, question, chance));
        state = fold(&round);
        // What denies the complaint is looked at once more; the second look counts.
        let denied = state.denied();
        if denied.iter().any(|denied| denied.answers.contains(&question)) {
            minutes += takes(pack, question, &mut car_now);
            round.give(question, answer(frame, values, question, chance));
            state = fold(&round);
        }
    }
    ended(frame, &state, car, values, minutes, questions)
}

/// The minutes of a question, with those for changing the state of the car.
fn takes(pack: &Pack, question: QuestionId, car_now: &mut Option<CarStateId>) -> f64 {
    let asked = &pack.questions[question];
    let mut minutes = asked.minutes;
    if asked.car.is_some() && asked.car != *car_now {
        *car_now = asked.car;
        minutes += asked.car.map_or(0.0, |car| pack.car_states[car].minutes);
    }
    minutes + asked.setup.map_or(0.0, |setup| pack.setups[setup].minutes)
}

fn ended(
    frame: &Frame<'_>,
    state: &State<'_>,
    car: &Car,
    values: &Values,
    minutes: f64,
    questions: usize,
) -> Interviewed {
    let chances = state.ranked.probabilities();
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|a, b| chances[*b].total_cmp(&chances[*a]));
    let lead = order.iter().take(5).map(|cause| (CauseId::from_index(*cause), chances[*cause]));
    let present = car.causes.iter().enumerate().filter(|(_, present)| **present);
    let told: Vec<(usize, bool)> = (0..car.findings.len())
        .filter_map(|finding| Some((finding, seen(frame, values, finding)?)))
        .collect();
    Interviewed {
        complaint: state.complaints[0],
        present: present.map(|(cause, _)| CauseId::from_index(cause)).collect(),
        lead: lead.collect(),
        place: order.iter().position(|cause| car.causes[*cause]),
        told_by: told_by(state, order.first().copied()),
        minutes,
        questions,
        as_drawn: told.iter().filter(|(own, shows)| car.findings[*own] == *shows).count(),
        told: told.len(),
    }
}

/// Whether it is words or readings that speak for the lead.
fn told_by(state: &State<'_>, lead: Option<usize>) -> ToldBy {
    let all = reasons(state, &without(state));
    let (mut words, mut readings) = (0.0, 0.0);
    for reason in lead.and_then(|lead| all.get(lead)).into_iter().flatten() {
        let facts = &state.facts;
        let below = facts.questions_below(&state.pack.findings[reason.finding].when.node);
        let below: Vec<QuestionId> = below.filter(|own| facts.answered(*own)).collect();
        // What the complaint itself shows was not asked.
        if below.is_empty() {
            continue;
        }
        let weight = reason.times.ln().max(0.0);
        let measured =
            |question| matches!(state.pack.questions[question].answer, AnswerForm::Measure(_));
        if below.into_iter().any(measured) { readings += weight } else { words += weight }
    }
    if readings > words { ToldBy::Readings } else { ToldBy::Words }
}
