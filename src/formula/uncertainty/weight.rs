//! How strongly what is known speaks for a truth and against it: comparisons of uncertain values,
//! answers that are sometimes wrong, and compounds of these.
//!
//! A truth rests on bases: a yes-or-no answer, a choice, an expression held against fixed limits. Each
//! has the states it can be in (yes and no; the options; the stretches between the limits) and each
//! state its probability. A single basis weighs by its probabilities. In a compound each side weighs by
//! the mean probability of the patterns that make it, so that no information gives no weight.

use std::collections::HashMap;

use super::basis::{Questions, against, single_basis};
use super::evaluator::Evaluator;
use super::joint::{Axis, joint};
use super::piece::Piece;
use super::settled::Settled;
use super::states::{States, slipped};
use crate::formula::check::{Formula, Node};
use crate::formula::evaluate::{EvalError, Logic, Model, Values, truth};
use crate::physics::Refusal;

/// The most patterns of a compound that are looked at.
const MAX_PATTERNS: usize = 1 << 14;
/// A probability that only rounding keeps from nothing.
const IMPOSSIBLE: f64 = 1e-12;

/// What is known about a truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// The probability that it is true, by what was answered alone.
    pub probability: f64,
    /// Likelihood of the answers, should it be true.
    pub yes: f64,
    /// Likelihood of the answers, should it be false.
    pub no: f64,
    /// The probability that it depends on a part that is not known.
    pub unknown: f64,
}

impl Weight {
    /// The probability that it is true; none where it most likely depends on a part that is not known.
    #[must_use]
    pub fn decided(&self) -> Option<f64> {
        (self.unknown <= 0.5).then_some(self.probability)
    }
}

/// One state of each basis, and how probable they are together.
pub(super) type Pattern = (Vec<usize>, f64);

/// A truth in one pattern of the states of its bases.
pub(super) struct InPattern<'a, 'f> {
    pub(super) model: &'a Model<'f>,
    pub(super) questions: &'a Questions<'a>,
    pub(super) states: &'a [Option<States>],
    pub(super) pattern: &'a [usize],
}

impl Logic for InPattern<'_, '_> {
    type Truth = Result<bool, EvalError>;

    fn atom(&self, atom: &Node) -> Self::Truth {
        if let Node::Known(variable) = atom {
            return Ok(self.model.known(*variable));
        }
        let place = self.questions.place(atom).ok_or(EvalError::Unknown)?;
        let states = self.states[place.question].as_ref().ok_or(EvalError::Unknown)?;
        Ok(states.truths[self.pattern[place.question]][place.asked])
    }
}

impl Evaluator<'_> {
    /// What is known about a truth; none where it can't be told.
    #[must_use]
    pub fn weigh(&self, formula: &Formula) -> Option<Weight> {
        self.weigh_settled(formula, &Settled::default())
    }

    /// What is known about a truth where it is settled of some of its answers whether they are off. Where
    /// all that it rests on is off, it weighs 1 either way.
    #[must_use]
    pub fn weigh_settled(&self, formula: &Formula, settled: &Settled) -> Option<Weight> {
        let (sums, single) = self.sums(formula, settled)?;
        let tells_nothing = single_basis(&formula.node)
            .is_some_and(|basis| basis.is_read() && settled.is_off(self, &basis) == Some(true));
        let told = sums.weight(single && !tells_nothing);
        // With an answer settled a part that nobody knows may be all that matters: no weight either way.
        told.or_else(|| {
            let unknown = sums.unknown;
            let open = Weight { probability: 0.0, yes: unknown, no: unknown, unknown };
            (!settled.off.is_empty() && unknown > IMPOSSIBLE).then_some(open)
        })
    }

    /// The probability of a truth whose every part must be told.
    ///
    /// # Errors
    /// [`EvalError`] where a part that matters is not known or refused.
    pub fn chance(&self, formula: &Formula) -> Result<f64, EvalError> {
        match self.sums(formula, &Settled::default()) {
            Some((sums, _)) if sums.unknown <= IMPOSSIBLE => Ok(sums.yes.clamp(0.0, 1.0)),
            Some(_) => Err(self.first_error(formula)),
            None => {
                let reason = "it joins too many comparisons to evaluate together";
                Err(EvalError::Refused(Refusal::new("result", reason)))
            }
        }
    }

    /// Why a part of a truth can't be told: the first reason found, a refusal before the rest.
    fn first_error(&self, formula: &Formula) -> EvalError {
        let chances = self.chances(formula);
        let mut found = EvalError::Unknown;
        formula.node.walk(&mut |part| {
            if found == EvalError::Unknown
                && let Node::Compared { operator, left, right } = part
            {
                let (expression, _) = against(*operator, left, right);
                let piece = Piece::whole(formula, &chances).at(&expression);
                if let Err(error) = self.remembered(piece) {
                    found = error;
                }
            }
        });
        found
    }

    /// The patterns of a truth, summed; and whether it rests on one basis alone. None where there
    /// are too many.
    fn sums(&self, formula: &Formula, settled: &Settled) -> Option<(Sums, bool)> {
        let questions = Questions::of([&formula.node]);
        let chances = self.chances(formula);
        let piece = Piece::whole(formula, &chances);
        let mut states = Vec::with_capacity(questions.all.len());
        let mut count = 1_usize;
        for question in &questions.all {
            let found = States::known(self, piece, question, settled);
            count = count.checked_mul(found.as_ref().map_or(1, States::count))?;
            // Said before the rest is worked out for nothing.
            if count > MAX_PATTERNS {
                return None;
            }
            states.push(found);
        }
        let mut sums = Sums::default();
        for (pattern, probability) in patterns_of(&states, None) {
            let pattern = InPattern {
                model: &self.model,
                questions: &questions,
                states: &states,
                pattern: &pattern,
            };
            sums.add(truth(&pattern, &formula.node).ok(), probability);
        }
        Some((sums, questions.all.len() == 1))
    }

    /// By how many patterns of its parts a truth holds, and by how many it doesn't.
    pub(super) fn pattern_counts(
        &self,
        formula: &Formula,
        settled: &Settled,
    ) -> Option<(f64, f64)> {
        let (sums, _) = self.sums(formula, settled)?;
        Some((f64::from(sums.yes_count), f64::from(sums.no_count)))
    }

    /// Patterns over several truths that rest on one and the same basis: which of them hold
    /// together, and how probable. Patterns that can occur but have no probability are listed
    /// too. None where the basis is not known.
    #[must_use]
    pub fn patterns(&self, formulas: &[&Formula]) -> Option<Vec<(Vec<bool>, f64)>> {
        self.patterns_settled(formulas, &Settled::default())
    }

    /// [`patterns`](Self::patterns) where it is settled of some of the answers whether they are off. A
    /// reading that is off weighs 1 for each.
    #[must_use]
    pub fn patterns_settled(
        &self,
        formulas: &[&Formula],
        settled: &Settled,
    ) -> Option<Vec<(Vec<bool>, f64)>> {
        let questions = Questions::of(formulas.iter().map(|formula| &formula.node));
        let ([question], Some(first)) = (questions.all.as_slice(), formulas.first()) else {
            return None;
        };
        let chances = self.chances(first);
        let states = States::known(self, Piece::whole(first, &chances), question, settled)?;
        let tells_nothing =
            settled.is_off(self, &question.basis) == Some(true) && question.basis.is_read();
        let mut found = self.truths_by_state(formulas, &questions, states)?;
        if tells_nothing {
            found.iter_mut().for_each(|(_, weight)| *weight = 1.0);
        }
        Some(found)
    }

    /// The patterns of several truths that could occur, whatever the answers: of the options of one
    /// choice, or the stretches of one expression. None where they rest on anything else.
    #[must_use]
    pub fn possible_patterns(&self, formulas: &[&Formula]) -> Option<Vec<Vec<bool>>> {
        let questions = Questions::of(formulas.iter().map(|formula| &formula.node));
        let [question] = questions.all.as_slice() else { return None };
        let states = States::possible(self, question)?;
        let found = self.truths_by_state(formulas, &questions, states)?;
        Some(found.into_iter().map(|(truths, _)| truths).collect())
    }

    /// Which truths hold in which states of the one basis they rest on, alike ones taken together.
    fn truths_by_state(
        &self,
        formulas: &[&Formula],
        questions: &Questions<'_>,
        states: States,
    ) -> Option<Vec<(Vec<bool>, f64)>> {
        let (count, probabilities) = (states.count(), states.probabilities.clone());
        let states = [Some(states)];
        let mut found: Vec<(Vec<bool>, f64)> = Vec::new();
        for state in 0..count {
            let pattern =
                InPattern { model: &self.model, questions, states: &states, pattern: &[state] };
            let truths = formulas.iter().map(|formula| truth(&pattern, &formula.node).ok());
            let truths: Vec<bool> = truths.collect::<Option<_>>()?;
            let probability = probabilities.get(state).copied().unwrap_or(0.0);
            match found.iter_mut().find(|(known, _)| *known == truths) {
                Some((_, sum)) => *sum += probability,
                None => found.push((truths, probability)),
            }
        }
        Some(found)
    }
}

/// The patterns of states, one state a known basis, with their joint probability. That of the stretches
/// of uncertain expressions is taken from `drawn`, where there is such a list.
pub(super) fn patterns_of(
    states: &[Option<States>],
    drawn: Option<&HashMap<Vec<usize>, f64>>,
) -> Vec<Pattern> {
    let axes: Vec<(usize, &Axis)> = states
        .iter()
        .enumerate()
        .filter_map(|(index, states)| Some((index, states.as_ref()?.axis.as_ref()?)))
        .collect();
    let along: Vec<&Axis> = axes.iter().map(|(_, axis)| *axis).collect();
    let joint = if drawn.is_none() { Some(joint(&along)) } else { None };
    let mut found: Vec<Pattern> = vec![(Vec::new(), 1.0)];
    for states in states {
        let size = states.as_ref().map_or(1, States::count);
        let mut longer = Vec::with_capacity(found.len() * size);
        for (pattern, probability) in &found {
            for state in 0..size {
                let own = match states {
                    Some(states) if states.axis.is_none() => states.probabilities[state],
                    _ => 1.0,
                };
                let mut pattern = pattern.clone();
                pattern.push(state);
                longer.push((pattern, probability * own));
            }
        }
        found = longer;
    }
    for (pattern, probability) in &mut found {
        let along: Vec<usize> = axes.iter().map(|(index, _)| pattern[*index]).collect();
        *probability *= match (&joint, drawn) {
            (Some(joint), _) => joint.probability(&along),
            (None, Some(drawn)) => drawn.get(&along).copied().unwrap_or(0.0),
            (None, None) => 1.0,
        };
    }
    for (index, _) in axes {
        let Some(States { sure, .. }) = &states[index] else { continue };
        if *sure < 1.0 {
            slip(&mut found, index, *sure);
        }
    }
    found
}

/// [`slipped`] for one basis of joint patterns, whatever the others are.
fn slip(patterns: &mut [Pattern], basis: usize, sure: f64) {
    let mut alike: HashMap<Vec<usize>, Vec<usize>> = HashMap::new();
    for (place, (pattern, _)) in patterns.iter().enumerate() {
        let mut others = pattern.clone();
        others.remove(basis);
        alike.entry(others).or_default().push(place);
    }
    for places in alike.values() {
        let all: f64 = places.iter().map(|place| patterns[*place].1).sum();
        for place in places {
            patterns[*place].1 = slipped(patterns[*place].1, all, places.len(), sure);
        }
    }
}

/// Probabilities of the patterns, by what they make of the truth.
#[derive(Default)]
struct Sums {
    yes: f64,
    no: f64,
    unknown: f64,
    yes_count: u32,
    no_count: u32,
}

impl Sums {
    fn add(&mut self, truth: Option<bool>, probability: f64) {
        match truth {
            Some(true) => {
                self.yes += probability;
                self.yes_count += 1;
            }
            Some(false) => {
                self.no += probability;
                self.no_count += 1;
            }
            None => self.unknown += probability,
        }
    }

    /// What is not known weighs on both sides alike, and so not at all.
    fn weight(&self, single: bool) -> Option<Weight> {
        if self.yes + self.no <= IMPOSSIBLE {
            return None;
        }
        let mean = |sum: f64, count: u32| match count {
            0 => 0.0,
            _ if single => sum,
            _ => sum / f64::from(count),
        };
        Some(Weight {
            probability: self.yes.clamp(0.0, 1.0),
            yes: mean(self.yes, self.yes_count) + self.unknown,
            no: mean(self.no, self.no_count) + self.unknown,
            unknown: self.unknown,
        })
    }
}
