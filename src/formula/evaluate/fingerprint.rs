//! What a piece of a formula is, as a number: its structure, and that of the formulas it reads.

use std::hash::{DefaultHasher, Hash, Hasher};

use crate::formula::check::Node;

/// The fingerprint of a piece that reads formulas with these.
pub(crate) fn fingerprint(node: &Node, read: impl Iterator<Item = u64>) -> u64 {
    let mut piece = DefaultHasher::new();
    node.walk(&mut |part| structure(part, &mut piece));
    read.for_each(|formula| formula.hash(&mut piece));
    piece.finish()
}

/// What a piece is, without what lies below it.
fn structure(node: &Node, into: &mut DefaultHasher) {
    std::mem::discriminant(node).hash(into);
    match node {
        Node::Number(value) => value.to_bits().hash(into),
        Node::Spread { value, uncertainty, index } => {
            (value.to_bits(), uncertainty.to_bits(), index).hash(into);
        }
        Node::Read(variable) | Node::Answered(variable) | Node::Known(variable) => {
            variable.hash(into)
        }
        Node::AsOf { of, kept, .. } => (of, kept).hash(into),
        Node::AtFirst { of, .. } => of.hash(into),
        Node::Chosen { variable, option } => (variable, option).hash(into),
        Node::Call { function, arguments } => (function.name, arguments.len()).hash(into),
        Node::Math { operation, arguments } => {
            std::mem::discriminant(operation).hash(into);
            arguments.len().hash(into);
        }
        Node::Interpolate { table, along, .. } => (table, along).hash(into),
        Node::Chance { lower, index, .. } => (lower.is_some(), index).hash(into),
        Node::Arithmetic { operator, .. } => std::mem::discriminant(operator).hash(into),
        Node::ReadsAs { reading, good_to, .. } => (reading, good_to.to_bits()).hash(into),
        Node::Compared { operator, .. } => std::mem::discriminant(operator).hash(into),
        Node::Bool(truth) => truth.hash(into),
        Node::Named { name, .. } => name.hash(into),
        _ => {}
    }
}
