//! Which answers would let a piece of a formula be told: one way or several, since rules may say what
//! stands in for a value that nobody knows.

use std::collections::BTreeSet;

use super::sheet::Evaluator;
use crate::formula::check::node::{Node, VarId};

/// Given slots that together let something be told, every one of them needed.
pub(crate) type Way = BTreeSet<VarId>;

/// Of more ways than this only the one that needs everything is told.
const MAX_ALTERNATIVES: usize = 8;

impl Evaluator<'_> {
    /// The ways to tell a piece, none of which needs all that another one needs: one way, but where it,
    /// or a formula below it, holds an `if known(a) then … else …`, which can be told with `a` as well as
    /// without it.
    #[must_use]
    pub fn ways_to_tell(&self, node: &Node) -> Vec<BTreeSet<VarId>> {
        self.several_ways(node).unwrap_or_else(|| vec![self.below(node)])
    }

    /// The same; none where there is one way, or more than are told apart.
    pub(crate) fn several_ways(&self, node: &Node) -> Option<Vec<Way>> {
        if !self.holds_several_ways(node) {
            return None;
        }
        match node {
            Node::IfElse { condition, then, otherwise } if asks_only_what_is_known(condition) => {
                let mut ways = together(&[self.below(condition)], &self.ways_to_tell(then))?;
                ways.extend(self.ways_to_tell(otherwise));
                few(ways)
            }
            Node::Read(slot) => {
                self.formula_at(*slot).and_then(|index| self.ways_of(index)).map(<[Way]>::to_vec)
            }
            _ => {
                let table = match node {
                    Node::Interpolate { table, .. } => Way::from([*table]),
                    _ => Way::new(),
                };
                let mut parts = node.parts().into_iter();
                parts.try_fold(vec![table], |ways, part| together(&ways, &self.ways_to_tell(part)))
            }
        }
    }

    fn holds_several_ways(&self, node: &Node) -> bool {
        let mut several = false;
        node.walk(&mut |part| {
            several |= match part {
                Node::IfElse { condition, .. } => asks_only_what_is_known(condition),
                Node::Read(slot) => {
                    self.formula_at(*slot).is_some_and(|index| self.ways_of(index).is_some())
                }
                _ => false,
            };
        });
        several
    }
}

/// Every way of one piece with every way of another; none where they are too many.
fn together(ways: &[Way], others: &[Way]) -> Option<Vec<Way>> {
    few(ways.iter().flat_map(|way| others.iter().map(move |other| way | other)).collect())
}

/// The least of these ways, where they are few enough to be told apart.
fn few(ways: Vec<Way>) -> Option<Vec<Way>> {
    Some(least(ways)).filter(|ways| ways.len() <= MAX_ALTERNATIVES)
}

/// The ways that don't need all of another one.
fn least(mut ways: Vec<Way>) -> Vec<Way> {
    ways.sort_by_key(BTreeSet::len);
    let mut kept: Vec<Way> = Vec::new();
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
        Node::And(left, right) => asks_only_what_is_known(left) && asks_only_what_is_known(right),
        _ => false,
    }
}
