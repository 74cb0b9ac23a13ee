//! What the names in a pack's formulas mean. Questions and relations are known from the start;
//! workings and findings are added as they are checked, in an order in which each stands behind
//! what it reads.

use std::collections::HashMap;

use crate::formula::{Expression, Formula, Meaning, Names, Node, TruthId, Type, VarId};
use crate::quantity::Kind;
use crate::rules::pack::AnswerForm;

enum Word {
    Value {
        slot: VarId,
        kind: Kind,
    },
    Truth {
        slot: VarId,
    },
    Choice {
        slot: VarId,
        options: Vec<String>,
    },
    Table {
        slot: VarId,
        columns: Vec<(String, Kind)>,
    },
    Relation {
        given: Vec<String>,
        body: Expression,
    },
    Inline {
        node: Node,
        id: Option<TruthId>,
    },
    /// Known, but faulty itself; nothing more is said where it is used.
    Faulty,
}

#[derive(Default)]
pub(super) struct Vocabulary {
    words: HashMap<String, Word>,
}

impl Vocabulary {
    pub(super) fn question(&mut self, id: &str, slot: VarId, form: Option<&AnswerForm>) {
        let word = match form {
            None => Word::Faulty,
            Some(AnswerForm::YesOrNo) => Word::Truth { slot },
            Some(AnswerForm::Measure(measure)) => Word::Value { slot, kind: measure.kind },
            Some(AnswerForm::Choose(options)) => {
                Word::Choice { slot, options: options.keys().cloned().collect() }
            }
            Some(AnswerForm::Table(columns)) => Word::Table { slot, columns: columns.clone() },
        };
        self.words.insert(id.to_owned(), word);
    }

    pub(super) fn relation(&mut self, id: &str, given: Vec<String>, body: Option<Expression>) {
        let word = match body {
            Some(body) => Word::Relation { given, body },
            None => Word::Faulty,
        };
        self.words.insert(id.to_owned(), word);
    }

    /// A working that was checked: a number stands in its slot, a truth is put in.
    pub(super) fn working(&mut self, id: &str, slot: VarId, formula: Option<&Formula>) {
        let word = match formula.map(|formula| (formula.gives, formula)) {
            Some((Type::Quantity(kind), _)) => Word::Value { slot, kind },
            Some((Type::Bool, formula)) => Word::Inline { node: formula.node.clone(), id: None },
            _ => Word::Faulty,
        };
        self.words.insert(id.to_owned(), word);
    }

    /// A finding that was checked, put in by its place among the findings.
    pub(super) fn finding(&mut self, id: &str, place: usize, formula: Option<&Formula>) {
        let word = match formula {
            Some(formula) => Word::Inline { node: formula.node.clone(), id: Some(TruthId(place)) },
            None => Word::Faulty,
        };
        self.words.insert(id.to_owned(), word);
    }

    /// A curve's own variable, as long as the curve is checked.
    pub(super) fn variable(&mut self, id: &str, slot: VarId, kind: Kind) {
        self.words.insert(id.to_owned(), Word::Value { slot, kind });
    }

    pub(super) fn forget(&mut self, id: &str) {
        self.words.remove(id);
    }

    /// The relation of that name.
    pub(super) fn body(&self, id: &str) -> Option<&Expression> {
        match self.words.get(id) {
            Some(Word::Relation { body, .. }) => Some(body),
            _ => None,
        }
    }
}

impl Names for Vocabulary {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        Some(match self.words.get(name)? {
            Word::Value { slot, kind } => Meaning::Value { slot: *slot, kind: *kind },
            Word::Truth { slot } => Meaning::Bool { slot: *slot },
            Word::Choice { slot, options } => Meaning::Choice {
                slot: *slot,
                options: options.iter().map(String::as_str).collect(),
            },
            Word::Table { slot, columns } => Meaning::Table {
                slot: *slot,
                columns: columns.iter().map(|(name, kind)| (name.as_str(), *kind)).collect(),
            },
            Word::Relation { given, body } => Meaning::Relation { given, body },
            Word::Inline { node, id } => Meaning::Inline { node, id: *id },
            Word::Faulty => Meaning::Faulty,
        })
    }

    fn all(&self) -> Vec<&str> {
        self.words.keys().map(String::as_str).collect()
    }
}
