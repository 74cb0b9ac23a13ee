//! The best sets of a part too large to list whole.
//!
//! From the empty set outward, always on from the best set met so far, one more cause at a time; causes
//! are added in a fixed order, the likely ones first, so that no set is met twice. How much this leaves out is not the search's to say: `solve` holds the sum of what
//! was found against the sum over all sets.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::component::Part;
use super::weighted_sets::{Draft, Member};

/// The parent of the empty set.
const NONE: u32 = u32::MAX;

/// Least value of a factor for choosing where to look on: a set that leaves some evidence wholly
/// unexplained must stay a stepping stone to one that explains it.
const STEPPING_STONE: f64 = 1e-6;

/// Logarithm of the share of the sum below which a set is not worth a place in the list.
const NEGLIGIBLE: f64 = -32.0;

/// How far to look.
pub(super) struct Limits {
    /// Logarithm of the sum over all sets, or of a bound on it.
    pub(super) log_total: f64,
    /// Share of that sum after which there is enough.
    pub(super) enough: f64,
    /// Most sets to weigh.
    pub(super) most: usize,
}

/// Lists the best sets; `states` are the chances of each variable's states, as the sweep gave them or
/// near them.
pub(super) fn best_sets(part: &Part, states: &[Vec<f64>], limits: &Limits) -> Draft {
    let mut search = Search::new(part, states, limits);
    search.run();
    search.draft()
}

/// One more cause, in a state other than "never there", on top of the set of another node.
struct Node {
    parent: u32,
    place: u32,
    state: u32,
    promise: f64,
    weight: Weight,
}

/// Logarithm of a product that may have factors of 0.
#[derive(Clone, Copy)]
struct Weight {
    log: f64,
    zeros: u32,
}

/// A node to look on from, the most promising first.
struct Open {
    promise: f64,
    node: u32,
}

impl PartialEq for Open {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Open {}

impl PartialOrd for Open {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Open {
    fn cmp(&self, other: &Self) -> Ordering {
        self.promise.total_cmp(&other.promise).then_with(|| other.node.cmp(&self.node))
    }
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
    part: &'a Part,
    limits: &'a Limits,
    /// Variables, the likeliest to have been there first.
    order: Vec<usize>,
    nodes: Vec<Node>,
    heap: BinaryHeap<Open>,
    /// Sum over the nodes so far, as a share of the total.
    share: f64,
    /// The findings' chances of being false with the set that is being looked on from.
    chance_no: Vec<f64>,
    /// The values of its clues.
    values: Vec<f64>,
    /// Overwritten chances, to be put back.
    undo: Vec<(usize, f64)>,
}

impl<'a> Search<'a> {
    fn new(part: &'a Part, states: &[Vec<f64>], limits: &'a Limits) -> Self {
        let never = |variable: &usize| states[*variable].first().copied().unwrap_or(0.0);
        let mut order: Vec<usize> = (0..part.variables.len()).collect();
        order.sort_by(|a, b| never(a).total_cmp(&never(b)));
        Self {
            part,
            limits,
            order,
            nodes: Vec::new(),
            heap: BinaryHeap::new(),
            share: 0.0,
            chance_no: Vec::new(),
            values: Vec::new(),
            undo: Vec::new(),
        }
    }

    fn run(&mut self) {
        self.stand_at(NONE);
        let priors = self.part.variables.iter().map(|v| v.states[0].weight);
        let (mut promise, mut weight) = (0.0, Weight { log: 0.0, zeros: 0 });
        for factor in priors.chain(self.values.iter().copied()) {
            promise += factor.max(STEPPING_STONE).ln();
            weight = weight.change(1.0, factor);
        }
        self.add(Node { parent: NONE, place: NONE, state: 0, promise, weight });
        while let Some(open) = self.heap.pop() {
            if self.share >= self.limits.enough || self.nodes.len() >= self.limits.most {
                break;
            }
            self.look_on_from(open.node);
        }
    }

    fn add(&mut self, node: Node) {
        self.share += (node.weight.log() - self.limits.log_total).exp();
        self.heap.push(Open { promise: node.promise, node: self.nodes.len() as u32 });
        self.nodes.push(node);
    }

    fn look_on_from(&mut self, parent: u32) {
        self.stand_at(parent);
        let from = &self.nodes[parent as usize];
        let (weight, promise) = (from.weight, from.promise);
        for place in from.place.wrapping_add(1)..self.order.len() as u32 {
            let variable = self.order[place as usize];
            for state in 1..self.part.variables[variable].states.len() {
                let (weight, gain) = self.step(variable, state, weight);
                let promise = promise + gain;
                if gain > 0.0 || promise > self.limits.log_total + NEGLIGIBLE {
                    self.add(Node { parent, place, state: state as u32, promise, weight });
                }
            }
        }
    }

    /// The weight with one variable away from "never there", and what this adds to the promise.
    fn step(&mut self, variable: usize, state: usize, from: Weight) -> (Weight, f64) {
        let part = self.part;
        let states = &part.variables[variable].states;
        let (never, there) = (states[0].weight, states[state]);
        let mut weight = from.change(never, there.weight);
        if there.weight <= 0.0 {
            return (weight, f64::NEG_INFINITY);
        }
        for touch in part.touches[variable].iter().filter(|t| t.round < there.leaves) {
            self.undo.push((touch.spot, self.chance_no[touch.spot]));
            self.chance_no[touch.spot] *= touch.keep;
        }
        let mut ratio = there.weight / never.max(STEPPING_STONE);
        for clue in &part.clues_of[variable] {
            let (old, new) = (self.values[*clue], part.clues[*clue].value(&self.chance_no));
            ratio *= new.max(STEPPING_STONE) / old.max(STEPPING_STONE);
            weight = weight.change(old, new);
        }
        for (spot, chance) in self.undo.drain(..).rev() {
            self.chance_no[spot] = chance;
        }
        (weight, ratio.ln())
    }

    /// Works out the findings and the clues for the set of a node.
    fn stand_at(&mut self, node: u32) {
        self.chance_no.clone_from(&self.part.quiet);
        for (variable, state) in chain(&self.nodes, &self.order, node) {
            let leaves = self.part.variables[variable].states[state].leaves;
            for touch in self.part.touches[variable].iter().filter(|t| t.round < leaves) {
                self.chance_no[touch.spot] *= touch.keep;
            }
        }
        self.values = self.part.clues.iter().map(|clue| clue.value(&self.chance_no)).collect();
    }

    fn draft(&self) -> Draft {
        let mut draft = Draft::default();
        for (index, node) in self.nodes.iter().enumerate() {
            let members = chain(&self.nodes, &self.order, index as u32).map(|(variable, state)| {
                let variable = &self.part.variables[variable];
                Member { cause: variable.cause, leaves: variable.states[state].leaves }
            });
            draft.push(members, node.weight.log());
        }
        draft
    }
}

/// The variables away from "never there" in the set of a node, with their states.
fn chain(nodes: &[Node], order: &[usize], node: u32) -> impl Iterator<Item = (usize, usize)> {
    let mut next = node;
    std::iter::from_fn(move || {
        let node = nodes.get(next as usize)?;
        next = node.parent;
        Some((*order.get(node.place as usize)?, node.state as usize))
    })
}
