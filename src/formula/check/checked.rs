//! A piece that was checked: its node and what it gives.

use super::node::{Node, Type};
use crate::formula::syntax::Found;
use crate::formula::syntax::expression::Expression;
use crate::quantity::Kind;

/// A checked piece and what it gives.
#[derive(Debug, Clone)]
pub(super) struct Checked {
    pub(super) node: Node,
    pub(super) gives: Type,
}

impl Checked {
    pub(super) fn quantity(node: Node, kind: Kind) -> Self {
        Self { node, gives: Type::Quantity(kind) }
    }

    pub(super) fn truth(node: Node) -> Self {
        Self { node, gives: Type::Bool }
    }

    /// What it gives, as messages name it.
    pub(super) fn found(&self) -> Found {
        match self.gives {
            Type::Quantity(_) => Found::Number,
            Type::Bool => Found::Truth,
            Type::Choice(_) => Found::Choice,
            Type::Table(_) => Found::Table,
        }
    }
}

/// What an operator works on: a checked piece with the tree it was read from.
pub(super) struct Operand<'a, Gives = Type> {
    pub(super) tree: &'a Expression,
    pub(super) node: Node,
    pub(super) gives: Gives,
}

/// Names to be kept with a mistake.
pub(super) fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}
