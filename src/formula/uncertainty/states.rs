//! The states that the basis of a truth can be in, and how probable each is.

use super::basis::{Asked, Basis, Limit, Question};
use super::estimate::Estimate;
use super::evaluator::Evaluator;
use super::joint::Axis;
use super::normal::between;
use super::piece::Piece;
use super::settled::{Settled, least_sure};
use crate::formula::check::{Node, VarId};
use crate::formula::evaluate::InputValue;

/// The states that a basis can be in: which of the things asked of it hold, and how probable.
#[derive(Debug, Clone)]
pub(crate) struct States {
    pub(crate) truths: Vec<Vec<bool>>,
    pub(crate) probabilities: Vec<f64>,
    /// An uncertain expression: its band, and the stretch of each state, for a joint with others.
    pub(crate) axis: Option<Axis>,
    /// How often the readings below an expression are no slip, 0 to 1; allowed for in its
    /// probabilities, but not in its axis. 1 for all else.
    pub(crate) sure: f64,
}

impl Default for States {
    fn default() -> Self {
        Self { truths: Vec::new(), probabilities: Vec::new(), axis: None, sure: 1.0 }
    }
}

impl States {
    pub(crate) fn count(&self) -> usize {
        self.truths.len()
    }

    /// The states of a question whatever its answer is; none of a yes-or-no answer.
    pub(crate) fn possible(evaluator: &Evaluator<'_>, question: &Question) -> Option<Self> {
        let truths = match &question.basis {
            Basis::Answer(_) => return None,
            Basis::Choice(variable) => {
                let options = evaluator.model.input(*variable).map_or(0, |input| input.options);
                option_truths(options, &question.asked)
            }
            Basis::Expression(_) => stretch_truths(&limits_of(&question.asked)).1,
            Basis::Reading { .. } => ways(question.asked.len()),
        };
        Some(Self { truths, ..Self::default() })
    }

    /// The states of a question, each with its probability, by what is settled of the answers; none
    /// where nothing is known. `piece` is of the formula that asks.
    ///
    /// A reading that is settled to be off tells nothing: each state then has the weight 1.
    pub(crate) fn known(
        evaluator: &Evaluator<'_>,
        piece: Piece<'_>,
        question: &Question,
        settled: &Settled,
    ) -> Option<Self> {
        let off = settled.is_off(evaluator, &question.basis);
        let by_now = |sure: f64| match off {
            Some(true) => 0.0,
            Some(false) => 1.0,
            None => sure,
        };
        match &question.basis {
            Basis::Answer(variable) => match answered(evaluator, *variable)? {
                (InputValue::Bool(answer), sure) => {
                    Some(Self::of_answer(*answer, by_now(sure), question.asked.len()))
                }
                _ => None,
            },
            Basis::Choice(variable) => match answered(evaluator, *variable)? {
                (InputValue::Option(chosen), sure) => {
                    let options = evaluator.model.input(*variable)?.options.max(chosen + 1);
                    Some(Self::of_choice(*chosen, options, by_now(sure), &question.asked))
                }
                _ => None,
            },
            Basis::Expression(node) => {
                let estimate = evaluator.remembered(piece.at(node)).ok()?;
                let read = Self::of_estimate(&limits_of(&question.asked), &estimate);
                if off == Some(true) {
                    let probabilities = vec![1.0; read.count()];
                    return Some(Self { probabilities, axis: None, ..read });
                }
                let sure = by_now(least_sure(evaluator, &question.basis).1);
                let probabilities = (0..read.count())
                    .map(|state| slipped(read.probabilities[state], 1.0, read.count(), sure))
                    .collect();
                Some(Self { probabilities, sure, ..read })
            }
            Basis::Reading { reading, without, good_to } => {
                let with = question.asked.iter().filter_map(|asked| match asked {
                    Asked::As(with) => Some(with),
                    _ => None,
                });
                let expected: Vec<&Node> = std::iter::once(without).chain(with).collect();
                let densities = evaluator.densities(*reading, &expected, *good_to)?;
                let all: f64 = densities.iter().sum();
                let truths = ways(question.asked.len());
                let sure = by_now(least_sure(evaluator, &question.basis).1);
                let weigh = |density: &f64| match off {
                    Some(true) => 1.0,
                    _ => slipped(density / all, 1.0, truths.len(), sure),
                };
                let probabilities = densities.iter().map(weigh).collect();
                Some(Self { truths, probabilities, ..Self::default() })
            }
        }
    }

    fn of_answer(answer: bool, sure: f64, asked: usize) -> Self {
        let yes = if answer { sure } else { 1.0 - sure };
        Self {
            truths: vec![vec![true; asked], vec![false; asked]],
            probabilities: vec![yes, 1.0 - yes],
            ..Self::default()
        }
    }

    fn of_choice(chosen: usize, options: usize, sure: f64, asked: &[Asked]) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "a handful of options")]
        let others = (options - 1).max(1) as f64;
        let probability = |option: usize| match (option == chosen, options) {
            (true, 1) => 1.0,
            (true, _) => sure,
            (false, _) => (1.0 - sure) / others,
        };
        let mut states = Self::default();
        for (option, truths) in option_truths(options, asked).iter().enumerate() {
            states.add(truths, probability(option));
        }
        states
    }

    /// Adds a state. Options that nothing asked tells apart are one: a part of a compound holds or it
    /// doesn't, however many options it could have been otherwise.
    fn add(&mut self, truths: &[bool], probability: f64) {
        match self.truths.iter().position(|known| known == truths) {
            Some(place) => self.probabilities[place] += probability,
            None => {
                self.truths.push(truths.to_vec());
                self.probabilities.push(probability);
            }
        }
    }

    /// The stretches between an expression's limits.
    fn of_estimate(limits: &[Limit], estimate: &Estimate) -> Self {
        let (cuts, mut truths) = stretch_truths(limits);
        let band = &estimate.band;
        if band.uncertainty > 0.0 {
            let mut edges = vec![f64::NEG_INFINITY];
            edges.extend(cuts.iter().map(|cut| (cut - band.value) / band.uncertainty));
            edges.push(f64::INFINITY);
            let probabilities = edges.windows(2).map(|pair| between(pair[0], pair[1])).collect();
            let axis = Axis { edges, shares: estimate.directions() };
            return Self { truths, probabilities, axis: Some(axis), ..Self::default() };
        }
        let exact = holding(limits, band.value);
        let mut probabilities = vec![0.0; truths.len()];
        match truths.iter().position(|known| *known == exact) {
            Some(place) => probabilities[place] = 1.0,
            // Right on a limit, where < and <= part.
            None => {
                truths.push(exact);
                probabilities.push(1.0);
            }
        }
        Self { truths, probabilities, ..Self::default() }
    }
}

/// The probability of a state of which its reading makes `own`, of `all` that the `count` states have
/// together: a slip shows any other state, each as often.
pub(crate) fn slipped(own: f64, all: f64, count: usize, sure: f64) -> f64 {
    if count < 2 {
        return own;
    }
    #[expect(clippy::cast_precision_loss, reason = "a handful of stretches")]
    let others = (count - 1) as f64;
    sure * own + (1.0 - sure) * (all - own) / others
}

/// An answer with how often such an answer is right.
fn answered<'e>(evaluator: &'e Evaluator<'_>, variable: VarId) -> Option<(&'e InputValue, f64)> {
    let input = evaluator.model.input(variable)?;
    input.value.as_ref().map(|value| (value, input.sure))
}

/// The ways that a reading may be taken: as without a cause, or as with one of those asked for.
fn ways(asked: usize) -> Vec<Vec<bool>> {
    (0..=asked).map(|way| (1..=asked).map(|one| one == way).collect()).collect()
}

/// For each option: which of the things asked hold.
fn option_truths(options: usize, asked: &[Asked]) -> Vec<Vec<bool>> {
    let holds = |option: usize, asked: &Asked| *asked == Asked::Option(option);
    (0..options).map(|option| asked.iter().map(|asked| holds(option, asked)).collect()).collect()
}

fn limits_of(asked: &[Asked]) -> Vec<Limit> {
    asked
        .iter()
        .filter_map(|asked| match asked {
            Asked::Limit(limit) => Some(*limit),
            _ => None,
        })
        .collect()
}

fn holding(limits: &[Limit], at: f64) -> Vec<bool> {
    limits.iter().map(|limit| limit.holds(at)).collect()
}

/// The cuts between an expression's stretches, and for each stretch which limits hold in it.
fn stretch_truths(limits: &[Limit]) -> (Vec<f64>, Vec<Vec<bool>>) {
    let mut cuts: Vec<f64> = limits.iter().map(|limit| limit.at).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    // A point inside each stretch stands for it.
    let (first, last) = (cuts.first().copied().unwrap_or(0.0), cuts.last().copied().unwrap_or(0.0));
    let mut points = vec![first - 1.0 - first.abs()];
    points.extend(cuts.windows(2).map(|pair| pair[0].midpoint(pair[1])));
    points.push(last + 1.0 + last.abs());
    let truths = points.iter().map(|point| holding(limits, *point)).collect();
    (cuts, truths)
}
