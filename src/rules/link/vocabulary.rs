//! What the names in a pack's formulas mean. Questions and relations are known from the start;
//! workings and findings are added as they are checked, in an order in which each stands behind
//! what it reads.

use std::collections::{HashMap, HashSet};

use crate::formula::{Expression, Formula, Meaning, Names, Node, Slot, Type};
use crate::quantity::Kind;
use crate::rules::pack::AnswerForm;

enum Word {
    Value {
        slot: Slot,
        kind: Kind,
    },
    Truth {
        slot: Slot,
    },
    Choice {
        slot: Slot,
        options: Vec<String>,
    },
    Table {
        slot: Slot,
        columns: Vec<(String, Kind)>,
    },
    Relation {
        given: Vec<String>,
        body: Expression,
    },
    Inline {
        node: Node,
    },
    /// Known, but faulty itself; nothing more is said where it is used.
    Faulty,
}

pub(super) struct Vocabulary {
    /// Ids given in two sections: which is meant can't be told, and that is said once.
    contested: HashSet<String>,
    words: HashMap<String, Word>,
}

impl Vocabulary {
    pub(super) fn new(contested: &HashSet<String>) -> Self {
        Self { contested: contested.clone(), words: HashMap::new() }
    }

    fn put(&mut self, id: &str, word: Word) {
        let word = if self.contested.contains(id) { Word::Faulty } else { word };
        self.words.insert(id.to_owned(), word);
    }

    pub(super) fn question(&mut self, id: &str, slot: Slot, form: Option<&AnswerForm>) {
        let word = match form {
            None => Word::Faulty,
            Some(AnswerForm::YesOrNo) => Word::Truth { slot },
            Some(AnswerForm::Measure(measure)) => Word::Value { slot, kind: measure.kind },
            Some(AnswerForm::Choose(options)) => {
                Word::Choice { slot, options: options.keys().cloned().collect() }
            }
            Some(AnswerForm::Table(columns)) => Word::Table { slot, columns: columns.clone() },
        };
        self.put(id, word);
    }

    pub(super) fn relation(&mut self, id: &str, given: Vec<String>, body: Option<Expression>) {
        let word = match body {
            Some(body) => Word::Relation { given, body },
            None => Word::Faulty,
        };
        self.put(id, word);
    }

    /// A working that was checked: a number stands in its slot, a truth is put in.
    pub(super) fn working(&mut self, id: &str, slot: Slot, formula: Option<&Formula>) {
        let word = match formula.map(|formula| (formula.gives, formula)) {
            Some((Type::Quantity(kind), _)) => Word::Value { slot, kind },
            Some((Type::Truth, formula)) => Word::Inline { node: formula.node.clone() },
            _ => Word::Faulty,
        };
        self.put(id, word);
    }

    pub(super) fn finding(&mut self, id: &str, formula: Option<&Formula>) {
        let word = match formula {
            Some(formula) => Word::Inline { node: formula.node.clone() },
            None => Word::Faulty,
        };
        self.put(id, word);
    }

    /// A curve's own variable, as long as the curve is checked.
    pub(super) fn variable(&mut self, id: &str, slot: Slot, kind: Kind) {
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
            Word::Truth { slot } => Meaning::Truth { slot: *slot },
            Word::Choice { slot, options } => Meaning::Choice {
                slot: *slot,
                options: options.iter().map(String::as_str).collect(),
            },
            Word::Table { slot, columns } => Meaning::Table {
                slot: *slot,
                columns: columns.iter().map(|(name, kind)| (name.as_str(), *kind)).collect(),
            },
            Word::Relation { given, body } => Meaning::Relation { given, body },
            Word::Inline { node } => Meaning::Inline { node },
            Word::Faulty => Meaning::Faulty,
        })
    }

    fn all(&self) -> Vec<&str> {
        self.words.keys().map(String::as_str).collect()
    }
}
