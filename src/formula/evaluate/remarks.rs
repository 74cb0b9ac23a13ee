//! What a person should hear beside a formula's number: the sources of the functions it used, and
//! what those functions have to say about their arguments.

use super::domain::{number, truth};
use super::point::Point;
use super::values::Values;
use crate::formula::check::{Formula, Node};
use crate::formula::functions::Function;

impl Formula {
    /// The physics functions that it calls, each once, in the order of the text.
    #[must_use]
    pub fn functions(&self) -> Vec<&'static Function> {
        let mut found: Vec<&'static Function> = Vec::new();
        self.node.walk(&mut |part| {
            if let Node::Call { function, .. } = part
                && !found.contains(function)
            {
                found.push(*function);
            }
        });
        found
    }
}

/// The remarks of the functions that a piece calls, each once; those of a branch that isn't taken, and
/// of a call that is refused, are left out.
pub(crate) fn remarks<V: Values>(point: &Point<'_, V>, node: &Node, found: &mut Vec<String>) {
    if let Node::IfElse { condition, then, otherwise } = node {
        remarks(point, condition, found);
        match truth(point, condition) {
            Ok(true) => remarks(point, then, found),
            Ok(false) => remarks(point, otherwise, found),
            Err(_) => {}
        }
        return;
    }
    node.each_part(&mut |part| remarks(point, part, found));
    let Node::Call { function, arguments } = node else { return };
    let given: Result<Vec<f64>, _> =
        arguments.iter().map(|argument| number(point, argument)).collect();
    let Ok(given) = given else { return };
    for remark in (function.remarks)(&given) {
        let remark = format!("{}: {remark}", function.name);
        if !found.contains(&remark) {
            found.push(remark);
        }
    }
}
