//! The network, the belief and the evidence put together, and cut into parts that are independent of
//! each other.
//!
//! A cause becomes a variable whose states say how long it was there: never, until the repair after
//! some round, or still. Evidence that only weighs single causes (everything seen to be false, and
//! findings with one cause left) is folded into the variables; what remains ties causes together, and
//! the parts are the connected components of that.

use std::ops::Range;

use crate::ranking::model::belief::Belief;
use crate::ranking::model::factor::Factor;
use crate::ranking::model::network::Network;
use crate::ranking::refusal::FactorAt;

/// How long a cause was there: in all rounds before `leaves`; 0 is never.
#[derive(Debug, Clone, Copy)]
pub(in crate::ranking) struct State {
    pub(in crate::ranking) leaves: usize,
    /// Not normalised; 0 where ruled out.
    pub(in crate::ranking) weight: f64,
}

/// A cause and its states; the first of them is "never there".
#[derive(Debug, Clone)]
pub(in crate::ranking) struct Variable {
    pub(in crate::ranking) cause: usize,
    pub(in crate::ranking) states: Vec<State>,
}

/// A link as seen from the variable: a finding's chance of being false is multiplied by `keep` in the
/// rounds the cause was there.
#[derive(Debug, Clone, Copy)]
pub(in crate::ranking) struct Touch {
    pub(in crate::ranking) spot: usize,
    pub(in crate::ranking) round: usize,
    pub(in crate::ranking) keep: f64,
}

/// A factor that ties causes together. Its findings have their places ("spots") in the part's list.
#[derive(Debug, Clone)]
pub(in crate::ranking) struct Clue {
    pub(in crate::ranking) spots: Range<usize>,
    pub(in crate::ranking) round: usize,
    factor: Factor,
    largest: f64,
}

impl Clue {
    /// Its value, scaled to at most 1, where each spot of the part is false with the chance given.
    pub(in crate::ranking) fn value(&self, chance_no: &[f64]) -> f64 {
        chance_no.get(self.spots.clone()).map_or(0.0, |own| self.value_at(own))
    }

    /// The same, given the chances of its own spots only.
    pub(in crate::ranking) fn value_at(&self, own: &[f64]) -> f64 {
        self.factor.value(own) / self.largest
    }

    /// Whether it can have a value with some of the causes there that take the chance of each of its
    /// spots being false from `now` down to `all`.
    pub(in crate::ranking) fn can_fit(&self, now: &[f64], all: &[f64]) -> bool {
        match &self.factor {
            Factor::Single { yes, no, .. } => {
                let can_be =
                    |now: f64, all: f64| (*yes > 0.0 && all < 1.0) || (*no > 0.0 && now > 0.0);
                now.iter().zip(all).all(|(now, all)| can_be(*now, *all))
            }
            Factor::Group { patterns, .. } => patterns.iter().any(|pattern| {
                let mut spots = pattern.truths.iter().zip(now.iter().zip(all));
                pattern.weight > 0.0
                    && spots.all(|(truth, (now, all))| if *truth { *all < 1.0 } else { *now > 0.0 })
            }),
        }
    }

    /// The scaled weights of a factor on one finding, for true and for false; none for a group.
    pub(in crate::ranking) fn single(&self) -> Option<(f64, f64)> {
        match self.factor {
            Factor::Single { yes, no, .. } => Some((yes / self.largest, no / self.largest)),
            Factor::Group { .. } => None,
        }
    }
}

/// Causes that evidence ties together, and that evidence.
#[derive(Debug, Clone, Default)]
pub(in crate::ranking) struct Part {
    pub(in crate::ranking) variables: Vec<Variable>,
    pub(in crate::ranking) clues: Vec<Clue>,
    /// Chance of each spot being false with no cause there.
    pub(in crate::ranking) quiet: Vec<f64>,
    /// What each variable touches, in the order of the variables.
    pub(in crate::ranking) touches: Vec<Vec<Touch>>,
    /// The clues each variable has a say in.
    pub(in crate::ranking) clues_of: Vec<Vec<usize>>,
}

/// A factor while it is being folded: the findings as `(quiet, links)` over causes.
struct Loose<'a> {
    at: FactorAt,
    factor: &'a Factor,
    findings: Vec<(f64, Vec<(usize, f64)>)>,
}

/// The parts, or nothing where a factor is impossible by itself or leaves a cause no state.
pub(in crate::ranking) fn parts(
    network: &Network,
    evidence: &[(FactorAt, &Factor)],
    belief: &Belief,
) -> Option<Vec<Part>> {
    let mut variables: Vec<Variable> = network
        .priors()
        .iter()
        .enumerate()
        .map(|(cause, prior)| variable(cause, *prior, belief))
        .collect();
    let mut loose: Vec<Loose<'_>> =
        evidence.iter().map(|(at, factor)| loosen(network, *at, factor)).collect();
    loose.sort_by_key(|l| !weighs_alone(l.factor));
    let mut ties = Vec::new();
    for mut one in loose {
        if weighs_alone(one.factor) {
            fold_false(&mut variables, &one)?;
            continue;
        }
        if one.factor.largest_weight() <= 0.0 {
            return None;
        }
        for (_, links) in &mut one.findings {
            links.retain(|(cause, _)| can_be_there(&variables, *cause, one.at.round));
        }
        let causes = linked(&one);
        match causes.as_slice() {
            [] => fold_constant(&one)?,
            [cause] => fold_one(variables.get_mut(*cause)?, &one),
            _ => ties.push(one),
        }
    }
    for variable in &mut variables {
        scale(variable)?;
    }
    Some(cut(variables, ties))
}

/// The states of a cause over the rounds of a belief.
fn variable(cause: usize, prior: f64, belief: &Belief) -> Variable {
    let mut states = vec![State { leaves: 0, weight: 1.0 - prior }];
    let mut left = prior;
    for (round, past) in belief.past().iter().enumerate() {
        if past.mended.binary_search(&cause).is_ok() && past.succeeds > 0.0 {
            states.push(State { leaves: round + 1, weight: left * past.succeeds });
            left *= 1.0 - past.succeeds;
        }
    }
    states.push(State { leaves: belief.rounds() + 1, weight: left });
    Variable { cause, states }
}

fn loosen<'a>(network: &Network, at: FactorAt, factor: &'a Factor) -> Loose<'a> {
    let findings = factor
        .findings()
        .iter()
        .filter_map(|index| network.findings().get(*index))
        .map(|finding| {
            let links = finding
                .links
                .iter()
                .filter(|l| l.strength > 0.0)
                .map(|l| (l.cause, l.strength))
                .collect();
            (1.0 - finding.leak, links)
        })
        .collect();
    Loose { at, factor, findings }
}

/// A finding seen to be false weighs each of its causes by itself.
fn weighs_alone(factor: &Factor) -> bool {
    matches!(factor, Factor::Single { yes, no, .. } if *yes == 0.0 && *no > 0.0)
}

fn fold_false(variables: &mut [Variable], one: &Loose<'_>) -> Option<()> {
    for (quiet, links) in &one.findings {
        if *quiet <= 0.0 {
            return None;
        }
        for (cause, strength) in links {
            for state in
                variables.get_mut(*cause)?.states.iter_mut().filter(|s| one.at.round < s.leaves)
            {
                state.weight *= 1.0 - strength;
            }
        }
    }
    Some(())
}

fn fold_constant(one: &Loose<'_>) -> Option<()> {
    let quiet: Vec<f64> = one.findings.iter().map(|(quiet, _)| *quiet).collect();
    (one.factor.value(&quiet) > 0.0).then_some(())
}

fn fold_one(variable: &mut Variable, one: &Loose<'_>) {
    for state in &mut variable.states {
        let there = one.at.round < state.leaves;
        let chance_no: Vec<f64> = one
            .findings
            .iter()
            .map(|(quiet, links)| match links.first() {
                Some((_, strength)) if there => quiet * (1.0 - strength),
                _ => *quiet,
            })
            .collect();
        state.weight *= one.factor.value(&chance_no) / one.factor.largest_weight();
    }
}

fn can_be_there(variables: &[Variable], cause: usize, round: usize) -> bool {
    variables
        .get(cause)
        .is_some_and(|v| v.states.iter().any(|s| round < s.leaves && s.weight > 0.0))
}

fn linked(one: &Loose<'_>) -> Vec<usize> {
    let mut causes: Vec<usize> =
        one.findings.iter().flat_map(|(_, links)| links.iter().map(|l| l.0)).collect();
    causes.sort_unstable();
    causes.dedup();
    causes
}

/// Scales the states of a variable to sum 1; nothing where none is left.
fn scale(variable: &mut Variable) -> Option<()> {
    let total: f64 = variable.states.iter().map(|s| s.weight).sum();
    if total <= 0.0 {
        return None;
    }
    variable.states.iter_mut().for_each(|s| s.weight /= total);
    Some(())
}

/// Cuts the variables into connected components of the ties.
fn cut(variables: Vec<Variable>, ties: Vec<Loose<'_>>) -> Vec<Part> {
    let mut leader: Vec<usize> = (0..variables.len()).collect();
    for tie in &ties {
        let causes = linked(tie);
        for pair in causes.windows(2) {
            if let [a, b] = pair {
                let (a, b) = (root(&leader, *a), root(&leader, *b));
                if let Some(slot) = leader.get_mut(a.max(b)) {
                    *slot = a.min(b);
                }
            }
        }
    }
    let mut part_of = vec![usize::MAX; variables.len()];
    let mut place = vec![0; variables.len()];
    let mut parts: Vec<Part> = Vec::new();
    for variable in variables {
        let cause = variable.cause;
        let head = root(&leader, cause);
        if head == cause {
            part_of[cause] = parts.len();
            parts.push(Part::default());
        }
        part_of[cause] = part_of[head];
        let part = &mut parts[part_of[cause]];
        place[cause] = part.variables.len();
        part.variables.push(variable);
        part.touches.push(Vec::new());
        part.clues_of.push(Vec::new());
    }
    for tie in ties {
        if let Some(first) = linked(&tie).first() {
            parts[part_of[*first]].add(&tie, &place);
        }
    }
    parts
}

fn root(leader: &[usize], mut at: usize) -> usize {
    while let Some(next) = leader.get(at).filter(|next| **next != at) {
        at = *next;
    }
    at
}

impl Part {
    fn add(&mut self, tie: &Loose<'_>, place: &[usize]) {
        let first_spot = self.quiet.len();
        for (quiet, links) in &tie.findings {
            let spot = self.quiet.len();
            self.quiet.push(*quiet);
            for (cause, strength) in links {
                self.touches[place[*cause]].push(Touch {
                    spot,
                    round: tie.at.round,
                    keep: 1.0 - strength,
                });
            }
        }
        for cause in linked(tie) {
            self.clues_of[place[cause]].push(self.clues.len());
        }
        self.clues.push(Clue {
            spots: first_spot..self.quiet.len(),
            round: tie.at.round,
            factor: tie.factor.clone(),
            largest: tie.factor.largest_weight(),
        });
    }

    /// How many assignments of states there are; `None` beyond what can be counted.
    pub(in crate::ranking) fn assignments(&self) -> Option<usize> {
        self.variables.iter().try_fold(1_usize, |count, v| count.checked_mul(v.states.len()))
    }
}
