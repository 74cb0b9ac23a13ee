//! What the names in a pack's formulas mean. Questions and relations are known from the start;
//! workings and findings are added as they are checked, in an order in which each stands behind
//! what it reads.

use std::collections::{HashMap, HashSet};

use crate::formula::{Expression, Formula, Meaning, Names, Node, TruthId, Type, VarId};
use crate::quantity::Kind;
use crate::rules::question::AnswerForm;

enum Word {
    Value {
        variable: VarId,
        kind: Kind,
    },
    Truth {
        variable: VarId,
    },
    Choice {
        variable: VarId,
        options: Vec<String>,
    },
    Table {
        variable: VarId,
        columns: Vec<(String, Kind)>,
    },
    Relation {
        given: Vec<String>,
        body: Expression,
    },
    Arguments {
        values: Vec<(String, Expression)>,
    },
    Inline {
        node: Node,
        id: Option<TruthId>,
    },
    /// A finding, or a condition on one, before it is checked.
    Later,
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

    pub(super) fn question(&mut self, id: &str, variable: VarId, form: Option<&AnswerForm>) {
        let word = match form {
            None => Word::Faulty,
            // A list by its own name: whether any of it is true.
            Some(AnswerForm::YesOrNo | AnswerForm::AnyOf(_)) => Word::Truth { variable },
            Some(AnswerForm::Measure(measure)) => Word::Value { variable, kind: measure.kind },
            Some(AnswerForm::Choose(options)) => {
                Word::Choice { variable, options: options.keys().cloned().collect() }
            }
            Some(AnswerForm::Table(columns)) => Word::Table { variable, columns: columns.clone() },
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

    pub(super) fn arguments(&mut self, id: &str, values: Vec<(String, Expression)>) {
        self.put(id, Word::Arguments { values });
    }

    /// An entry that will be known once findings are.
    pub(super) fn later(&mut self, id: &str) {
        self.put(id, Word::Later);
    }

    /// An entry of which nothing can be said but that it is there.
    pub(super) fn faulty(&mut self, id: &str) {
        self.put(id, Word::Faulty);
    }

    /// A working that was checked: a number stands in its variable, a truth is put in.
    pub(super) fn working(&mut self, id: &str, variable: VarId, formula: Option<&Formula>) {
        let word = match formula.map(|formula| (formula.gives, formula)) {
            Some((Type::Quantity(kind), _)) => Word::Value { variable, kind },
            Some((Type::Bool, formula)) => Word::Inline { node: formula.node.clone(), id: None },
            _ => Word::Faulty,
        };
        self.put(id, word);
    }

    /// A condition that was checked, put in.
    pub(super) fn condition(&mut self, id: &str, formula: Option<&Formula>) {
        let inline = |formula: &Formula| Word::Inline { node: formula.node.clone(), id: None };
        self.put(id, formula.map_or(Word::Faulty, inline));
    }

    /// A finding that was checked, put in by its place among the findings.
    pub(super) fn finding(&mut self, id: &str, place: usize, formula: Option<&Formula>) {
        let word = match formula {
            Some(formula) => Word::Inline { node: formula.node.clone(), id: Some(TruthId(place)) },
            None => Word::Faulty,
        };
        self.put(id, word);
    }

    /// A curve's own variable, as long as the curve is checked.
    pub(super) fn variable(&mut self, id: &str, variable: VarId, kind: Kind) {
        self.words.insert(id.to_owned(), Word::Value { variable, kind });
    }

    pub(super) fn forget(&mut self, id: &str) {
        self.words.remove(id);
    }

    /// What is put in where a relation is called, or where a call names a set of arguments.
    pub(super) fn put_in(&self, id: &str) -> Vec<&Expression> {
        match self.words.get(id) {
            Some(Word::Relation { body, .. }) => vec![body],
            Some(Word::Arguments { values }) => values.iter().map(|(_, tree)| tree).collect(),
            _ => Vec::new(),
        }
    }
}

impl Names for Vocabulary {
    fn find(&self, name: &str) -> Option<Meaning<'_>> {
        Some(match self.words.get(name)? {
            Word::Value { variable, kind } => Meaning::Value { variable: *variable, kind: *kind },
            Word::Truth { variable } => Meaning::Bool { variable: *variable },
            Word::Choice { variable, options } => Meaning::Choice {
                variable: *variable,
                options: options.iter().map(String::as_str).collect(),
            },
            Word::Table { variable, columns } => Meaning::Table {
                variable: *variable,
                columns: columns.iter().map(|(name, kind)| (name.as_str(), *kind)).collect(),
            },
            Word::Relation { given, body } => Meaning::Relation { given, body },
            Word::Arguments { values } => Meaning::Arguments { values },
            Word::Inline { node, id } => Meaning::Inline { node, id: *id },
            Word::Later => Meaning::Later,
            Word::Faulty => Meaning::Faulty,
        })
    }

    fn all(&self) -> Vec<&str> {
        self.words.keys().map(String::as_str).collect()
    }
}
