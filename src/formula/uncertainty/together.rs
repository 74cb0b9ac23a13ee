//! Truths whose readings scatter together: which of them hold at once, and how probable that is.

use std::collections::HashMap;

use super::band::BandFrom;
use super::basis::{Basis, Question, Questions, single_basis};
use super::evaluator::Evaluator;
use super::joint::{Axis, correlation};
use super::piece::Piece;
use super::settled::Settled;
use super::states::States;
use super::weight::{InPattern, patterns_of};
use crate::formula::check::Formula;
use crate::formula::evaluate::{EvalError, UncertainInput, truth};

/// An expression that lies on one side of its limits with all but this share of its band is told by
/// itself: what it shows and what others show can't differ by more from one another's product.
const MINOR: f64 = 1e-4;
/// Expressions that hang together by less than this correlation are told by themselves.
const LOOSE: f64 = 0.1;
/// The most patterns of states that are looked at.
const MAX_PATTERNS: usize = 1 << 12;

/// The expressions of some truths that lie near one of their limits.
#[derive(Debug, Clone, Default)]
pub struct Borders {
    /// How many patterns the truths can show.
    pub patterns: usize,
    near: Vec<(Basis, Vec<(UncertainInput, f64)>)>,
}

impl Borders {
    /// Whether some expression of each scatters with one of the other's, both near a limit.
    #[must_use]
    pub fn hangs_together(&self, other: &Self) -> bool {
        self.near.iter().any(|(basis, shares)| {
            other
                .near
                .iter()
                .any(|(known, its)| known == basis || correlation(shares, its).abs() >= LOOSE)
        })
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

    fn states(&self, evaluator: &Evaluator<'_>, settled: &Settled) -> Option<Vec<States>> {
        let known = |question: &Question| {
            States::known(evaluator, self.piece(&question.basis)?, question, settled)
        };
        self.questions.all.iter().map(known).collect()
    }
}

impl Evaluator<'_> {
    /// The expressions of these truths, of one finding or of a group, that lie near a limit; none where
    /// some part is not known, since nothing can be told together then.
    #[must_use]
    pub fn borders(&self, truths: &[&Formula]) -> Borders {
        let asking = Asking::new(self, truths);
        let patterns = match truths {
            [_] => 2,
            _ => self.possible_patterns(truths).map_or(2, |patterns| patterns.len()),
        };
        let Some(states) = asking.states(self, &Settled::default()) else {
            return Borders { patterns, near: Vec::new() };
        };
        let own = |(question, states): (&Question, States)| {
            let axis = states.axis.filter(Axis::is_near)?;
            Some((question.basis.clone(), axis.shares))
        };
        let near = asking.questions.all.iter().zip(states).filter_map(own).collect();
        Borders { patterns, near }
    }

    /// Whether truths rest on an answer that is settled to be off.
    #[must_use]
    pub fn rests_on_off(&self, truths: &[&Formula], settled: &Settled) -> bool {
        let questions = Questions::of(truths.iter().map(|formula| &formula.node));
        questions.all.iter().any(|question| settled.is_off(self, &question.basis) == Some(true))
    }

    /// The patterns of several findings or groups, each by its truths: every combination of what each can
    /// show, one after the other, with its weight. That is the probability of the combination under the
    /// joint of the answers, over how many patterns of its parts make each compound what it is.
    #[must_use]
    pub fn together(
        &self,
        units: &[&[&Formula]],
        settled: &Settled,
    ) -> Option<Vec<(Vec<bool>, f64)>> {
        let formulas: Vec<&Formula> = units.iter().flat_map(|unit| unit.iter().copied()).collect();
        let asking = Asking::new(self, &formulas);
        let known = asking.states(self, settled)?;
        let count = known.iter().try_fold(1_usize, |count, own| count.checked_mul(own.count()))?;
        if count > MAX_PATTERNS {
            return None;
        }
        let drawn = self.drawn(&asking, &known);
        let states: Vec<Option<States>> = known.into_iter().map(Some).collect();
        let mut sums: HashMap<Vec<bool>, f64> = HashMap::new();
        for (pattern, probability) in patterns_of(&states, drawn.as_ref()) {
            let pattern = InPattern {
                model: &self.model,
                questions: &asking.questions,
                states: &states,
                pattern: &pattern,
            };
            let truths = formulas.iter().map(|formula| truth(&pattern, &formula.node).ok());
            *sums.entry(truths.collect::<Option<_>>()?).or_default() += probability;
        }
        self.combined(units, &sums, settled)
    }

    /// Every combination of what each unit can show.
    fn combined(
        &self,
        units: &[&[&Formula]],
        sums: &HashMap<Vec<bool>, f64>,
        settled: &Settled,
    ) -> Option<Vec<(Vec<bool>, f64)>> {
        let mut all: Vec<(Vec<bool>, f64)> = vec![(Vec::new(), 1.0)];
        let mut from = 0;
        for unit in units {
            let place = from..from + unit.len();
            from = place.end;
            let mut shown: Vec<(Vec<bool>, f64)> = match unit {
                [formula] => {
                    let (yes, no) = self.counts(formula, settled)?;
                    vec![(vec![true], yes), (vec![false], no)]
                }
                _ => sums.keys().map(|truths| (truths[place.clone()].to_vec(), 1.0)).collect(),
            };
            shown.sort_by(|a, b| b.0.cmp(&a.0));
            shown.dedup_by(|a, b| a.0 == b.0);
            let longer = all.iter().flat_map(|(truths, count)| {
                let own = shown.iter();
                own.map(move |(own, more)| ([truths.as_slice(), own].concat(), count * more))
            });
            all = longer.collect();
        }
        for (truths, weight) in &mut all {
            *weight = sums.get(truths).copied().unwrap_or(0.0) / weight.max(1.0);
        }
        Some(all)
    }

    /// By how many patterns of its parts a compound is true, and false; 1 of a truth on one thing.
    fn counts(&self, formula: &Formula, settled: &Settled) -> Option<(f64, f64)> {
        if single_basis(&formula.node).is_some() {
            return Some((1.0, 1.0));
        }
        self.pattern_counts(formula, settled)
    }

    /// How often each pattern of stretches occurs at the draws that readings have taught, where any
    /// expression rests on these; a half is added to each, since what was never drawn may yet be.
    fn drawn(&self, asking: &Asking<'_>, states: &[States]) -> Option<HashMap<Vec<usize>, f64>> {
        let mut columns: Vec<(&Axis, f64, f64, Vec<Option<f64>>)> = Vec::new();
        let mut is_taught = false;
        for (question, own) in asking.questions.all.iter().zip(states) {
            let (Some(axis), Basis::Expression(node)) = (&own.axis, &question.basis) else {
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

impl Axis {
    /// Whether no stretch holds all but [`MINOR`] of the band.
    fn is_near(&self) -> bool {
        let shares = self.edges.windows(2).map(|pair| super::normal::between(pair[0], pair[1]));
        shares.fold(0.0, f64::max) < 1.0 - MINOR
    }
}
