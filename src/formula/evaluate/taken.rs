//! What a piece rests on as things are known now: where answers decide an `if`, on the branch that is taken alone.

use std::collections::BTreeSet;

use super::domain::truth;
use super::model::Model;
use super::point::Point;
use crate::formula::check::{Node, VarId};
use crate::formula::functions::Function;

impl Model<'_> {
    /// Every given variable that a piece rests on by the branches that are taken. What a branch is taken by is not
    /// among them; a comparison decides none, since its numbers are uncertain.
    pub(crate) fn taken_below(&self, node: &Node) -> BTreeSet<VarId> {
        let (mut found, mut seen) = (BTreeSet::new(), BTreeSet::new());
        self.gather(node, &mut found, &mut seen);
        found
    }

    /// `seen` are the formulas that were looked at.
    fn gather(&self, node: &Node, found: &mut BTreeSet<VarId>, seen: &mut BTreeSet<VarId>) {
        self.each_taken(node, &mut |part| {
            let Some(variable) = part.own_read() else { return };
            let Some(index) = self.formula_at(variable) else {
                found.insert(variable);
                return;
            };
            if seen.insert(variable) {
                self.gather(&self.formulas()[index].formula.node, found, seen);
            }
        });
    }

    /// The physics functions that a piece itself calls on the branches that are taken, each once.
    pub(crate) fn taken_functions(&self, node: &Node) -> Vec<&'static Function> {
        let mut found: Vec<&'static Function> = Vec::new();
        self.each_taken(node, &mut |part| {
            if let Node::Call { function, .. } = part
                && !found.contains(function)
            {
                found.push(*function);
            }
        });
        found
    }

    /// This piece and all below it, without the branches that answers rule out and the conditions they decide.
    fn each_taken<'n>(&self, node: &'n Node, visit: &mut dyn FnMut(&'n Node)) {
        if let Node::IfElse { condition, then, otherwise } = node
            && let Some(taken) = self.decided(condition)
        {
            self.each_taken(if taken { then } else { otherwise }, visit);
            return;
        }
        visit(node);
        node.each_part(&mut |part| self.each_taken(part, visit));
    }

    /// Whether a condition that nothing but answers decides holds, where they are known.
    fn decided(&self, condition: &Node) -> Option<bool> {
        let mut by_answers = true;
        condition.walk(&mut |part| {
            by_answers &= !matches!(part, Node::Compared { .. } | Node::ReadsAs { .. });
        });
        let now = Point { values: self, literal: None, chances: &[] };
        if by_answers { truth(&now, condition).ok() } else { None }
    }
}
