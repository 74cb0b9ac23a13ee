//! Evidence that bears on single causes, absorbed into their weights before any inference: a finding
//! surely false weighs each of its causes by itself, which is what makes negative findings cheap in a
//! noisy-OR (Heckerman, "A tractable inference algorithm for diagnosing multiple diseases",
//! *Uncertainty in Artificial Intelligence* 5, 1989); so does evidence with one cause left. What
//! remains couples causes.

use super::variable::Variable;
use crate::ranking::distinct::distinct;
use crate::ranking::model::{Belief, Factor, Link, Network};
use crate::ranking::refusal::FactorAt;

/// A finding with the links that are still of use.
pub(super) struct LinkedFinding {
    pub(super) p_false_by_leak: f64,
    pub(super) links: Vec<Link>,
}

/// A factor with its findings spelled out.
pub(super) struct LinkedFactor<'a> {
    pub(super) round: usize,
    pub(super) factor: &'a Factor,
    pub(super) findings: Vec<LinkedFinding>,
    /// The causes it links, ascending; known once it is pruned.
    pub(super) causes: Vec<usize>,
}

impl<'a> LinkedFactor<'a> {
    fn new(network: &Network, round: usize, factor: &'a Factor) -> Self {
        let findings = network.findings_at(factor.findings()).map(|finding| LinkedFinding {
            p_false_by_leak: finding.p_false_by_leak(),
            links: finding.links.iter().filter(|link| link.strength > 0.0).copied().collect(),
        });
        Self { round, factor, findings: findings.collect(), causes: Vec::new() }
    }

    /// Takes away the links to causes that can't have been present.
    fn prune(&mut self, variables: &[Variable]) {
        for finding in &mut self.findings {
            finding.links.retain(|link| variables[link.cause].can_be_present_in(self.round));
        }
        let links = self.findings.iter().flat_map(|finding| &finding.links);
        self.causes = distinct(links.map(|link| link.cause));
    }

    fn is_possible_by_leak(&self) -> bool {
        let p_false: Vec<f64> = self.findings.iter().map(|f| f.p_false_by_leak).collect();
        self.factor.value(&p_false) > 0.0
    }
}

/// Causes with all evidence on single ones absorbed, and the factors left, each on several causes.
pub(super) struct Absorbed<'a> {
    pub(super) variables: Vec<Variable>,
    pub(super) couplings: Vec<LinkedFactor<'a>>,
}

/// Absorbs what it can; nothing where a factor is impossible by itself or leaves a cause no state.
pub(super) fn absorb<'a>(
    network: &Network,
    evidence: &[(FactorAt, &'a Factor)],
    belief: &Belief,
) -> Option<Absorbed<'a>> {
    let priors = network.priors().iter().enumerate();
    let mut variables: Vec<Variable> =
        priors.map(|(cause, prior)| Variable::new(cause, *prior, belief)).collect();
    let (negative, others): (Vec<_>, Vec<_>) = evidence
        .iter()
        .map(|(at, factor)| LinkedFactor::new(network, at.round, factor))
        .partition(|linked| linked.factor.is_surely_false());
    for linked in &negative {
        absorb_negative(&mut variables, linked)?;
    }
    let mut couplings = Vec::new();
    for mut linked in others {
        if linked.factor.max_weight() <= 0.0 {
            return None;
        }
        linked.prune(&variables);
        match linked.causes.as_slice() {
            [] if linked.is_possible_by_leak() => {}
            [] => return None,
            [cause] => absorb_single(variables.get_mut(*cause)?, &linked),
            _ => couplings.push(linked),
        }
    }
    variables.iter_mut().try_for_each(Variable::normalise)?;
    Some(Absorbed { variables, couplings })
}

fn absorb_negative(variables: &mut [Variable], linked: &LinkedFactor<'_>) -> Option<()> {
    for finding in &linked.findings {
        if finding.p_false_by_leak <= 0.0 {
            return None;
        }
        for link in &finding.links {
            let states = variables.get_mut(link.cause)?.states.iter_mut();
            for state in states.filter(|state| state.is_present_in(linked.round)) {
                state.weight *= link.inhibition();
            }
        }
    }
    Some(())
}

fn absorb_single(variable: &mut Variable, linked: &LinkedFactor<'_>) {
    for state in &mut variable.states {
        let is_present = state.is_present_in(linked.round);
        let p_false = |finding: &LinkedFinding| match finding.links.first() {
            Some(link) if is_present => finding.p_false_by_leak * link.inhibition(),
            _ => finding.p_false_by_leak,
        };
        let p_false: Vec<f64> = linked.findings.iter().map(p_false).collect();
        state.weight *= linked.factor.value(&p_false) / linked.factor.max_weight();
    }
}
