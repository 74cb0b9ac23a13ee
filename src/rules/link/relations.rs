//! Relations: formulas with parameters, put in where they are called; none in a circle.

use std::collections::HashSet;

use super::entries::entries;
use super::formulas::{Formulas, circle, read_tree};
use super::ids::usable_id;
use super::linker::Linker;
use super::order::order;
use crate::formula::{Expression, Fault, Mistake, Names, Span, is_function, nearest_function};
use crate::rules::stack::Stack;
use crate::rules::written::AnswerForm;

impl Formulas {
    pub(super) fn relations(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        for (at, written) in entries("relations", &stack.relations) {
            usable_id(linker, at);
            let given = written.given.clone().unwrap_or_default();
            let body = read_tree(linker, at, "formula", written.formula.as_ref()).tree;
            self.words.relation(at.id(), given, body);
        }
        self.circular_relations(linker);
        // Names are checked here too, so that a relation nobody calls is not left unread.
        for (at, written) in entries("relations", &stack.relations) {
            let given: HashSet<&str> = written.given.iter().flatten().map(String::as_str).collect();
            let Some(body) = self.words.body(at.id()) else { continue };
            let spot = at.field("formula");
            for (name, span) in body.names() {
                let known = given.contains(name)
                    || self.words.find(name).is_some()
                    || stack.workings.contains_key(name)
                    || self.is_option(stack, name);
                if !known {
                    let names =
                        given.iter().copied().chain(stack.questions.keys().map(String::as_str));
                    let names = names.chain(stack.workings.keys().map(String::as_str));
                    let inside = spot.part(span.clone());
                    linker.unknown(&inside, name, names, "a parameter, question or working");
                }
            }
            for (name, span) in body.calls() {
                if !is_function(name) && !stack.relations.contains_key(name) {
                    let relations = stack.relations.keys().map(String::as_str);
                    let near = nearest_function(name, relations).map(str::to_owned);
                    let mistake = Mistake::UnknownFunction { name: name.to_owned(), near };
                    linker.formula_faults(&spot, vec![Fault::new(span.clone(), mistake)]);
                }
            }
        }
    }

    /// Relations that call one another in a circle. Each is then faulty, so that no call of it is
    /// a second mistake.
    fn circular_relations(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        let calls: Vec<Vec<(usize, Span)>> = stack
            .relations
            .keys()
            .map(|id| {
                let body = self.words.body(id).map(Expression::calls).unwrap_or_default();
                let index = |name: &str| stack.relations.get_index_of(name);
                body.iter()
                    .filter_map(|(name, span)| Some((index(name)?, (*span).clone())))
                    .collect()
            })
            .collect();
        let reads: Vec<Vec<usize>> = calls.iter().map(|called| distinct(called)).collect();
        let circular = order(&reads).circular;
        for (index, (at, _)) in entries("relations", &stack.relations).enumerate() {
            if !circular.contains(&index) {
                continue;
            }
            let next = calls[index].iter().find(|(read, _)| circular.contains(read));
            if let Some((read, span)) = next {
                let other = stack.relations.get_index(*read).map_or("", |(id, _)| id.as_str());
                circle(linker, at, &at.field("formula").part(span.clone()), other, "calls");
            }
            self.words.relation(at.id(), Vec::new(), None);
        }
    }

    fn is_option(&self, stack: &Stack, name: &str) -> bool {
        stack.questions.values().any(|entry| match &entry.written.answer {
            Some(AnswerForm::Fields(fields)) => {
                fields.choose.as_ref().is_some_and(|options| options.contains_key(name))
            }
            _ => false,
        })
    }
}

/// The entries called, each once.
fn distinct(called: &[(usize, Span)]) -> Vec<usize> {
    let mut found: Vec<usize> = called.iter().map(|(index, _)| *index).collect();
    found.sort_unstable();
    found.dedup();
    found
}
