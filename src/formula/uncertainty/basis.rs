//! What a truth rests on: a yes-or-no answer, a choice, an expression held against fixed limits; and
//! what the truth asks of each.

use super::chance::difference;
use crate::formula::check::{Node, VarId};
use crate::formula::syntax::Comparison;

/// The one thing that a truth rests on; truths on the same one exclude one another.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    Answer(VarId),
    Choice(VarId),
    /// An expression that is only held against fixed limits.
    Expression(Node),
    /// A reading held against what it should be without a cause and with one or another; the error is
    /// one standard uncertainty, SI.
    Reading {
        reading: VarId,
        without: Node,
        good_to: f64,
    },
}

impl Basis {
    /// What an atom of a truth rests on, and what it asks of that.
    fn of(atom: &Node) -> Option<(Self, Asked)> {
        match atom {
            Node::Answered(variable) => Some((Self::Answer(*variable), Asked::Yes)),
            Node::Chosen { variable, option } => {
                Some((Self::Choice(*variable), Asked::Option(*option)))
            }
            Node::Compared { operator, left, right } => {
                let (expression, limit) = against(*operator, left, right);
                Some((Self::Expression(expression), Asked::Limit(limit)))
            }
            Node::ReadsAs { reading, with, without, good_to } => {
                let without = without.alone().node;
                let basis = Self::Reading { reading: *reading, without, good_to: *good_to };
                Some((basis, Asked::As((**with).clone())))
            }
            _ => None,
        }
    }

    /// Whether it is a number that was read, which tells nothing where that is off.
    #[must_use]
    pub fn is_read(&self) -> bool {
        matches!(self, Self::Expression(_) | Self::Reading { .. })
    }
}

/// What is asked of a basis.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Asked {
    Yes,
    Option(usize),
    Limit(Limit),
    /// Of a reading: what it should be with a cause.
    As(Node),
}

/// A comparison with a fixed limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Limit {
    pub(crate) operator: Comparison,
    pub(crate) at: f64,
}

impl Limit {
    pub(crate) fn holds(self, value: f64) -> bool {
        self.operator.holds(value - self.at)
    }
}

/// A basis with everything that is asked of it.
pub(crate) struct Question {
    pub(crate) basis: Basis,
    pub(crate) asked: Vec<Asked>,
}

/// The bases of some truths, and what stands for each of their atoms.
pub(crate) struct Questions<'a> {
    pub(crate) all: Vec<Question>,
    /// Atoms are known by where they stand in their trees.
    atoms: Vec<(&'a Node, Place)>,
}

/// Where an atom's truth is found: the n-th thing asked of a basis.
#[derive(Clone, Copy)]
pub(crate) struct Place {
    pub(crate) question: usize,
    pub(crate) asked: usize,
}

impl<'a> Questions<'a> {
    pub(crate) fn of(truths: impl IntoIterator<Item = &'a Node>) -> Self {
        let mut found = Self { all: Vec::new(), atoms: Vec::new() };
        for truth in truths {
            found.gather(truth);
        }
        found
    }

    fn gather(&mut self, node: &'a Node) {
        let Some((basis, asked)) = Basis::of(node) else {
            // What stands inside a comparison or another number is no atom of the truth.
            node.each_part(&mut |part| self.gather(part));
            return;
        };
        let known = self.all.iter().position(|question| question.basis == basis);
        let question = known.unwrap_or_else(|| {
            self.all.push(Question { basis, asked: Vec::new() });
            self.all.len() - 1
        });
        let list = &mut self.all[question].asked;
        list.push(asked);
        self.atoms.push((node, Place { question, asked: list.len() - 1 }));
    }

    /// Where an atom of one of the truths is found.
    pub(crate) fn place(&self, atom: &Node) -> Option<Place> {
        self.atoms.iter().find(|(known, _)| std::ptr::eq(*known, atom)).map(|(_, place)| *place)
    }
}

/// The basis of a truth, if it is just one.
#[must_use]
pub fn single_basis(node: &Node) -> Option<Basis> {
    let mut found: Option<Basis> = None;
    let mut mixed = false;
    walk_truth(node, &mut |part| {
        mixed |= matches!(part, Node::Known(_));
        if let Some((basis, _)) = Basis::of(part) {
            match &found {
                None => found = Some(basis),
                Some(known) => mixed |= *known != basis,
            }
        }
    });
    if mixed { None } else { found }
}

/// This piece and all below it, but for what a reading should be: that is no truth.
fn walk_truth<'a>(node: &'a Node, visit: &mut dyn FnMut(&'a Node)) {
    visit(node);
    if !matches!(node, Node::ReadsAs { .. }) {
        node.each_part(&mut |part| walk_truth(part, visit));
    }
}

/// A comparison as an expression held against a fixed limit; where neither side is fixed, the
/// difference of the two against 0.
pub(crate) fn against(operator: Comparison, left: &Node, right: &Node) -> (Node, Limit) {
    if let Some(at) = right.fixed() {
        return (left.clone(), Limit { operator, at });
    }
    if let Some(at) = left.fixed() {
        return (right.clone(), Limit { operator: operator.flipped(), at });
    }
    (difference(left, right), Limit { operator, at: 0.0 })
}
