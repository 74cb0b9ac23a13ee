//! What readings teach about the engine: the answers that the rules call readings of a formula, of all
//! rounds so far, and the uncertain inputs of those formulas as they are believed once the readings
//! are known.
//!
//! An input is one and the same in two rounds as long as no repair between them touches it and nobody
//! measured it anew: a wider port is another input, the turbine behind it is not.

use std::collections::{HashMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use rayon::prelude::*;

use crate::calibration::{Conditioned, Draws, Model, Predictive, Reading, condition};
use crate::formula::{FEW_DRAWS, JointDraws, Memo, VarId};
use crate::rules::{AnswerForm, Pack, QuestionId, ReadingId, RepairId, TypedIndex};

use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::{Answers, Held};
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::facts::Facts;
use crate::interview::evidence::lesson::{Clash, Learnt, Lesson};
use crate::interview::evidence::misread::misread;
use crate::interview::evidence::read_round::{Read, ReadRound, ReadRounds, any_read};

/// What is less likely a reading than this clashes with nothing: it is something else.
const LIKELY: f64 = 0.5;
/// So many draws say how surprising a reading is.
const FOR_SURPRISE: usize = 300;
/// A reading less likely than this on an engine of which nothing was read is that of no engine.
const NO_ENGINE: f64 = 1e-6;
/// Of an answer without a plausible range: it may be off by so many uncertainties where it is no
/// reading of the formula at all.
const OTHERWISE: f64 = 50.0;

/// An input by its question, how often repairs touched it, and what stands there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct InputKey {
    question: usize,
    touched: usize,
    value: u64,
    uncertainty: u64,
}

/// A round with a reading in it: what is known of the engine as it was then.
struct PastEngine<'p> {
    seen: Arc<ReadRound<'p>>,
    /// For each uncertain input of its readings: its place among all inputs.
    inputs: Vec<(VarId, usize)>,
}

/// What the readings are held against.
struct Engines<'p> {
    rounds: Vec<PastEngine<'p>>,
    inputs: usize,
    /// For each reading: its place in `rounds`, and its rule.
    readings: Vec<(usize, ReadingId)>,
}

impl Engines<'_> {
    /// The given values of a round at draws in standard normal coordinates.
    fn joint(&self, round: usize, draws: &Draws) -> JointDraws {
        let engine = &self.rounds[round];
        let evaluator = &engine.seen.facts.evaluator;
        let column = |(variable, input): &(VarId, usize)| {
            let drawn = draws.column(*input).iter();
            (*variable, drawn.map(|z| evaluator.input_at(*variable, *z)).collect())
        };
        #[expect(clippy::cast_precision_loss, reason = "some thousands")]
        let effective = draws.count() as f64;
        JointDraws::new(draws.count(), engine.inputs.iter().map(column), effective)
    }

    fn predict_one(&self, reading: usize, draws: &Draws) -> Vec<Option<f64>> {
        let (round, rule) = self.readings[reading];
        let joint = Arc::new(self.joint(round, draws));
        let facts = &self.rounds[round].seen.facts;
        facts.evaluator.at_draws_alone(&facts.pack.readings[rule].should_be, &joint)
    }
}

/// Some of the readings alone.
struct Only<'a, 'p>(&'a Engines<'p>, &'a [usize]);

impl Model for Only<'_, '_> {
    fn inputs(&self) -> usize {
        self.0.inputs
    }

    fn predict(&self, draws: &Draws) -> Vec<Vec<Option<f64>>> {
        self.1.iter().map(|reading| self.0.predict_one(*reading, draws)).collect()
    }
}

/// What is known at the end of a round, with what its readings and those before it teach. `seen` has
/// what earlier calls of the same fold found.
#[must_use]
pub(in crate::interview) fn facts<'p>(
    pack: &'p Pack,
    held: Answers,
    earlier: &Earlier,
    memo: &Arc<Memo>,
    seen: &mut ReadRounds<'p>,
) -> Facts<'p> {
    match learn(pack, &held, earlier, memo, seen) {
        Some(learnt) => Facts::taught(pack, held, earlier, memo, learnt),
        None => Facts::new(pack, held, earlier, memo),
    }
}

/// What the readings teach; none where there is none.
fn learn<'p>(
    pack: &'p Pack,
    now: &Answers,
    earlier: &Earlier,
    memo: &Arc<Memo>,
    seen: &mut ReadRounds<'p>,
) -> Option<Arc<Learnt>> {
    let present = earlier.rounds().len();
    let mut gathered = Gathered::new();
    for (round, (held, _)) in earlier.rounds().iter().enumerate() {
        if any_read(pack, held, round) {
            let then = as_known_now(pack, now, held, earlier, round);
            gathered.round(seen.round(pack, then, (earlier, round), memo), earlier, round);
        }
    }
    let here = any_read(pack, now, present)
        .then(|| seen.round(pack, now.clone(), (earlier, present), memo));
    if let Some(here) = &here {
        gathered.round(Arc::clone(here), earlier, present);
    }
    if gathered.readings.is_empty() {
        return None;
    }
    let present_inputs = match &here {
        Some(here) => gathered.present_inputs(&here.facts, earlier),
        None => gathered.present_inputs(&Facts::new(pack, now.clone(), earlier, memo), earlier),
    };
    let key = gathered.key(&present_inputs);
    Some(memo.remembered(key, || gathered.learnt(&present_inputs)))
}

/// The answers of an earlier round, with what was measured since of parts that no repair touched.
fn as_known_now(
    pack: &Pack,
    now: &Answers,
    held: &Answers,
    earlier: &Earlier,
    round: usize,
) -> Answers {
    let mut then = held.clone();
    let says = |held: &Held| !matches!(held.answer, Answer::CantSay | Answer::Later);
    for (question, known) in now {
        let open = then.get(question).is_none_or(|held| !says(held));
        let each_run = pack.questions[*question].is_of_one_run();
        let untouched = touched(pack, earlier, *question, round)
            == touched(pack, earlier, *question, known.round);
        if open && says(known) && !each_run && untouched {
            then.insert(*question, known.clone());
        }
    }
    then
}

/// How many repairs before a round touch what a question asks.
fn touched(pack: &Pack, earlier: &Earlier, question: QuestionId, round: usize) -> usize {
    let touches = |repair: &RepairId| pack.repairs[*repair].invalidates.contains(&question);
    let repairs = earlier.rounds().iter().take(round).filter_map(|(_, repair)| *repair);
    repairs.filter(touches).count()
}

struct Gathered<'p> {
    engines: Engines<'p>,
    readings: Vec<Reading>,
    lessons: Vec<Lesson>,
    places: HashMap<InputKey, usize>,
    hash: DefaultHasher,
}

impl<'p> Gathered<'p> {
    fn new() -> Self {
        Self {
            engines: Engines { rounds: Vec::new(), inputs: 0, readings: Vec::new() },
            readings: Vec::new(),
            lessons: Vec::new(),
            places: HashMap::new(),
            hash: DefaultHasher::new(),
        }
    }

    /// Takes in the readings of a round.
    fn round(&mut self, seen: Arc<ReadRound<'p>>, earlier: &Earlier, round: usize) {
        let (facts, place) = (&seen.facts, self.engines.rounds.len());
        let mut inputs: Vec<(VarId, usize)> = Vec::new();
        for read in &seen.read {
            let Read { rule: id, value, uncertainty, holds, formula, ref below } = *read;
            let of = facts.pack.readings[id].of;
            (id.index(), round, value.to_bits(), uncertainty.to_bits(), holds.to_bits())
                .hash(&mut self.hash);
            formula.hash(&mut self.hash);
            for variable in below {
                if inputs.iter().all(|(known, _)| known != variable) {
                    let key = input_key(facts, earlier, *variable, round);
                    let next = self.places.len();
                    inputs.push((*variable, *self.places.entry(key).or_insert(next)));
                }
            }
            self.engines.readings.push((place, id));
            self.readings.push(Reading {
                value,
                uncertainty,
                holds,
                otherwise_within: plausible_range(facts.pack, of)
                    .map_or(OTHERWISE * uncertainty, |(from, to)| to - from),
            });
            self.lessons.push(Lesson {
                reading: id,
                of,
                round,
                value,
                uncertainty,
                expected: None,
                chance: 1.0,
                clash: None,
            });
        }
        self.engines.inputs = self.places.len();
        self.engines.rounds.push(PastEngine { seen, inputs });
    }

    /// Which of the inputs stand in the present round, and where.
    fn present_inputs(&self, now: &Facts<'_>, earlier: &Earlier) -> Vec<(VarId, usize)> {
        let round = earlier.rounds().len();
        let questions = now.pack.questions.indices();
        let variables = questions.map(|question| now.pack.question_slot(question));
        variables
            .filter_map(|variable| {
                let key = input_key(now, earlier, variable, round);
                self.places.get(&key).map(|place| (variable, *place))
            })
            .collect()
    }

    fn key(&self, present: &[(VarId, usize)]) -> u64 {
        let mut hash = self.hash.clone();
        present.hash(&mut hash);
        hash.finish()
    }

    fn learnt(mut self, present: &[(VarId, usize)]) -> Learnt {
        let mut found = self.conditioned();
        self.judge(found.as_ref());
        for _ in 0..self.readings.len() {
            if !self.widen_the_oddest() {
                break;
            }
            found = self.conditioned();
            self.judge(found.as_ref());
        }
        self.doubt_answers();
        let found = found.as_ref();
        let joint =
            found.map(|found| self.joint(&found.draws, found.effective, present)).map(Arc::new);
        let last = self.engines.rounds.len() - 1;
        let judged = |one: &usize| {
            let (round, _) = self.engines.readings[*one];
            let facts = &self.engines.rounds[round].seen.facts;
            round == last && facts.is_judged(self.lessons[*one].of)
        };
        let besides = (0..self.readings.len()).filter(judged).filter_map(|one| {
            let taken_out = found.filter(|_| self.readings.len() > 1).and_then(|found| {
                found.without(&self.readings[one], &self.engines.predict_one(one, &found.draws))
            });
            let taken_out = taken_out.map(|found| (Arc::new(found.draws), found.effective));
            let by_others = || self.drawn_by_others(one, FEW_DRAWS);
            let (draws, effective) = taken_out.or_else(by_others)?;
            Some((self.lessons[one].of, Arc::new(self.joint(&draws, effective, present))))
        });
        let besides = besides.collect();
        Learnt { joint, besides, lessons: self.lessons }
    }

    /// The inputs of the present round at these draws.
    fn joint(&self, draws: &Draws, effective: f64, present: &[(VarId, usize)]) -> JointDraws {
        let last = self.engines.rounds.len() - 1;
        let evaluator = &self.engines.rounds[last].seen.facts.evaluator;
        let column = |(variable, input): &(VarId, usize)| {
            let drawn = draws.column(*input).iter();
            (*variable, drawn.map(|z| evaluator.input_at(*variable, *z)).collect())
        };
        JointDraws::new(draws.count(), present.iter().map(column), effective)
    }

    /// The inputs by all readings.
    fn conditioned(&self) -> Option<Conditioned> {
        let all: Vec<usize> = (0..self.readings.len()).collect();
        condition(&Only(&self.engines, &all), &self.readings, FEW_DRAWS)
    }

    /// How each reading that is believed as it stands fits the others.
    fn judge(&mut self, found: Option<&Conditioned>) {
        let open = (0..self.readings.len()).filter(|one| self.lessons[*one].clash.is_none());
        let open: Vec<usize> = open.collect();
        let judged = open.into_par_iter().filter_map(|one| Some((one, self.expected(one, found)?)));
        for (one, expected) in judged.collect::<Vec<(usize, Predictive)>>() {
            self.lessons[one].expected = Some((expected.mean, expected.deviation));
            self.lessons[one].chance = expected.chance(&self.readings[one]);
        }
    }

    /// What a reading should be by the others, or where no engine gives it, by none: readings may agree on
    /// an engine that can't be.
    fn expected(&self, index: usize, found: Option<&Conditioned>) -> Option<Predictive> {
        let prior = || {
            let draws = Draws::standard_normal(FOR_SURPRISE, self.engines.inputs, 1);
            Predictive::over(&self.engines.predict_one(index, &draws))
        };
        let alone = (self.readings.len() > 1).then(prior).flatten();
        let unlike_any = alone.filter(|alone| alone.chance(&self.readings[index]) < NO_ENGINE);
        unlike_any.or_else(|| self.by_the_others(index, found))
    }

    /// What a reading should be by the others: taken out of what all teach, where it teaches little
    /// beside them, else by conditioning on the others alone.
    fn by_the_others(&self, index: usize, found: Option<&Conditioned>) -> Option<Predictive> {
        let taken_out = found.filter(|_| self.readings.len() > 1).and_then(|found| {
            let draws = found.draws.spaced(FOR_SURPRISE);
            Predictive::without(&self.readings[index], &self.engines.predict_one(index, &draws))
        });
        let by_others = || {
            let (draws, _) = self.drawn_by_others(index, FOR_SURPRISE)?;
            Predictive::over(&self.engines.predict_one(index, &draws))
        };
        taken_out.or_else(by_others)
    }

    /// So many draws of the inputs by all readings but one, and how many independent ones they stand for.
    fn drawn_by_others(&self, index: usize, count: usize) -> Option<(Arc<Draws>, f64)> {
        let others: Vec<usize> = (0..self.readings.len()).filter(|one| *one != index).collect();
        if others.is_empty() {
            #[expect(clippy::cast_precision_loss, reason = "some thousands")]
            let effective = count as f64;
            return Some((Draws::standard_normal(count, self.engines.inputs, 1), effective));
        }
        let read: Vec<Reading> = others.iter().map(|other| self.readings[*other]).collect();
        let found = condition(&Only(&self.engines, &others), &read, count)?;
        Some((Arc::new(found.draws), found.effective))
    }

    /// Believes that reading less that fits the others least, where it can hardly be.
    fn widen_the_oddest(&mut self) -> bool {
        let open = (0..self.readings.len()).filter(|one| {
            self.lessons[*one].clash.is_none() && self.readings[*one].holds >= LIKELY
        });
        let least = open.min_by(|a, b| self.lessons[*a].chance.total_cmp(&self.lessons[*b].chance));
        let Some(least) = least else { return false };
        let Some((mean, deviation)) = self.lessons[least].expected else { return false };
        let expected = Predictive { mean, deviation, answered: 1.0 };
        let Some(surprise) = expected.surprise(&self.readings[least]) else { return false };
        self.readings[least].uncertainty = surprise.uncertainty;
        self.lessons[least].clash = Some(Clash { widened_to: surprise.uncertainty, doubt: None });
        true
    }

    /// Names for each reading that clashes the answer that would explain it best, now that it is known
    /// which of the others fit.
    fn doubt_answers(&mut self) {
        for index in 0..self.lessons.len() {
            if self.lessons[index].clash.is_none() {
                continue;
            }
            let draws = self.drawn_by_others(index, FOR_SURPRISE);
            let doubt = draws.and_then(|(draws, _)| self.doubt(index, &draws));
            if let Some(clash) = &mut self.lessons[index].clash {
                clash.doubt = doubt;
            }
        }
    }

    /// The inputs that at least as many readings that fit rest on as such that clash: an answer that bears
    /// those out as it stands is none to doubt.
    fn borne_out(&self) -> HashSet<usize> {
        let mut votes: HashMap<usize, i32> = HashMap::new();
        for (lesson, (round, rule)) in self.lessons.iter().zip(&self.engines.readings) {
            let engine = &self.engines.rounds[*round];
            let should_be = &engine.seen.facts.pack.readings[*rule].should_be;
            let below = engine.seen.facts.evaluator.uncertain_below(&should_be.node);
            for (_, place) in engine.inputs.iter().filter(|(one, _)| below.contains(one)) {
                *votes.entry(*place).or_default() += if lesson.clash.is_none() { 1 } else { -1 };
            }
        }
        votes.into_iter().filter(|(_, votes)| *votes >= 0).map(|(place, _)| place).collect()
    }

    /// The other answer below a reading that, were it misread, would make the reading
    /// likeliest; none where none would make it ten times as likely.
    fn doubt(&self, index: usize, draws: &Draws) -> Option<QuestionId> {
        let (round, rule) = self.engines.readings[index];
        let facts = &self.engines.rounds[round].seen.facts;
        let pack = facts.pack;
        let reading =
            &Reading { uncertainty: self.lessons[index].uncertainty, ..self.readings[index] };
        let should_be = &pack.readings[rule].should_be;
        let borne_out = self.borne_out();
        let own = &self.engines.rounds[round].inputs;
        let bears_others = |variable: &VarId| {
            own.iter().any(|(one, at)| one == variable && borne_out.contains(at))
        };
        let variables = facts.evaluator.uncertain_below(&should_be.node).into_iter();
        let answered = variables.filter(|one| !bears_others(one)).flat_map(|variable| {
            let question = QuestionId::from_index(variable.0);
            let range = plausible_range(pack, question).filter(|_| facts.answered(question));
            let (value, _) = facts.evaluator.given(variable);
            let misread = range.into_iter().flat_map(|range| misread(range, value));
            misread.map(move |near| (variable, question, near)).collect::<Vec<_>>()
        });
        let joint = self.engines.joint(round, draws);
        let spread = Draws::standard_normal(draws.count(), 1, 2);
        let chances = answered.filter_map(|(variable, question, (from, to))| {
            let within = |z: &f64| from + (to - from) * crate::formula::normal::below(*z);
            let column: Box<[f64]> = spread.column(0).iter().map(within).collect();
            let freed = Arc::new(joint.with(variable, column));
            let answers = facts.evaluator.at_draws_alone(should_be, &freed);
            Some((question, Predictive::over(&answers)?.chance(reading)))
        });
        let best = chances.max_by(|a, b| a.1.total_cmp(&b.1))?;
        (best.1 > 10.0 * self.lessons[index].chance).then_some(best.0)
    }
}

fn input_key(facts: &Facts<'_>, earlier: &Earlier, variable: VarId, round: usize) -> InputKey {
    let question = QuestionId::from_index(variable.0);
    let (value, uncertainty) = facts.evaluator.given(variable);
    InputKey {
        question: variable.0,
        touched: touched(facts.pack, earlier, question, round),
        value: value.to_bits(),
        uncertainty: uncertainty.to_bits(),
    }
}

fn plausible_range(pack: &Pack, question: QuestionId) -> Option<(f64, f64)> {
    match &pack.questions[question].answer {
        AnswerForm::Measure(measure) => Some((measure.from?, measure.to?)),
        _ => None,
    }
}
