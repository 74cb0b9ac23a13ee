//! The likeliest sets of a component too large to list whole, by best-first search (Russell & Norvig,
//! *Artificial Intelligence: A Modern Approach*, §3.5).
//!
//! From the empty set on, always on from the best set met so far, one more cause at a time; causes are
//! added in a fixed order, the likely ones first, so that no set is met twice. How much this leaves out
//! is not the search's to say: `solve` holds the sum of what was found against the sum over all sets.

use super::component::Component;
use super::priority_queue::PriorityQueue;
use super::weighted_sets::{Member, WeightedSetsBuilder};

/// Least value of a factor for choosing where to look on: a set that leaves some evidence wholly
/// unexplained must lead on to one that explains it.
const PRIORITY_FLOOR: f64 = 1e-6;

/// Logarithm of the share of the sum below which a set is not worth a place in the list.
const NEGLIGIBLE: f64 = -32.0;

/// Share of the sum after which the search stops. Probabilities count every set all the same; the list
/// only serves likely sets and the value of questions, to a fraction of a thousandth.
const ENOUGH: f64 = 1.0 - 1e-4;

/// Most sets to weigh.
const MAX_SETS: usize = 12_000;

/// Lists the best sets; `states` are the probabilities of each variable's states, `log_total` the
/// logarithm of the sum over all sets, or near them.
pub(super) fn best_sets(
    component: &Component,
    states: &[Vec<f64>],
    log_total: f64,
) -> WeightedSetsBuilder {
    let mut search = Search::new(component, states, log_total);
    search.run();
    search.sets()
}

/// One more cause, in a state other than "never present", on top of the set of another node.
struct Node {
    parent: usize,
    /// Place of the variable in the order of the search.
    place: usize,
    state: usize,
    priority: f64,
    weight: Weight,
}

/// The node of the empty set; it adds no cause.
const ROOT: usize = 0;

/// Logarithm of a product that may have factors of 0.
#[derive(Clone, Copy)]
struct Weight {
    log: f64,
    zeros: u32,
}

impl Weight {
    /// The product with one factor changed from `old` to `new`.
    fn change(self, old: f64, new: f64) -> Self {
        let log = |value: f64| if value > 0.0 { value.ln() } else { 0.0 };
        let zeros = self.zeros + u32::from(new <= 0.0) - u32::from(old <= 0.0);
        Self { log: self.log + log(new) - log(old), zeros }
    }

    fn log(self) -> f64 {
        if self.zeros == 0 { self.log } else { f64::NEG_INFINITY }
    }
}

struct Search<'a> {
    component: &'a Component,
    log_total: f64,
    /// Variables, the likeliest to have been present first.
    order: Vec<usize>,
    nodes: Vec<Node>,
    queue: PriorityQueue<usize>,
    /// Sum over the nodes so far, as a share of the total.
    share: f64,
    /// The findings' probabilities of being false with the set that is being expanded.
    p_false: Vec<f64>,
    /// The values of its factors.
    values: Vec<f64>,
    /// Overwritten probabilities, to be put back.
    undo: Vec<(usize, f64)>,
}

impl<'a> Search<'a> {
    fn new(component: &'a Component, states: &[Vec<f64>], log_total: f64) -> Self {
        let never = |variable: &usize| states[*variable].first().copied().unwrap_or(0.0);
        let mut order: Vec<usize> = (0..component.variables.len()).collect();
        order.sort_by(|a, b| never(a).total_cmp(&never(b)));
        Self {
            component,
            log_total,
            order,
            nodes: Vec::new(),
            queue: PriorityQueue::new(),
            share: 0.0,
            p_false: Vec::new(),
            values: Vec::new(),
            undo: Vec::new(),
        }
    }

    fn run(&mut self) {
        self.evaluate(ROOT);
        let priors = self.component.variables.iter().map(|variable| variable.states[0].weight);
        let (mut priority, mut weight) = (0.0, Weight { log: 0.0, zeros: 0 });
        for factor in priors.chain(self.values.iter().copied()) {
            priority += factor.max(PRIORITY_FLOOR).ln();
            weight = weight.change(1.0, factor);
        }
        self.add(Node { parent: ROOT, place: 0, state: 0, priority, weight });
        while let Some(node) = self.queue.pop() {
            if self.share >= ENOUGH || self.nodes.len() >= MAX_SETS {
                break;
            }
            self.expand(node);
        }
    }

    fn add(&mut self, node: Node) {
        self.share += (node.weight.log() - self.log_total).exp();
        self.queue.push(node.priority, self.nodes.len());
        self.nodes.push(node);
    }

    fn expand(&mut self, parent: usize) {
        self.evaluate(parent);
        let Node { place, weight, priority, .. } = self.nodes[parent];
        let first = if parent == ROOT { 0 } else { place + 1 };
        for place in first..self.order.len() {
            let variable = self.order[place];
            for state in 1..self.component.variables[variable].states.len() {
                let (weight, gain) = self.with(variable, state, weight);
                let priority = priority + gain;
                if gain > 0.0 || priority > self.log_total + NEGLIGIBLE {
                    self.add(Node { parent, place, state, priority, weight });
                }
            }
        }
    }

    /// The weight with one variable away from "never present", and what this adds to the priority.
    fn with(&mut self, variable: usize, state: usize, from: Weight) -> (Weight, f64) {
        let component = self.component;
        let states = &component.variables[variable].states;
        let (never, present) = (states[0].weight, states[state]);
        let mut weight = from.change(never, present.weight);
        if !present.is_possible() {
            return (weight, f64::NEG_INFINITY);
        }
        for link in component.active_links(variable, present) {
            self.undo.push((link.finding, self.p_false[link.finding]));
            self.p_false[link.finding] *= link.inhibition;
        }
        let mut ratio = present.weight / never.max(PRIORITY_FLOOR);
        for factor in &component.factors_of[variable] {
            let (old, new) =
                (self.values[*factor], component.factors[*factor].value(&self.p_false));
            ratio *= new.max(PRIORITY_FLOOR) / old.max(PRIORITY_FLOOR);
            weight = weight.change(old, new);
        }
        for (finding, p_false) in self.undo.drain(..).rev() {
            self.p_false[finding] = p_false;
        }
        (weight, ratio.ln())
    }

    /// Works out the findings and the factors for the set of a node.
    fn evaluate(&mut self, node: usize) {
        self.p_false.clone_from(&self.component.p_false_by_leak);
        for (variable, state) in chain(&self.nodes, &self.order, node) {
            let state = self.component.variables[variable].states[state];
            for link in self.component.active_links(variable, state) {
                self.p_false[link.finding] *= link.inhibition;
            }
        }
        let factors = self.component.factors.iter();
        self.values = factors.map(|factor| factor.value(&self.p_false)).collect();
    }

    fn sets(&self) -> WeightedSetsBuilder {
        let mut sets = WeightedSetsBuilder::default();
        for (index, node) in self.nodes.iter().enumerate() {
            let variables = chain(&self.nodes, &self.order, index);
            let members = variables.filter_map(|(variable, state)| {
                let variable = &self.component.variables[variable];
                Member::of(variable, variable.states[state])
            });
            sets.push(members, node.weight.log());
        }
        sets
    }
}

/// The variables away from "never present" in the set of a node, with their states.
fn chain(nodes: &[Node], order: &[usize], node: usize) -> impl Iterator<Item = (usize, usize)> {
    let mut next = node;
    std::iter::from_fn(move || {
        let node = nodes.get(next).filter(|_| next != ROOT)?;
        next = node.parent;
        Some((*order.get(node.place)?, node.state))
    })
}
