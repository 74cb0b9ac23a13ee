//! Answers that show what a drawn car shows: each question's answer is drawn in turn, given all others,
//! from values within its plausible range (Gibbs sampling: Geman and Geman 1984). One that contradicts
//! what was drawn of a finding is the rarer the surer the finding is.

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;
use statrs::distribution::{ContinuousCDF, Normal};

use crate::formula::{InputValue, Worked};
use crate::ranking::Network;
use crate::rules::{AnswerForm, Measure, QuestionId, TypedIndex};

use crate::interview::bench::car::Car;
use crate::interview::bench::frame::Frame;

/// Values of a measurement that are tried in each turn; more where something still contradicts.
const TRIED: usize = 10;
const TRIED_AGAIN: usize = 40;
/// Of what has a typical value so much fewer: most of what is tried fits, and much is worked out from it.
const FEWER_IF_TYPICAL: usize = 3;
/// Turns for all questions, and further ones for those with contradictions.
const TURNS: usize = 2;
const TURNS_AGAIN: usize = 3;
/// Values are tried down to this share of a range.
const SMALLEST: f64 = 1e-5;
/// How rarely an answer contradicts a finding that might as well have been otherwise, and at most how
/// rarely it contradicts any.
const CONTRADICTS: f64 = 0.02;
const NEVER: f64 = 1e-9;
/// How seldom what has a typical value lies anywhere in its range.
const FAR_FROM_TYPICAL: f64 = 0.02;
/// A reading lies this seldom far from what it should be.
const FAR_FROM_RULE: f64 = 1e-3;
/// A typical value with a wider scatter than this share that can't be negative scatters by a factor.
const BY_FACTOR: f64 = 0.2;

pub(in crate::interview) type Values = Vec<Option<InputValue>>;

/// A value that might be answered, with how common it is by itself.
type Candidate = (InputValue, f64);

/// Draws the answers of one car.
pub(in crate::interview) struct Showing<'a, 'p> {
    frame: &'a Frame<'p>,
    car: &'a Car,
    /// By finding: what an answer that contradicts it weighs.
    against: Vec<f64>,
    worked: Worked,
}

impl<'a, 'p> Showing<'a, 'p> {
    pub(in crate::interview) fn new(
        frame: &'a Frame<'p>,
        network: &Network,
        shown: &[usize],
        car: &'a Car,
    ) -> Self {
        let weigh = |(index, finding): (usize, &crate::ranking::Finding)| {
            if shown.contains(&index) {
                return NEVER;
            }
            let no = finding.p_false(|cause| f64::from(car.causes[cause]));
            let drawn = if car.findings[index] { 1.0 - no } else { no };
            let times = (1.0 - drawn) / drawn.max(f64::MIN_POSITIVE);
            (CONTRADICTS * times.min(1.0)).max(NEVER)
        };
        let against = network.findings().iter().enumerate().map(weigh).collect();
        Self { frame, car, against, worked: frame.worked() }
    }

    /// The car's answers; none where its causes don't fit the kind of car that was drawn.
    pub(in crate::interview) fn draw(&self, chance: &mut Xoshiro256PlusPlus) -> Option<Values> {
        let pack = self.frame.pack;
        let mut values: Values = vec![None; pack.questions.len()];
        for _ in 0..TURNS {
            for feature in &self.frame.features {
                self.redraw(*feature, TRIED, &mut values, chance);
            }
        }
        if !self.frame.fit(&self.car.causes, &values) {
            return None;
        }
        let others: Vec<QuestionId> = pack
            .questions
            .indices()
            .filter(|question| !self.frame.features.contains(question))
            .filter(|question| pack.options_of(*question).is_empty())
            .collect();
        for turn in 0..TURNS + TURNS_AGAIN {
            for question in &others {
                let tried = if turn < TURNS { TRIED } else { TRIED_AGAIN };
                if turn < TURNS || self.contradicts(*question, &values) {
                    self.redraw(*question, tried, &mut values, chance);
                }
            }
        }
        Some(values)
    }

    /// Whether a finding on a question shows otherwise than it was drawn.
    fn contradicts(&self, question: QuestionId, values: &Values) -> bool {
        self.frame.demands_on[question.index()].iter().any(|demand| {
            let demand = &self.frame.demands[*demand];
            let drawn = self.car.findings[demand.finding.index()];
            let shows = self.frame.shows_while_drawn(demand, values, &self.worked);
            shows.is_some_and(|shows| shows != drawn)
        })
    }

    /// Draws the answer to one question anew, given all others.
    fn redraw(
        &self,
        question: QuestionId,
        tried: usize,
        values: &mut Values,
        chance: &mut Xoshiro256PlusPlus,
    ) {
        let mut candidates = self.candidates(question, tried, values, chance);
        let place = question.index();
        candidates.extend(
            values[place]
                .take()
                .filter(|value| matches!(value, InputValue::Number { .. }))
                .map(|value| (value, 1.0)),
        );
        let mut weights = Vec::with_capacity(candidates.len());
        for (value, common) in &candidates {
            values[place] = Some(value.clone());
            weights.push(common * self.weight(question, values));
        }
        let mut left = chance.random::<f64>() * weights.iter().sum::<f64>();
        let drawn = weights.iter().position(|weight| {
            left -= weight;
            left <= 0.0
        });
        let last = candidates.len().checked_sub(1);
        values[place] = drawn.or(last).map(|index| candidates[index].0.clone());
        // A list by its own name tells whether any of it is true.
        if let Some(list) = self.frame.pack.questions[question].list {
            let is_true = |own: &QuestionId| values[own.index()] == Some(InputValue::Bool(true));
            let any = self.frame.pack.options_of(list).iter().any(is_true);
            values[list.index()] = Some(InputValue::Bool(any));
        }
    }

    fn weight(&self, question: QuestionId, values: &Values) -> f64 {
        let mut weight = 1.0;
        let mut against = None;
        for demand in &self.frame.demands_on[question.index()] {
            let demand = &self.frame.demands[*demand];
            let finding = demand.finding.index();
            let shows = self.frame.shows_while_drawn(demand, values, &self.worked);
            // However many ways show it wrongly, it is one finding.
            if shows.is_some_and(|shows| shows != self.car.findings[finding])
                && against != Some(finding)
            {
                weight *= self.against[finding];
                against = Some(finding);
            }
        }
        let rules = self.frame.rules_on[question.index()].iter();
        rules.fold(weight, |weight, rule| {
            let written = &self.frame.pack.readings[*rule];
            let Some((should_be, good_to)) = self.should_be(*rule, values) else { return weight };
            let Some(InputValue::Number { value, .. }) = &values[written.of.index()] else {
                return weight;
            };
            let off = (value - should_be) / good_to;
            weight * (-off * off / 2.0).exp().max(FAR_FROM_RULE)
        })
    }

    /// What a reading should be and how well that is known, where its rule applies.
    fn should_be(&self, rule: crate::rules::ReadingId, values: &Values) -> Option<(f64, f64)> {
        let written = &self.frame.pack.readings[rule];
        let plain = self.frame.plain(values).remembering(&self.worked);
        let applies = written.when.as_ref().is_none_or(|when| plain.holds(when) == Ok(true));
        let should_be = plain.number(&written.should_be).ok().filter(|_| applies)?;
        Some((should_be, written.good_to.of(should_be).max(f64::MIN_POSITIVE)))
    }

    fn candidates(
        &self,
        question: QuestionId,
        tried: usize,
        values: &Values,
        chance: &mut Xoshiro256PlusPlus,
    ) -> Vec<Candidate> {
        match &self.frame.pack.questions[question].answer {
            AnswerForm::YesOrNo => {
                [true, false].map(|truth| (InputValue::Bool(truth), 1.0)).to_vec()
            }
            AnswerForm::Choose(options) => {
                (0..options.len()).map(|option| (InputValue::Option(option), 1.0)).collect()
            }
            AnswerForm::Measure(measure) => {
                let mut found = readings(measure, tried, chance);
                for rule in &self.frame.rules_on[question.index()] {
                    if self.frame.pack.readings[*rule].of != question {
                        continue;
                    }
                    if let Some((should_be, good_to)) = self.should_be(*rule, values) {
                        let near = (0..4).map(|_| should_be + good_to * deviation(chance));
                        let within = near.filter(|value| is_plausible(measure, *value));
                        found.extend(within.map(|value| (number(value), 1.0)));
                    }
                }
                found
            }
            // The options of a list are drawn, each by itself.
            AnswerForm::Table(_) | AnswerForm::AnyOf(_) => Vec::new(),
        }
    }
}

/// Values of a measurement: around what is typical, or anywhere within its range.
fn readings(measure: &Measure, tried: usize, chance: &mut Xoshiro256PlusPlus) -> Vec<Candidate> {
    let mut found = Vec::new();
    let mut common = 1.0;
    let fewer = if measure.typical.is_some() { FEWER_IF_TYPICAL } else { 1 };
    let tried = tried / fewer;
    if let Some((middle, scatter)) = measure.typical {
        common = FAR_FROM_TYPICAL;
        let by_factor =
            scatter > BY_FACTOR * middle && measure.from.is_some_and(|from| from >= 0.0);
        for _ in 0..tried {
            let z = deviation(chance);
            let value = if by_factor && middle > 0.0 {
                middle * ((scatter / middle).powi(2).ln_1p().sqrt() * z).exp()
            } else {
                middle + scatter * z
            };
            if is_plausible(measure, value) {
                found.push((number(value), 1.0));
            }
        }
    }
    if let (Some(from), Some(to)) = (measure.from, measure.to) {
        for step in 0..tried {
            #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
            let share = (step as f64 + chance.random::<f64>()) / tried as f64;
            // Every other one by its size: of a coil, 20 ohm and a million are as much worth trying.
            let by_size = from >= 0.0 && step % 2 == 1;
            let share = if by_size { SMALLEST.powf(1.0 - share) } else { share };
            found.push((number(from + share * (to - from)), common));
        }
    }
    found
}

fn number(value: f64) -> InputValue {
    InputValue::Number { value, uncertainty: 0.0 }
}

fn is_plausible(measure: &Measure, value: f64) -> bool {
    measure.from.is_none_or(|from| value >= from) && measure.to.is_none_or(|to| value <= to)
}

/// A draw of the standard normal distribution.
pub(in crate::interview) fn deviation(chance: &mut Xoshiro256PlusPlus) -> f64 {
    let share = chance.random::<f64>().clamp(1e-12, 1.0 - 1e-12);
    Normal::standard().inverse_cdf(share)
}
