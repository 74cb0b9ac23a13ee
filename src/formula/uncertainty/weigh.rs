//! How strongly what is known speaks for a truth and against it: comparisons of uncertain values,
//! answers that are sometimes wrong, and compounds of these.
//!
//! A truth rests on variables: a yes-or-no answer, a choice, an expression held against fixed
//! limits. Each variable has the states it can be in (yes and no; the options; the stretches
//! between the limits) and each state its probability. A single variable weighs by its
//! probabilities. In a compound each side weighs by the mean probability of the patterns that
//! make it, so that no information gives no weight.

use std::collections::HashMap;

use super::joint::{Axis, joint};
use super::normal::between;
use crate::formula::check::node::{Formula, Node, VarId};
use crate::formula::evaluate::point::{EvalError, Values};
use crate::formula::evaluate::sheet::{Estimate, Evaluator, InputValue, Piece};
use crate::formula::syntax::expression::{Arithmetic, Comparison};
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
    /// The probability that it hangs on a part that is not known.
    pub unknown: f64,
}

impl Weight {
    /// The probability that it is true; none where it most likely hangs on a part that is not known.
    #[must_use]
    pub fn decided(&self) -> Option<f64> {
        (self.unknown <= 0.5).then_some(self.probability)
    }
}

/// The one thing that a truth rests on; truths on the same one exclude one another.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    Answer(VarId),
    Choice(VarId),
    /// An expression that is only held against fixed limits.
    Expression(Node),
}

/// A comparison with a fixed limit.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Limit {
    operator: Comparison,
    at: f64,
}

/// A truth as a tree over atoms.
enum Tree {
    Fixed(bool),
    Unknown,
    /// The n-th atom of a variable.
    Atom {
        variable: usize,
        atom: usize,
    },
    And(Box<Tree>, Box<Tree>),
    Or(Box<Tree>, Box<Tree>),
    Not(Box<Tree>),
    Iff(Box<Tree>, Box<Tree>),
    IfElse(Box<Tree>, Box<Tree>, Box<Tree>),
}

/// What is asked of a variable.
enum Atom {
    Yes,
    Option(usize),
    Limit(Limit),
}

struct Question {
    variable: Basis,
    atoms: Vec<Atom>,
}

/// The states that a variable can be in: which of its atoms hold, and how probable.
#[derive(Debug, Clone)]
struct States {
    truths: Vec<Vec<bool>>,
    probabilities: Vec<f64>,
    /// An uncertain expression: its band, and the stretch of each state, for a joint with others.
    axis: Option<Axis>,
    /// How often the readings below an expression are no slip, 0 to 1; allowed for in its
    /// probabilities, but not in its axis. 1 for all else.
    sure: f64,
}

impl Default for States {
    fn default() -> Self {
        Self { truths: Vec::new(), probabilities: Vec::new(), axis: None, sure: 1.0 }
    }
}

impl States {
    fn count(&self) -> usize {
        self.truths.len()
    }

    /// Adds a state. Options that no atom tells apart are one: a part of a compound holds or it
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
}

impl Evaluator<'_> {
    /// What is known about a truth; none where it can't be told.
    #[must_use]
    pub fn weigh(&self, formula: &Formula) -> Option<Weight> {
        let (sums, single) = self.sums(formula)?;
        sums.weight(single)
    }

    /// The probability of a truth whose every part must be told.
    ///
    /// # Errors
    /// [`EvalError`] where a part that matters is not known or refused.
    pub fn chance(&self, formula: &Formula) -> Result<f64, EvalError> {
        match self.sums(formula) {
            Some((sums, _)) if sums.unknown <= IMPOSSIBLE => Ok(sums.yes.clamp(0.0, 1.0)),
            Some(_) => Err(self.first_gap(formula)),
            None => {
                let reason = "it joins more comparisons than can be looked at together";
                Err(EvalError::Refused(Refusal::new("result", reason)))
            }
        }
    }

    /// Why a part of a truth can't be told: the first reason found, a refusal before the rest.
    fn first_gap(&self, formula: &Formula) -> EvalError {
        let chances = self.chances(formula);
        let mut found = EvalError::Unknown;
        formula.node.walk(&mut |part| {
            if found == EvalError::Unknown
                && let Node::Compared { operator, left, right } = part
            {
                let (expression, _) = against(*operator, left, right);
                let piece = Piece { formula, node: &expression };
                if let Err(gap) = self.piece(piece, &chances) {
                    found = gap;
                }
            }
        });
        found
    }

    /// The patterns of a truth, summed; and whether it rests on one variable alone. None where
    /// there are too many.
    fn sums(&self, formula: &Formula) -> Option<(Sums, bool)> {
        let mut questions = Vec::new();
        let tree = tree(self, &formula.node, &mut questions);
        let chances = self.chances(formula);
        let mut states = Vec::with_capacity(questions.len());
        let mut patterns = 1_usize;
        for question in &questions {
            let found = self.states(formula, &chances, question);
            patterns = patterns.checked_mul(found.as_ref().map_or(1, States::count))?;
            // Said before the rest is worked out for nothing.
            if patterns > MAX_PATTERNS {
                return None;
            }
            states.push(found);
        }
        let patterns = self.patterns_of(&states);
        Some((Sums::over(&tree, &states, &patterns), questions.len() == 1))
    }

    /// Patterns over several truths that rest on one and the same variable: which of them hold
    /// together, and how probable. Patterns that can occur but have no probability are listed
    /// too. None where the variable is not known.
    #[must_use]
    pub fn patterns(&self, formulas: &[&Formula]) -> Option<Vec<(Vec<bool>, f64)>> {
        let mut questions = Vec::new();
        let trees: Vec<Tree> =
            formulas.iter().map(|formula| tree(self, &formula.node, &mut questions)).collect();
        let ([question], Some(first)) = (questions.as_slice(), formulas.first()) else {
            return None;
        };
        let states = self.states(first, &self.chances(first), question)?;
        let probabilities = states.probabilities.clone();
        let all = [Some(states)];
        let mut found: Vec<(Vec<bool>, f64)> = Vec::new();
        for (state, probability) in probabilities.into_iter().enumerate() {
            let truths: Option<Vec<bool>> =
                trees.iter().map(|tree| tree.truth(&all, &[state])).collect();
            let truths = truths?;
            match found.iter_mut().find(|(known, _)| *known == truths) {
                Some((_, sum)) => *sum += probability,
                None => found.push((truths, probability)),
            }
        }
        Some(found)
    }

    /// The patterns of several truths that could occur, whatever the answers: of the options of one
    /// choice, or the stretches of one expression. None where they rest on anything else.
    #[must_use]
    pub fn possible_patterns(&self, formulas: &[&Formula]) -> Option<Vec<Vec<bool>>> {
        let mut questions = Vec::new();
        let trees: Vec<Tree> =
            formulas.iter().map(|formula| tree(self, &formula.node, &mut questions)).collect();
        let [question] = questions.as_slice() else { return None };
        let truths = match &question.variable {
            Basis::Answer(_) => return None,
            Basis::Choice(slot) => option_truths(self.options(*slot), &question.atoms),
            Basis::Expression(_) => stretch_truths(&limits_of(&question.atoms)).1,
        };
        let count = truths.len();
        let states = [Some(States { truths, ..States::default() })];
        let mut found: Vec<Vec<bool>> = Vec::new();
        for state in 0..count {
            let truths: Option<Vec<bool>> =
                trees.iter().map(|tree| tree.truth(&states, &[state])).collect();
            let truths = truths?;
            if !found.contains(&truths) {
                found.push(truths);
            }
        }
        Some(found)
    }

    /// The states of a variable, each with its probability; none where nothing is known.
    fn states(
        &self,
        formula: &Formula,
        chances: &[Result<f64, EvalError>],
        question: &Question,
    ) -> Option<States> {
        match &question.variable {
            Basis::Answer(slot) => {
                let (entry, sure) = self.answered(*slot)?;
                let InputValue::Bool(answer) = entry else { return None };
                let yes = if *answer { sure } else { 1.0 - sure };
                Some(States {
                    truths: vec![
                        vec![true; question.atoms.len()],
                        vec![false; question.atoms.len()],
                    ],
                    probabilities: vec![yes, 1.0 - yes],
                    ..States::default()
                })
            }
            Basis::Choice(slot) => {
                let (entry, sure) = self.answered(*slot)?;
                let InputValue::Option(chosen) = entry else { return None };
                let options = self.options(*slot).max(chosen + 1);
                #[expect(clippy::cast_precision_loss, reason = "a handful of options")]
                let others = (options - 1).max(1) as f64;
                let probability = |option: usize| match (option == *chosen, options) {
                    (true, 1) => 1.0,
                    (true, _) => sure,
                    (false, _) => (1.0 - sure) / others,
                };
                let mut states = States::default();
                for (option, truths) in option_truths(options, &question.atoms).iter().enumerate() {
                    states.add(truths, probability(option));
                }
                Some(states)
            }
            Basis::Expression(node) => {
                let worked = self.piece(Piece { formula, node }, chances).ok()?;
                let read = stretches(&limits_of(&question.atoms), &worked);
                let sure = self.sure_of(node);
                let probabilities = (0..read.count())
                    .map(|state| slipped(read.probabilities[state], 1.0, read.count(), sure))
                    .collect();
                Some(States { probabilities, sure, ..read })
            }
        }
    }

    /// How often what was read for an expression is right: the least sure of its readings.
    fn sure_of(&self, node: &Node) -> f64 {
        let below = self.below(node);
        let read = below.iter().filter(|slot| self.known(**slot));
        let numbers = read.filter_map(|slot| match self.answered(*slot)? {
            (InputValue::Number { .. } | InputValue::Table(_), sure) => Some(sure),
            _ => None,
        });
        numbers.fold(1.0, f64::min)
    }

    /// The patterns of states, one state a known variable, with their joint probability.
    fn patterns_of(&self, states: &[Option<States>]) -> Vec<(Vec<usize>, f64)> {
        let sizes = states.iter().map(|states| states.as_ref().map_or(1, States::count));
        let axes: Vec<(usize, &Axis)> = states
            .iter()
            .enumerate()
            .filter_map(|(index, states)| Some((index, states.as_ref()?.axis.as_ref()?)))
            .collect();
        let along: Vec<&Axis> = axes.iter().map(|(_, axis)| *axis).collect();
        let joint = joint(&along);
        let mut found = vec![(Vec::new(), 1.0)];
        for (size, states) in sizes.zip(states) {
            let mut longer = Vec::with_capacity(found.len() * size);
            for (pattern, probability) in &found {
                for state in 0..size {
                    let own = match states {
                        Some(states) if states.axis.is_none() => states.probabilities[state],
                        _ => 1.0,
                    };
                    let mut pattern: Vec<usize> = pattern.clone();
                    pattern.push(state);
                    longer.push((pattern, probability * own));
                }
            }
            found = longer;
        }
        for (pattern, probability) in &mut found {
            let along: Vec<usize> = axes.iter().map(|(index, _)| pattern[*index]).collect();
            *probability *= joint.probability(&along);
        }
        for (index, _) in axes {
            let Some(States { sure, .. }) = &states[index] else { continue };
            if *sure < 1.0 {
                slip(&mut found, index, *sure);
            }
        }
        found
    }
}

/// The probability of a state of which its reading makes `own`, of `all` that the `count` states have
/// together: a slip shows any other state, each as often.
fn slipped(own: f64, all: f64, count: usize, sure: f64) -> f64 {
    if count < 2 {
        return own;
    }
    #[expect(clippy::cast_precision_loss, reason = "a handful of stretches")]
    let others = (count - 1) as f64;
    sure * own + (1.0 - sure) * (all - own) / others
}

/// [`slipped`] for one variable of joint patterns, whatever the others are.
fn slip(patterns: &mut [(Vec<usize>, f64)], variable: usize, sure: f64) {
    let mut alike: HashMap<Vec<usize>, Vec<usize>> = HashMap::new();
    for (place, (pattern, _)) in patterns.iter().enumerate() {
        let mut others = pattern.clone();
        others.remove(variable);
        alike.entry(others).or_default().push(place);
    }
    for places in alike.values() {
        let all: f64 = places.iter().map(|place| patterns[*place].1).sum();
        for place in places {
            patterns[*place].1 = slipped(patterns[*place].1, all, places.len(), sure);
        }
    }
}

/// The variable that a truth rests on, if it is just one.
#[must_use]
pub fn single_basis(node: &Node) -> Option<Basis> {
    let mut found: Option<Basis> = None;
    let mut mixed = false;
    node.walk(&mut |part| {
        let variable = match part {
            Node::Answered(slot) => Basis::Answer(*slot),
            Node::Chosen { slot, .. } => Basis::Choice(*slot),
            Node::Compared { operator, left, right } => {
                Basis::Expression(against(*operator, left, right).0)
            }
            Node::Known(_) => {
                mixed = true;
                return;
            }
            _ => return,
        };
        match &found {
            None => found = Some(variable),
            Some(known) => mixed |= *known != variable,
        }
    });
    if mixed { None } else { found }
}

/// A comparison as an expression held against a fixed limit; where neither side is fixed, the
/// difference of the two against 0.
fn against(operator: Comparison, left: &Node, right: &Node) -> (Node, Limit) {
    if let Some(at) = right.fixed() {
        return (left.clone(), Limit { operator, at });
    }
    if let Some(at) = left.fixed() {
        return (right.clone(), Limit { operator: operator.flipped(), at });
    }
    let difference = Node::Arithmetic {
        operator: Arithmetic::Subtract,
        left: Box::new(left.clone()),
        right: Box::new(right.clone()),
    };
    (difference, Limit { operator, at: 0.0 })
}

fn tree(sheet: &Evaluator<'_>, node: &Node, questions: &mut Vec<Question>) -> Tree {
    let mut boxed = |node: &Node| Box::new(tree(sheet, node, questions));
    match node {
        Node::Bool(truth) => Tree::Fixed(*truth),
        Node::LeftOut => Tree::Unknown,
        Node::Known(slot) => Tree::Fixed(sheet.known(*slot)),
        Node::And(left, right) => Tree::And(boxed(left), boxed(right)),
        Node::Or(left, right) => Tree::Or(boxed(left), boxed(right)),
        Node::Not(inner) => Tree::Not(boxed(inner)),
        Node::Iff { left, right } => Tree::Iff(boxed(left), boxed(right)),
        Node::IfElse { condition, then, otherwise } => {
            Tree::IfElse(boxed(condition), boxed(then), boxed(otherwise))
        }
        Node::Answered(slot) => atom(questions, Basis::Answer(*slot), Atom::Yes),
        Node::Chosen { slot, option } => {
            atom(questions, Basis::Choice(*slot), Atom::Option(*option))
        }
        Node::Compared { operator, left, right } => {
            let (expression, limit) = against(*operator, left, right);
            atom(questions, Basis::Expression(expression), Atom::Limit(limit))
        }
        // The checker lets no number stand where a truth is wanted.
        _ => Tree::Fixed(false),
    }
}

fn atom(questions: &mut Vec<Question>, variable: Basis, atom: Atom) -> Tree {
    let place =
        questions.iter().position(|known| known.variable == variable).unwrap_or_else(|| {
            questions.push(Question { variable, atoms: Vec::new() });
            questions.len() - 1
        });
    let atoms = &mut questions[place].atoms;
    atoms.push(atom);
    Tree::Atom { variable: place, atom: atoms.len() - 1 }
}

/// For each option: which atoms hold.
fn option_truths(options: usize, atoms: &[Atom]) -> Vec<Vec<bool>> {
    let holds =
        |option: usize, atom: &Atom| matches!(atom, Atom::Option(wanted) if *wanted == option);
    (0..options).map(|option| atoms.iter().map(|atom| holds(option, atom)).collect()).collect()
}

fn limits_of(atoms: &[Atom]) -> Vec<Limit> {
    atoms
        .iter()
        .filter_map(|atom| match atom {
            Atom::Limit(limit) => Some(*limit),
            _ => None,
        })
        .collect()
}

fn holding(limits: &[Limit], at: f64) -> Vec<bool> {
    limits.iter().map(|limit| limit.operator.holds(at - limit.at)).collect()
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

/// The stretches between an expression's limits.
fn stretches(limits: &[Limit], worked: &Estimate) -> States {
    let (cuts, mut truths) = stretch_truths(limits);
    let band = &worked.band;
    if band.uncertainty > 0.0 {
        let mut edges = vec![f64::NEG_INFINITY];
        edges.extend(cuts.iter().map(|cut| (cut - band.value) / band.uncertainty));
        edges.push(f64::INFINITY);
        let probabilities = edges.windows(2).map(|pair| between(pair[0], pair[1])).collect();
        let axis = Axis { edges, shares: worked.directions() };
        return States { truths, probabilities, axis: Some(axis), ..States::default() };
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
    States { truths, probabilities, ..States::default() }
}

impl Tree {
    /// Whether it holds in a pattern of states; none where that is not known.
    fn truth(&self, states: &[Option<States>], pattern: &[usize]) -> Option<bool> {
        match self {
            Self::Fixed(truth) => Some(*truth),
            Self::Unknown => None,
            Self::Atom { variable, atom } => {
                let states = states[*variable].as_ref()?;
                Some(states.truths[pattern[*variable]][*atom])
            }
            Self::Not(inner) => inner.truth(states, pattern).map(|truth| !truth),
            Self::And(left, right) => settled(left, right, states, pattern, false),
            Self::Or(left, right) => settled(left, right, states, pattern, true),
            Self::Iff(left, right) => {
                Some(left.truth(states, pattern)? == right.truth(states, pattern)?)
            }
            Self::IfElse(condition, then, otherwise) => match condition.truth(states, pattern) {
                Some(true) => then.truth(states, pattern),
                Some(false) => otherwise.truth(states, pattern),
                None => {
                    let (a, b) = (then.truth(states, pattern)?, otherwise.truth(states, pattern)?);
                    (a == b).then_some(a)
                }
            },
        }
    }
}

/// `and` is settled by a no, `or` by a yes, whatever the other side is.
fn settled(
    left: &Tree,
    right: &Tree,
    states: &[Option<States>],
    pattern: &[usize],
    by: bool,
) -> Option<bool> {
    match (left.truth(states, pattern), right.truth(states, pattern)) {
        (Some(truth), _) | (_, Some(truth)) if truth == by => Some(by),
        (Some(_), Some(_)) => Some(!by),
        _ => None,
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
    fn over(tree: &Tree, states: &[Option<States>], patterns: &[(Vec<usize>, f64)]) -> Self {
        let mut sums = Self::default();
        for (pattern, probability) in patterns {
            match tree.truth(states, pattern) {
                Some(true) => {
                    sums.yes += probability;
                    sums.yes_count += 1;
                }
                Some(false) => {
                    sums.no += probability;
                    sums.no_count += 1;
                }
                None => sums.unknown += probability,
            }
        }
        sums
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
