//! What a person should hear beside a formula's number: the sources of the functions it used, and
//! what those functions have to say about their arguments.

use super::point::Point;
use super::sheet::Evaluator;
use crate::formula::check::node::{Formula, Node};
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

impl Evaluator<'_> {
    /// The remarks of the functions that a formula calls at the given values, each once; those of
    /// a branch that isn't taken, and of a call that is refused, are left out.
    #[must_use]
    pub fn remarks(&self, formula: &Formula) -> Vec<String> {
        let chances = self.chances(formula);
        let spreads: Vec<f64> = formula.spreads.iter().map(|(value, _)| *value).collect();
        let evaluation = Point { data: self, spreads: &spreads, chances: &chances };
        let mut found = Vec::new();
        collect(&evaluation, &formula.node, &mut found);
        found
    }
}

fn collect(evaluation: &Point<'_>, node: &Node, found: &mut Vec<String>) {
    if let Node::IfElse { condition, then, otherwise } = node {
        collect(evaluation, condition, found);
        match evaluation.truth(condition) {
            Ok(true) => collect(evaluation, then, found),
            Ok(false) => collect(evaluation, otherwise, found),
            Err(_) => {}
        }
        return;
    }
    for part in node.parts() {
        collect(evaluation, part, found);
    }
    let Node::Call { function, arguments } = node else { return };
    let given: Result<Vec<f64>, _> =
        arguments.iter().map(|argument| evaluation.number(argument)).collect();
    let Ok(given) = given else { return };
    for remark in (function.remarks)(&given) {
        let remark = format!("{}: {remark}", function.name);
        if !found.contains(&remark) {
            found.push(remark);
        }
    }
}
