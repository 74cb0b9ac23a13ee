//! Sets of arguments that calls share. What they hold is put in at each call that names them, as a
//! relation is where it is called.

use std::collections::HashSet;

use super::entries::entries;
use super::formulas::{Formulas, read_tree};
use super::ids::usable_id;
use super::linker::Linker;
use crate::formula::functions::FUNCTIONS;
use crate::rules::stack::Stack;

impl Formulas {
    /// Reads the sets of arguments. One that can't be read in whole is faulty, so that no call is said
    /// to miss what it holds.
    pub(super) fn arguments(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        let known = takable(stack);
        for (at, written) in entries("arguments", &stack.arguments) {
            usable_id(linker, at);
            let Some(given) = &written.values else {
                linker.missing(at, "values");
                self.words.faulty(at.id());
                continue;
            };
            let mut values = Vec::with_capacity(given.len());
            for (argument, text) in given {
                let spot = at.field("values").under(argument);
                if !known.contains(argument.as_str()) {
                    let what = "an argument of a function or relation";
                    linker.unknown(&spot.on_key(), argument, known.iter().copied(), what);
                }
                let tree = read_tree(linker, at, spot, Some(text)).tree;
                values.extend(tree.map(|tree| (argument.clone(), tree)));
            }
            if values.len() == given.len() {
                self.words.arguments(at.id(), values);
            } else {
                self.words.faulty(at.id());
            }
        }
    }
}

/// Every argument that a call may be given by name.
fn takable(stack: &Stack) -> HashSet<&str> {
    let physics = FUNCTIONS.iter().flat_map(|function| function.arguments);
    let physics = physics.map(|argument| argument.name);
    let relations = stack.relations.values().flat_map(|entry| entry.written.given.iter().flatten());
    physics.chain(relations.map(String::as_str)).collect()
}
