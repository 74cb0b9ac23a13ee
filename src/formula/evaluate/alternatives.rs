//! Which answers would let a piece of a formula be told: one way or several, since rules may say what
//! stands in for a value that nobody knows.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use super::model::Model;
use crate::formula::check::{Node, VarId};

/// Given variables that together let something be told, every one of them needed.
pub(crate) type Alternative = BTreeSet<VarId>;

/// Of more ways than this only the one that needs everything is told.
const MAX_ALTERNATIVES: usize = 8;

/// The ways to tell each formula, where there are several. Few are asked for.
pub(crate) struct Alternatives(Vec<OnceLock<Option<Vec<Alternative>>>>);

impl Alternatives {
    pub(crate) fn new(model: &Model<'_>) -> Self {
        Self(vec![OnceLock::new(); model.formulas().len()])
    }

    /// The ways to tell a piece, none of which needs all that another one needs: one way, but where
    /// it, or a formula below it, holds an `if known(a) then … else …`, which can be told with `a` as
    /// well as without it.
    pub(crate) fn all(&self, model: &Model<'_>, node: &Node) -> Vec<Alternative> {
        self.several(model, node).unwrap_or_else(|| vec![model.below(node)])
    }

    /// The same; none where there is one way, or more than are told apart.
    fn several(&self, model: &Model<'_>, node: &Node) -> Option<Vec<Alternative>> {
        if !self.are_several(model, node) {
            return None;
        }
        match node {
            Node::IfElse { condition, then, otherwise } if asks_only_what_is_known(condition) => {
                let mut found = together(&[model.below(condition)], &self.all(model, then))?;
                found.extend(self.all(model, otherwise));
                few(found)
            }
            Node::Read(variable) => self.of(model, *variable).map(<[Alternative]>::to_vec),
            _ => {
                let table = match node {
                    Node::Interpolate { table, .. } => Alternative::from([*table]),
                    _ => Alternative::new(),
                };
                let mut found = Some(vec![table]);
                node.each_part(&mut |part| {
                    found = found.take().and_then(|found| together(&found, &self.all(model, part)));
                });
                found
            }
        }
    }

    /// Those of the formula behind a variable, where there are several.
    fn of(&self, model: &Model<'_>, variable: VarId) -> Option<&[Alternative]> {
        // Of what wasn't worked out, nothing below is asked for.
        let index = model.formula_at(variable).filter(|index| model.is_prepared(*index))?;
        let found = || self.several(model, &model.formulas()[index].formula.node);
        self.0[index].get_or_init(found).as_deref()
    }

    fn are_several(&self, model: &Model<'_>, node: &Node) -> bool {
        let mut several = false;
        node.walk(&mut |part| {
            several |= match part {
                Node::IfElse { condition, .. } => asks_only_what_is_known(condition),
                Node::Read(variable) => self.of(model, *variable).is_some(),
                _ => false,
            };
        });
        several
    }
}

/// Every way of one piece with every way of another; none where they are too many.
fn together(ways: &[Alternative], others: &[Alternative]) -> Option<Vec<Alternative>> {
    few(ways.iter().flat_map(|way| others.iter().map(move |other| way | other)).collect())
}

/// The least of these ways, where they are few enough to be told apart.
fn few(ways: Vec<Alternative>) -> Option<Vec<Alternative>> {
    Some(least(ways)).filter(|ways| ways.len() <= MAX_ALTERNATIVES)
}

/// The ways that don't need all of another one.
fn least(mut ways: Vec<Alternative>) -> Vec<Alternative> {
    ways.sort_by_key(BTreeSet::len);
    let mut kept: Vec<Alternative> = Vec::new();
    for way in ways {
        if !kept.iter().any(|other| other.is_subset(&way)) {
            kept.push(way);
        }
    }
    kept
}

fn asks_only_what_is_known(condition: &Node) -> bool {
    match condition {
        Node::Known(_) => true,
        Node::Named { truth, .. } => asks_only_what_is_known(truth),
        Node::And(left, right) => asks_only_what_is_known(left) && asks_only_what_is_known(right),
        _ => false,
    }
}
