//! A bench for rules: cars with drawn faults, and a person who answers what such a car would show.
//! Findings are drawn, not readings: what a question would bring to light is told at once. Shows
//! how often the interview finds what is wrong, and what it costs. As in an interview, an answer
//! that denies the complaint is looked at once more; the second look is as often wrong as the first,
//! and its minutes count.

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::SeedableRng;

use crate::ranking::{
    Belief, Factor, Network, Observable, Pattern, Posterior, odds, posterior, probability_from_odds,
};
use crate::rules::{CarStateId, ComplaintId, FindingId, Pack, QuestionId, TypedIndex};

use crate::interview::advice::danger::Danger;
use crate::interview::bench::car::{Car, draw_car};
use crate::interview::bench::person::Person;
use crate::interview::walk::choose::Chooser;
use crate::interview::walk::clear_lead::is_clear;
use crate::interview::walk::known::Known;
use crate::interview::walk::walker::Walker;

/// No simulated interview asks more.
const MAX_QUESTIONS: usize = 200;

/// How the person and the rules are off the truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Chance that what is reported is wrong.
    pub wrong_answers: f64,
    /// The odds of every strength are multiplied or divided by this, at random; 1 is as written.
    pub strengths_off: f64,
    /// Questions are asked in the order of the files, not by what they are worth.
    pub fixed_order: bool,
}

/// What the interviews came to.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outcomes {
    pub runs: usize,
    /// A true cause came out first; among the first three.
    pub first: usize,
    pub among_three: usize,
    /// Of each run, sorted.
    pub minutes: Vec<f64>,
    pub questions: Vec<usize>,
    /// By tenths of the chance given to a cause: how many, how many true, sum of the chances.
    pub calibration: [Bin; 10],
}

/// Causes that were given a chance within one tenth.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Bin {
    pub causes: usize,
    pub present: usize,
    pub chances: f64,
}

impl Outcomes {
    #[must_use]
    pub fn median_minutes(&self) -> f64 {
        self.minutes.get(self.minutes.len() / 2).copied().unwrap_or(0.0)
    }

    #[must_use]
    pub fn median_questions(&self) -> usize {
        self.questions.get(self.questions.len() / 2).copied().unwrap_or(0)
    }

    fn note(&mut self, car: &Car, run: &Run) {
        self.runs += 1;
        let mut order: Vec<usize> = (0..run.chances.len()).collect();
        order.sort_by(|a, b| run.chances[*b].total_cmp(&run.chances[*a]));
        let place = order.iter().position(|cause| car.causes[*cause]);
        self.first += usize::from(place == Some(0));
        self.among_three += usize::from(place.is_some_and(|place| place < 3));
        self.minutes.push(run.minutes);
        self.questions.push(run.questions);
        for (chance, present) in run.chances.iter().zip(&car.causes) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 10")]
            let bin = &mut self.calibration[((chance * 10.0) as usize).min(9)];
            bin.causes += 1;
            bin.present += usize::from(*present);
            bin.chances += chance;
        }
    }

    fn sorted(mut self) -> Self {
        self.minutes.sort_by(f64::total_cmp);
        self.questions.sort_unstable();
        self
    }
}

/// Holds `runs` interviews for one complaint. The same seed draws the same cars.
#[must_use]
pub fn simulate(
    pack: &Pack,
    complaint: ComplaintId,
    conditions: Conditions,
    runs: usize,
    seed: u64,
) -> Outcomes {
    let mut chance = Xoshiro256PlusPlus::seed_from_u64(seed);
    let mut outcomes = Outcomes::default();
    let truth = bent(&pack.network, conditions.strengths_off, &mut chance);
    let person = Person::new(pack, complaint);
    for _ in 0..runs {
        let could_be = |causes: &[bool], findings: &[bool]| person.could_be(causes, findings);
        let drawn = draw_car(pack, &truth, complaint, person.groups(), &could_be, &mut chance);
        let Some(car) = drawn else { break };
        let run = Interview { pack, complaint, conditions, car: &car }.hold(&person, &mut chance);
        outcomes.note(&car, &run);
    }
    outcomes.sorted()
}

/// How one interview ended.
struct Run {
    chances: Vec<f64>,
    minutes: f64,
    questions: usize,
}

/// The network with every strength's odds multiplied or divided, at random.
fn bent(network: &Network, factor: f64, chance: &mut Xoshiro256PlusPlus) -> Network {
    if (factor - 1.0).abs() < f64::EPSILON {
        return network.clone();
    }
    let mut findings = network.findings().to_vec();
    for link in findings.iter_mut().flat_map(|finding| &mut finding.links) {
        let by = if chance.random::<bool>() { factor } else { 1.0 / factor };
        link.strength = probability_from_odds(odds(link.strength) * by);
    }
    Network::new(network.priors().to_vec(), findings).unwrap_or_else(|_| network.clone())
}

struct Interview<'a> {
    pack: &'a Pack,
    complaint: ComplaintId,
    conditions: Conditions,
    car: &'a Car,
}

impl Interview<'_> {
    fn hold(&self, person: &Person<'_>, chance: &mut Xoshiro256PlusPlus) -> Run {
        let mut person = person.afresh();
        let shows = &self.pack.complaints[self.complaint].shows;
        let mut factors: Vec<Factor> = Vec::new();
        let mut minutes = 0.0;
        let mut car_now = None;
        let mut asked = 0;
        let order = in_file_order(self.pack);
        let mut believed = self.weigh(&person, &factors, shows);
        while asked < MAX_QUESTIONS {
            let next = if self.conditions.fixed_order {
                self.next_in_order(&order, &person, believed.as_ref())
            } else {
                self.next_due(&person, believed.as_ref(), car_now)
            };
            let Some(question) = next else { break };
            asked += 1;
            minutes += self.minutes(question, &mut car_now);
            let shown = person.ask(question);
            let mut look = |person: &mut Person<'_>| -> Vec<Factor> {
                shown.iter().map(|observable| self.seen(observable, person, chance)).collect()
            };
            let mut seen = look(&mut person);
            if person.denies_complaint(&shown) {
                minutes += self.minutes(question, &mut car_now);
                seen = look(&mut person);
            }
            factors.extend(seen);
            believed = self.weigh(&person, &factors, shows);
        }
        let chances = believed.map_or_else(
            || self.pack.network.priors().to_vec(),
            |believed| believed.probabilities().to_vec(),
        );
        Run { chances, minutes, questions: asked }
    }

    /// What the complaint shows counts as long as no answer decides it.
    fn weigh(
        &self,
        person: &Person<'_>,
        factors: &[Factor],
        shows: &[FindingId],
    ) -> Option<Posterior> {
        let undecided = shows.iter().filter(|finding| !person.has_decided(**finding));
        let mut all: Vec<Factor> = undecided.map(|finding| Factor::yes(finding.index())).collect();
        all.extend_from_slice(factors);
        let belief = Belief::start().ruling_out(person.impossible());
        posterior(&self.pack.network, &belief, &all).ok()
    }

    fn next_due(
        &self,
        person: &Person<'_>,
        believed: Option<&Posterior>,
        car_now: Option<CarStateId>,
    ) -> Option<QuestionId> {
        let danger = Danger::default();
        let chooser = Chooser::new(person, believed, car_now);
        let complaints = [self.complaint];
        let walker = Walker::new(person, &danger, &complaints, &chooser);
        walker.walk().next.map(|next| next.question)
    }

    fn next_in_order(
        &self,
        order: &[QuestionId],
        person: &Person<'_>,
        believed: Option<&Posterior>,
    ) -> Option<QuestionId> {
        if believed.is_some_and(is_clear) {
            return None;
        }
        order.iter().copied().find(|question| !person.was_asked(*question))
    }

    fn minutes(&self, question: QuestionId, car_now: &mut Option<CarStateId>) -> f64 {
        let asked = &self.pack.questions[question];
        let mut minutes = asked.minutes;
        if asked.car.is_some() && asked.car != *car_now {
            *car_now = asked.car;
            minutes += asked.car.map_or(0.0, |car| self.pack.car_states[car].minutes);
        }
        minutes + asked.setup.map_or(0.0, |setup| self.pack.setups[setup].minutes)
    }

    /// What is reported of something looked at, as evidence; now and then it is wrong.
    fn seen(
        &self,
        observable: &Observable,
        person: &mut Person<'_>,
        chance: &mut Xoshiro256PlusPlus,
    ) -> Factor {
        let wrong = chance.random::<f64>() < self.conditions.wrong_answers;
        match observable {
            Observable::Finding { finding, sure } => {
                let reported = self.car.findings[*finding] != wrong;
                person.decide(FindingId::from_index(*finding), reported);
                Factor::doubtful(*finding, if reported { *sure } else { 1.0 - sure })
            }
            Observable::Group { findings, patterns, sure } => {
                let truths: Vec<bool> =
                    findings.iter().map(|finding| self.car.findings[*finding]).collect();
                let right = patterns.iter().position(|pattern| *pattern == truths).unwrap_or(0);
                let reported = if wrong && patterns.len() > 1 {
                    (right + 1 + chance.random_range(0..patterns.len() - 1)) % patterns.len()
                } else {
                    right
                };
                for (finding, truth) in findings.iter().zip(&patterns[reported]) {
                    person.decide(FindingId::from_index(*finding), *truth);
                }
                #[expect(clippy::cast_precision_loss, reason = "a handful of patterns")]
                let rest = (1.0 - sure) / (patterns.len() - 1).max(1) as f64;
                let weigh = |(index, truths): (usize, &Vec<bool>)| Pattern {
                    truths: truths.clone(),
                    weight: if index == reported { *sure } else { rest },
                };
                Factor::Group {
                    findings: findings.clone(),
                    patterns: patterns.iter().enumerate().map(weigh).collect(),
                }
            }
        }
    }
}

/// Every question that a step asks, in the order of the files.
fn in_file_order(pack: &Pack) -> Vec<QuestionId> {
    let mut found: Vec<QuestionId> = Vec::new();
    for (_, step) in pack.steps.iter() {
        for question in step.ask.iter().chain(&step.ask_best_of) {
            if !found.contains(question) {
                found.push(*question);
            }
        }
    }
    found
}
