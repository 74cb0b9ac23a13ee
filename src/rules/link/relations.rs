//! Relations: formulas with parameters, put in where they are called. What is put in, they and sets of
//! arguments, reads only what is there, and never itself.

use std::collections::{HashMap, HashSet};

use super::entries::entries;
use super::formulas::{Formulas, circle, read_formula};
use super::ids::usable_id;
use super::linker::{At, Linker, Spot};
use super::order::order;
use crate::formula::{Expression, Fault, Mistake, Names, Span, is_function, nearest_function};
use crate::rules::stack::Stack;
use crate::rules::written::AnswerForm;

/// A formula that is put in at calls: where it stands, and the parameters that it may read.
struct PutIn<'a> {
    spot: Spot<'a>,
    given: HashSet<&'a str>,
}

impl Formulas {
    pub(super) fn relations(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        for (at, written) in entries("relations", &stack.relations) {
            usable_id(linker, at);
            let given = written.given.clone().unwrap_or_default();
            let body = read_formula(linker, at, written.formula.as_ref()).tree;
            self.words.relation(at.id(), given, body);
        }
    }

    /// Checks what is put in at calls, so that what nobody calls is not left unread.
    pub(super) fn put_in(&mut self, linker: &mut Linker<'_>) {
        let stack = linker.stack;
        let relations = entries("relations", &stack.relations).map(|(at, written)| {
            let given = written.given.iter().flatten().map(String::as_str).collect();
            (at, vec![PutIn { spot: at.field("formula"), given }])
        });
        let sets = entries("arguments", &stack.arguments).map(|(at, written)| {
            let values = written.values.iter().flatten();
            let spot = at.field("values");
            let values =
                values.map(|(name, _)| PutIn { spot: spot.under(name), given: HashSet::new() });
            (at, values.collect())
        });
        let all: Vec<(At<'_>, Vec<PutIn<'_>>)> = relations.chain(sets).collect();
        self.circles(linker, &all);
        for (at, formulas) in &all {
            for (formula, tree) in formulas.iter().zip(self.words.put_in(at.id())) {
                self.check_names(linker, formula, tree);
            }
        }
    }

    fn check_names(&self, linker: &mut Linker<'_>, formula: &PutIn<'_>, tree: &Expression) {
        let stack = linker.stack;
        let PutIn { spot, given } = formula;
        for (name, span) in tree.names() {
            let known = given.contains(name)
                || self.words.find(name).is_some()
                || stack.workings.contains_key(name)
                || stack.conditions.contains_key(name)
                || self.is_option(stack, name);
            if !known {
                let names = given.iter().copied().chain(stack.questions.keys().map(String::as_str));
                let names = names.chain(stack.workings.keys().map(String::as_str));
                let inside = spot.part(span.clone());
                let wanted = if given.is_empty() {
                    "a question or working"
                } else {
                    "a parameter, question or working"
                };
                linker.unknown(&inside, name, names, wanted);
            }
        }
        for (name, span) in tree.calls() {
            if !is_function(name) && !stack.relations.contains_key(name) {
                let relations = stack.relations.keys().map(String::as_str);
                let near = nearest_function(name, relations).map(str::to_owned);
                let mistake = Mistake::UnknownFunction { name: name.to_owned(), near };
                linker.formula_faults(spot, vec![Fault::new(span.clone(), mistake)]);
            }
        }
    }

    /// What is put in and comes back to itself. Each is then faulty, so that no call of it is a second
    /// mistake.
    fn circles(&mut self, linker: &mut Linker<'_>, all: &[(At<'_>, Vec<PutIn<'_>>)]) {
        let ids: HashMap<&str, usize> =
            all.iter().enumerate().map(|(index, (at, _))| (at.id(), index)).collect();
        // For each: which of its formulas puts in which other, and where.
        let uses: Vec<Vec<(usize, usize, Span)>> = all
            .iter()
            .map(|(at, _)| {
                let trees = self.words.put_in(at.id()).into_iter().enumerate();
                let uses = trees.flat_map(|(formula, tree)| {
                    let named = tree.calls().into_iter().chain(tree.names());
                    named.map(move |(name, span)| (formula, name, span))
                });
                uses.filter_map(|(formula, name, span)| {
                    Some((formula, *ids.get(name)?, span.clone()))
                })
                .collect()
            })
            .collect();
        let reads: Vec<Vec<usize>> = uses.iter().map(|uses| distinct(uses)).collect();
        let circular: HashSet<usize> = order(&reads).circular.into_iter().collect();
        for (index, (at, formulas)) in all.iter().enumerate() {
            if !circular.contains(&index) {
                continue;
            }
            let next = uses[index].iter().find(|(_, read, _)| circular.contains(read));
            if let Some((formula, read, span)) = next {
                let spot = formulas[*formula].spot.part(span.clone());
                circle(linker, *at, &spot, all[*read].0.id(), "calls");
            }
            self.words.faulty(at.id());
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

/// The entries put in, each once.
fn distinct(uses: &[(usize, usize, Span)]) -> Vec<usize> {
    let mut found: Vec<usize> = uses.iter().map(|(_, index, _)| *index).collect();
    found.sort_unstable();
    found.dedup();
    found
}
