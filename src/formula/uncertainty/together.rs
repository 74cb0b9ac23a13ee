//! Truths whose readings scatter together: which of them hold at once, and how probable that is.

use std::collections::HashMap;

use super::band::BandFrom;
use super::basis::{Basis, Question, Questions, single_basis};
use super::evaluator::Evaluator;
use super::joint::{Axis, correlation, is_one};
use super::piece::Piece;
use super::settled::{Settled, least_sure};
use super::states::States;
use super::weight::{InPattern, patterns_of};
use crate::formula::check::Formula;
use crate::formula::evaluate::{EvalError, UncertainInput, truth};

/// An expression that lies on one side of its limits with all but this share of its band is told by
/// itself: what it shows and what others show can't differ by more from one another's product.
const MINOR: f64 = 1e-9;
/// The same of expressions that hang together by chance, and not as one and the same: the draws for
/// three and more of them tell no smaller shares.
const MINOR_OF_DRAWS: f64 = 1e-4;
/// Expressions that hang together by less than this correlation are told by themselves.
const LOOSE: f64 = 0.1;
/// The most patterns of states that are looked at.
const MAX_PATTERNS: usize = 1 << 12;

/// The expressions of some truths that lie near one of their limits, and the choices that may be off.
#[derive(Debug, Clone, Default)]
pub struct Borders {
    /// How many patterns the truths can show.
    pub patterns: usize,
    near: Vec<Near>,
}

/// What lies near a limit.
#[derive(Debug, Clone)]
struct Near {
    basis: Basis,
    /// What it owes to which input; empty of a choice.
    shares: Vec<(UncertainInput, f64)>,
    /// The share of its band beyond its likeliest stretch; of a choice 1.
    minor: f64,
}

impl Near {
    fn hangs_together(&self, other: &Self) -> bool {
        let correlation = correlation(&self.shares, &other.shares);
        let is_near = self.minor.min(other.minor) > MINOR_OF_DRAWS;
        self.basis == other.basis || is_one(correlation) || correlation.abs() >= LOOSE && is_near
    }
}

impl Borders {
    /// Whether some expression of each scatters with one of the other's, both near a limit.
    #[must_use]
    pub fn hangs_together(&self, other: &Self) -> bool {
        self.near.iter().any(|own| other.near.iter().any(|its| own.hangs_together(its)))
    }
}

/// What some truths rest on, by the formula that asks first.
struct Asking<'a> {
    formulas: &'a [&'a Formula],
    chances: Vec<Vec<Result<f64, EvalError>>>,
    questions: Questions<'a>,
}

impl<'a> Asking<'a> {
    fn new(evaluator: &Evaluator<'_>, formulas: &'a [&'a Formula]) -> Self {
        let chances = formulas.iter().map(|formula| evaluator.chances(formula)).collect();
        let questions = Questions::of(formulas.iter().map(|formula| &formula.node));
        Self { formulas, chances, questions }
    }

    /// The formula that a basis stands in first, as a piece.
    fn piece(&self, basis: &Basis) -> Option<Piece<'_>> {
        let asks = |formula: &&Formula| {
            Questions::of([&formula.node]).all.iter().any(|question| question.basis == *basis)
        };
        let place = self.formulas.iter().position(asks)?;
        Some(Piece::whole(self.formulas[place], &self.chances[place]))
    }

    fn states(&self, evaluator: &Evaluator<'_>, settled: &Settled) -> Vec<Option<States>> {
        let known = |question: &Question| {
            States::known(evaluator, self.piece(&question.basis)?, question, settled)
        };
        self.questions.all.iter().map(known).collect()
    }
}

impl Evaluator<'_> {
    /// The expressions of these truths, of one finding or of a group, that lie near a limit, and the
    /// choices that may be off.
    #[must_use]
    pub fn borders(&self, truths: &[&Formula]) -> Borders {
        let asking = Asking::new(self, truths);
        let patterns = match truths {
            [_] => 2,
            _ => self.possible_patterns(truths).map_or(2, |patterns| patterns.len()),
        };
        let states = asking.states(self, &Settled::default());
        let own = |(question, states): (&Question, Option<States>)| {
            let (shares, minor) = match (&question.basis, states?.axis) {
                (Basis::Choice(_), _) if least_sure(self, &question.basis).1 < 1.0 => {
                    (Vec::new(), 1.0)
                }
                (_, Some(axis)) => (axis.shares.clone(), axis.minor()),
                _ => return None,
            };
            (minor > MINOR).then(|| Near { basis: question.basis.clone(), shares, minor })
        };
        let near = asking.questions.all.iter().zip(states).filter_map(own).collect();
        Borders { patterns, near }
    }

    /// Whether truths rest on a reading that is settled to be off, and so tells nothing. A look that is
    /// off tells the opposite.
    #[must_use]
    pub fn rests_on_off(&self, truths: &[&Formula], settled: &Settled) -> bool {
        let questions = Questions::of(truths.iter().map(|formula| &formula.node));
        questions.all.iter().any(|question| {
            question.basis.is_read() && settled.is_off(self, &question.basis) == Some(true)
        })
    }

    /// The patterns of several findings or groups, each by its truths: every combination of what each can
    /// show, one after the other, with its weight. That is the probability of the combination under the
    /// joint of the answers, over how many patterns of its parts make each compound what it is; what
    /// leaves a truth unknown weighs on both its sides alike.
    #[must_use]
    pub fn together(
        &self,
        units: &[&[&Formula]],
        settled: &Settled,
    ) -> Option<Vec<(Vec<bool>, f64)>> {
        let formulas: Vec<&Formula> = units.iter().flat_map(|unit| unit.iter().copied()).collect();
        let asking = Asking::new(self, &formulas);
        let states = asking.states(self, settled);
        let sizes = states.iter().map(|own| own.as_ref().map_or(1, States::count));
        let count = sizes.into_iter().try_fold(1_usize, |all, own| all.checked_mul(own))?;
        if count > MAX_PATTERNS {
            return None;
        }
        let counts: Vec<[f64; 2]> =
            units.iter().map(|unit| self.counts(unit, settled)).collect::<Option<_>>()?;
        let drawn = self.drawn(&asking, &states);
        let mut shown: Vec<Vec<Vec<bool>>> = vec![Vec::new(); units.len()];
        let mut sums: HashMap<Vec<bool>, f64> = HashMap::new();
        for (pattern, probability) in patterns_of(&states, drawn.as_ref()) {
            let pattern = InPattern {
                model: &self.model,
                questions: &asking.questions,
                states: &states,
                pattern: &pattern,
            };
            let mut all = vec![(Vec::new(), probability)];
            for ((unit, counts), shown) in units.iter().zip(&counts).zip(&mut shown) {
                let truths = unit.iter().map(|formula| truth(&pattern, &formula.node).ok());
                let own = sides(truths.collect(), counts)?;
                shown.extend(own.iter().map(|(truths, _)| truths.clone()));
                all = times(&all, &own);
            }
            all.into_iter().for_each(|(truths, weight)| *sums.entry(truths).or_default() += weight);
        }
        let every =
            shown.into_iter().zip(units).fold(vec![(Vec::new(), 1.0)], |all, (mut own, unit)| {
                if !is_of_one_kind(unit) {
                    own.extend([vec![true], vec![false]]);
                }
                own.sort_by(|a, b| b.cmp(a));
                own.dedup();
                times(&all, &own.into_iter().map(|truths| (truths, 1.0)).collect::<Vec<_>>())
            });
        let weighed = every.into_iter().map(|(truths, _)| {
            let weight = sums.get(&truths).copied().unwrap_or(0.0);
            (truths, weight)
        });
        Some(weighed.collect())
    }

    /// By how many patterns of its parts a compound is true, and false; 1 of all else.
    fn counts(&self, unit: &[&Formula], settled: &Settled) -> Option<[f64; 2]> {
        match unit {
            [formula] if single_basis(&formula.node).is_none() => {
                let (yes, no) = self.pattern_counts(formula, settled)?;
                Some([yes.max(1.0), no.max(1.0)])
            }
            _ => Some([1.0, 1.0]),
        }
    }

    /// How often each pattern of stretches occurs at the draws that readings have taught, where any
    /// expression rests on these; a half is added to each, since what was never drawn may yet be.
    fn drawn(
        &self,
        asking: &Asking<'_>,
        states: &[Option<States>],
    ) -> Option<HashMap<Vec<usize>, f64>> {
        let mut columns: Vec<(&Axis, f64, f64, Vec<Option<f64>>)> = Vec::new();
        let mut is_taught = false;
        for (question, own) in asking.questions.all.iter().zip(states) {
            let axis = own.as_ref().and_then(|own| own.axis.as_ref());
            let (Some(axis), Basis::Expression(node)) = (axis, &question.basis) else {
                continue;
            };
            let piece = asking.piece(&question.basis)?.at(node);
            let band = self.remembered(piece).ok()?.band;
            is_taught |= matches!(band.from, BandFrom::Conditioned { .. });
            columns.push((axis, band.value, band.uncertainty, self.at_taught_draws(piece)?));
        }
        if !is_taught {
            return None;
        }
        let rows = columns.iter().map(|(.., column)| column.len()).min()?;
        let mut found: HashMap<Vec<usize>, f64> = HashMap::new();
        let mut told = 0.0;
        for row in 0..rows {
            let stretch =
                |(axis, value, uncertainty, column): &(&Axis, f64, f64, Vec<Option<f64>>)| {
                    column[row].map(|drawn| axis.stretch((drawn - value) / uncertainty))
                };
            if let Some(pattern) = columns.iter().map(stretch).collect::<Option<Vec<usize>>>() {
                *found.entry(pattern).or_default() += 1.0;
                told += 1.0;
            }
        }
        let mut all: Vec<Vec<usize>> = vec![Vec::new()];
        for (axis, ..) in &columns {
            let longer = all.iter().flat_map(|pattern| {
                (0..axis.edges.len() - 1).map(move |own| [pattern.as_slice(), &[own]].concat())
            });
            all = longer.collect();
        }
        #[expect(clippy::cast_precision_loss, reason = "a few thousand patterns at most")]
        let total = told + 0.5 * all.len() as f64;
        let share = |pattern: Vec<usize>| {
            let share = (found.get(&pattern).copied().unwrap_or(0.0) + 0.5) / total;
            (pattern, share)
        };
        Some(all.into_iter().map(share).collect())
    }
}

/// Whether a unit rests on one choice or one expression: it shows what that can, and nothing else.
fn is_of_one_kind(unit: &[&Formula]) -> bool {
    let basis = unit.first().and_then(|formula| single_basis(&formula.node));
    basis.is_some_and(|basis| !matches!(basis, Basis::Answer(_)))
}

/// What a unit shows in one pattern of states, with how much that weighs; nothing where a group can't be
/// told.
fn sides(truths: Vec<Option<bool>>, counts: &[f64; 2]) -> Option<Vec<(Vec<bool>, f64)>> {
    match truths.as_slice() {
        [Some(true)] => Some(vec![(vec![true], 1.0 / counts[0])]),
        [Some(false)] => Some(vec![(vec![false], 1.0 / counts[1])]),
        [None] => Some(vec![(vec![true], 1.0), (vec![false], 1.0)]),
        _ => Some(vec![(truths.into_iter().collect::<Option<_>>()?, 1.0)]),
    }
}

/// Every one with every other, one after the other.
fn times(one: &[(Vec<bool>, f64)], other: &[(Vec<bool>, f64)]) -> Vec<(Vec<bool>, f64)> {
    let pairs = one.iter().flat_map(|(truths, weight)| {
        let behind = other.iter();
        behind.map(move |(own, more)| ([truths.as_slice(), own].concat(), weight * more))
    });
    pairs.collect()
}

impl Axis {
    /// The share of the band beyond its likeliest stretch.
    fn minor(&self) -> f64 {
        let shares: Vec<f64> =
            self.edges.windows(2).map(|pair| super::normal::between(pair[0], pair[1])).collect();
        let most = shares.iter().copied().fold(0.0, f64::max);
        let place = shares.iter().position(|share| *share == most);
        // Added up rather than taken off from 1, which would leave rounding.
        let others = shares.iter().enumerate().filter(|(index, _)| Some(*index) != place);
        others.map(|(_, share)| share).sum()
    }
}
