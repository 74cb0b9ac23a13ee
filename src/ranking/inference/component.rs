//! The network, the belief and the evidence put together and cut into components that are independent
//! of each other: the connected components of the graph in which evidence couples causes. Each is a
//! factor graph of its own.

use std::ops::Range;

use super::absorption::{Absorbed, LinkedFactor, absorb};
use super::variable::{State, Variable};
use crate::ranking::model::{Belief, Factor, Network};
use crate::ranking::refusal::FactorAt;

/// A link as seen from the variable: a finding's probability of being false is multiplied by the
/// inhibition if the cause was present in the round.
#[derive(Debug, Clone, Copy)]
pub(super) struct ComponentLink {
    /// Index of the finding in the component.
    pub(super) finding: usize,
    pub(super) round: usize,
    pub(super) inhibition: f64,
}

/// A factor that couples causes.
#[derive(Debug, Clone)]
pub(super) struct ComponentFactor {
    /// Indices of its findings in the component.
    pub(super) findings: Range<usize>,
    pub(super) round: usize,
    factor: Factor,
    max_weight: f64,
}

impl ComponentFactor {
    /// Its value, scaled to at most 1, where each finding of the component is false with the
    /// probability given.
    pub(super) fn value(&self, p_false: &[f64]) -> f64 {
        p_false.get(self.findings.clone()).map_or(0.0, |own| self.value_at(own))
    }

    /// The same, given the probabilities of its own findings only.
    pub(super) fn value_at(&self, own: &[f64]) -> f64 {
        self.factor.value(own) / self.max_weight
    }

    /// The terms that the value is the sum of, unscaled: one for each way in which the answers that it
    /// rests on can be right or off.
    pub(super) fn terms_at(&self, own: &[f64]) -> Vec<f64> {
        match &self.factor {
            Factor::Joint(joint) => joint.terms_at(own),
            Factor::Single { .. } | Factor::Group { .. } => Vec::new(),
        }
    }

    /// Whether it can have a value above 0 with some of the causes present that take the probability
    /// of each of its findings being false from `now` down to `all`.
    pub(super) fn can_fit(&self, now: &[f64], all: &[f64]) -> bool {
        self.factor.can_fit(now, all)
    }

    /// The scaled weights of a factor on one finding, for true and for false; none for a group.
    pub(super) fn single(&self) -> Option<(f64, f64)> {
        match self.factor {
            Factor::Single { yes, no, .. } => Some((yes / self.max_weight, no / self.max_weight)),
            Factor::Group { .. } | Factor::Joint(_) => None,
        }
    }
}

/// Causes that evidence couples, and that evidence.
#[derive(Debug, Clone, Default)]
pub(in crate::ranking) struct Component {
    pub(super) variables: Vec<Variable>,
    pub(super) factors: Vec<ComponentFactor>,
    /// Probability of each finding being false with no cause present.
    pub(super) p_false_by_leak: Vec<f64>,
    /// The links of each variable.
    pub(super) links: Vec<Vec<ComponentLink>>,
    /// The factors each variable has a say in.
    pub(super) factors_of: Vec<Vec<usize>>,
}

/// The components, or nothing where a factor is impossible by itself or leaves a cause no state.
pub(in crate::ranking) fn components(
    network: &Network,
    evidence: &[(FactorAt, &Factor)],
    belief: &Belief,
) -> Option<Vec<Component>> {
    let Absorbed { variables, couplings } = absorb(network, evidence, belief)?;
    let leaders = leaders(variables.len(), &couplings);
    // By cause: its component, and its index there.
    let mut places = vec![(usize::MAX, 0); variables.len()];
    let mut components: Vec<Component> = Vec::new();
    for variable in variables {
        let cause = variable.cause;
        // The leader is the lowest of its component and thus has its place already.
        let component = if leaders[cause] == cause {
            components.push(Component::default());
            components.len() - 1
        } else {
            places[leaders[cause]].0
        };
        places[cause] = (component, components[component].variables.len());
        components[component].add_variable(variable);
    }
    for coupling in couplings {
        if let Some(first) = coupling.causes.first() {
            components[places[*first].0].add_factor(&coupling, |cause| places[cause].1);
        }
    }
    Some(components)
}

/// For each cause the lowest one of its component (union-find).
fn leaders(causes: usize, couplings: &[LinkedFactor<'_>]) -> Vec<usize> {
    let root = |leaders: &[usize], mut at: usize| {
        while leaders[at] != at {
            at = leaders[at];
        }
        at
    };
    let mut leaders: Vec<usize> = (0..causes).collect();
    for coupling in couplings {
        for pair in coupling.causes.windows(2) {
            let (a, b) = (root(&leaders, pair[0]), root(&leaders, pair[1]));
            leaders[a.max(b)] = a.min(b);
        }
    }
    (0..causes).map(|cause| root(&leaders, cause)).collect()
}

impl Component {
    fn add_variable(&mut self, variable: Variable) {
        self.variables.push(variable);
        self.links.push(Vec::new());
        self.factors_of.push(Vec::new());
    }

    fn add_factor(&mut self, coupling: &LinkedFactor<'_>, variable_of: impl Fn(usize) -> usize) {
        let first = self.p_false_by_leak.len();
        let round = coupling.round;
        for linked in &coupling.findings {
            let finding = self.p_false_by_leak.len();
            self.p_false_by_leak.push(linked.p_false_by_leak);
            for link in &linked.links {
                let inhibition = link.inhibition();
                self.links[variable_of(link.cause)].push(ComponentLink {
                    finding,
                    round,
                    inhibition,
                });
            }
        }
        for cause in &coupling.causes {
            self.factors_of[variable_of(*cause)].push(self.factors.len());
        }
        self.factors.push(ComponentFactor {
            findings: first..self.p_false_by_leak.len(),
            round,
            factor: coupling.factor.clone(),
            max_weight: coupling.factor.max_weight(),
        });
    }

    /// The causes of the network it is about, ascending.
    pub(in crate::ranking) fn causes(&self) -> impl Iterator<Item = usize> {
        self.variables.iter().map(|variable| variable.cause)
    }

    /// The links of a variable that act in a state of it.
    pub(super) fn active_links(
        &self,
        variable: usize,
        state: State,
    ) -> impl Iterator<Item = &ComponentLink> {
        self.links[variable].iter().filter(move |link| state.is_present_in(link.round))
    }

    /// How many assignments of states there are; `None` beyond what can be counted.
    pub(super) fn assignments(&self) -> Option<usize> {
        let states = self.variables.iter().map(|variable| variable.states.len());
        states.into_iter().try_fold(1_usize, |count, states| count.checked_mul(states))
    }
}
