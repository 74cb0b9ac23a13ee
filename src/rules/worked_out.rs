//! Findings whose strength `reads_as` works out, and what is typed beside them all the same.

use std::collections::HashSet;

use super::pack::{Pack, VarOwner};
use super::table::{CauseId, FindingId, TypedIndex};
use crate::formula::{Basis, Node, VarId, single_basis};

/// A finding that is worked out is brought at least so often, and no oftener by nothing.
const ALWAYS: f64 = 0.99;
const NO_LEAK: f64 = 0.01;

/// Findings whose strength is worked out, and typed all the same: that would count twice.
pub(super) fn typed_besides(pack: &Pack) -> Vec<FindingId> {
    let typed = |finding: &FindingId| {
        let node = &pack.findings[*finding].when.node;
        let weighed = &pack.network.findings()[finding.index()];
        let alone = matches!(single_basis(node), Some(Basis::Reading { .. }));
        let always = weighed.links.iter().all(|link| link.strength >= ALWAYS);
        let by_itself = alone && always && weighed.leak <= NO_LEAK;
        !by_itself && !judged(node).is_empty()
    };
    pack.findings.indices().filter(typed).collect()
}

/// Causes with a finding that is typed and one that is worked out, where the typed one looks at a reading
/// that the other weighs and at nothing beyond what that one looks at.
pub(super) fn counted_twice(pack: &Pack) -> Vec<(CauseId, FindingId, FindingId)> {
    let looks: Vec<Look<'_>> =
        pack.findings.indices().map(|finding| Look::of(pack, finding)).collect();
    let mut found = Vec::new();
    for cause in pack.causes.indices() {
        let brings = |finding: &FindingId| {
            let links = &pack.network.findings()[finding.index()].links;
            links.iter().any(|link| link.cause == cause.index())
        };
        let brought: Vec<FindingId> = pack.findings.indices().filter(brings).collect();
        let worked_out = brought.iter().filter(|one| !looks[one.index()].weighs.is_empty());
        for worked_out in worked_out {
            let other = &looks[worked_out.index()];
            let typed = brought.iter().filter(|typed| looks[typed.index()].is_within(other));
            found.extend(typed.map(|typed| (cause, *typed, *worked_out)));
        }
    }
    found
}

/// What a finding looks at.
struct Look<'p> {
    /// The readings that it weighs by their density.
    weighs: Vec<VarId>,
    /// All answers that it rests on, through workings.
    reads: HashSet<VarId>,
    /// The conditions without which some value of it is left out.
    only_if: Vec<&'p Node>,
}

impl<'p> Look<'p> {
    fn of(pack: &'p Pack, finding: FindingId) -> Self {
        let node = &pack.findings[finding].when.node;
        let (mut reads, mut only_if) = (HashSet::new(), Vec::new());
        let mut open = vec![node];
        while let Some(node) = open.pop() {
            node.walk(&mut |part| {
                if let Node::IfElse { condition, otherwise, .. } = part
                    && **otherwise == Node::LeftOut
                {
                    only_if.push(&**condition);
                }
            });
            for variable in node.reads().into_iter().filter(|one| reads.insert(*one)) {
                if let VarOwner::Working(working) = pack.owner_of(variable) {
                    open.push(&pack.workings[working].formula.node);
                }
            }
        }
        reads.retain(|variable| matches!(pack.owner_of(*variable), VarOwner::Question(_)));
        Self { weighs: judged(node), reads, only_if }
    }

    /// Whether it is typed, and looks at what the other weighs and at nothing more, in the same cases.
    fn is_within(&self, other: &Self) -> bool {
        self.weighs.is_empty()
            && other.weighs.iter().any(|reading| self.reads.contains(reading))
            && self.reads.is_subset(&other.reads)
            && !self.takes_turns_with(other)
    }

    /// Whether one of the two is left out wherever the other counts.
    fn takes_turns_with(&self, other: &Self) -> bool {
        self.only_if.iter().any(|own| {
            other.only_if.iter().any(|theirs| denies(own, theirs) || denies(theirs, own))
        })
    }
}

/// Whether the one condition is that the other doesn't hold.
fn denies(one: &Node, other: &Node) -> bool {
    matches!(one, Node::Not(inner) if **inner == *other)
}

/// The readings that a truth weighs by their density.
fn judged(node: &Node) -> Vec<VarId> {
    let mut found = Vec::new();
    node.walk(&mut |part| {
        if let Node::ReadsAs { reading, .. } = part {
            found.push(*reading);
        }
    });
    found
}
