//! Which answers would let a piece of a formula be told: one way or several, since rules may say what
//! stands in for a value that nobody knows.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use super::node::{Node, Slot};
use super::sheet::Sheet;

/// Given slots that together let something be told, every one of them needed.
type Way = BTreeSet<Slot>;

/// Of more ways than this only the one that needs everything is told.
const MOST_WAYS: usize = 8;

/// The ways of each formula of a sheet, worked out when first asked for.
pub(super) type KeptWays = Vec<OnceCell<Vec<Way>>>;

impl Sheet<'_> {
    /// The ways to tell a piece, none of which needs all that another one needs: one way, but where it,
    /// or a formula below it, holds an `if known(a) then … else …`, which can be told with `a` as well as
    /// without it.
    #[must_use]
    pub fn ways_to_tell(&self, node: &Node) -> Vec<BTreeSet<Slot>> {
        if !self.holds_several_ways(node) {
            return vec![self.below(node)];
        }
        let ways = match node {
            Node::If { condition, then, otherwise } if asks_only_what_is_known(condition) => {
                let mut ways = together(&[self.below(condition)], &self.ways_to_tell(then));
                ways.extend(self.ways_to_tell(otherwise));
                ways
            }
            Node::Read(slot) => match self.formula_at(*slot) {
                Some(index) => self.ways_of(index),
                None => vec![Way::from([*slot])],
            },
            _ => {
                let table = match node {
                    Node::Interpolate { table, .. } => Way::from([*table]),
                    _ => Way::new(),
                };
                let parts = node.parts().into_iter();
                parts.fold(vec![table], |ways, part| together(&ways, &self.ways_to_tell(part)))
            }
        };
        let ways = least(ways);
        if ways.len() > MOST_WAYS { vec![self.below(node)] } else { ways }
    }

    fn holds_several_ways(&self, node: &Node) -> bool {
        let mut several = false;
        node.walk(&mut |part| {
            several |= match part {
                Node::If { condition, .. } => asks_only_what_is_known(condition),
                Node::Read(slot) => {
                    self.formula_at(*slot).is_some_and(|index| self.ways_of(index).len() > 1)
                }
                _ => false,
            };
        });
        several
    }

    fn ways_of(&self, index: usize) -> Vec<Way> {
        let kept = self.kept_ways[index].get_or_init(|| self.ways_to_tell(self.whole(index).node));
        kept.clone()
    }
}

/// Every way of one piece with every way of another.
fn together(ways: &[Way], others: &[Way]) -> Vec<Way> {
    ways.iter().flat_map(|way| others.iter().map(move |other| way | other)).collect()
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
        Node::Both(left, right) => asks_only_what_is_known(left) && asks_only_what_is_known(right),
        _ => false,
    }
}
