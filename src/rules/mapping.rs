//! What can be said of a field of a rule file: whether it must be there, the form of its value, what it is
//! for.

use super::yaml::RouteStep;

/// The fields that a mapping may have.
#[derive(Debug)]
pub struct Mapping {
    /// What it is, in a sentence or two. Markdown, as everywhere here.
    pub meaning: &'static str,
    pub fields: &'static [Field],
}

/// One field of a mapping.
#[derive(Debug)]
pub struct Field {
    pub name: &'static str,
    /// Whether the mapping is of no use without it.
    pub must: bool,
    pub holds: Holds,
    pub meaning: &'static str,
}

/// The form of a value.
#[derive(Debug)]
pub enum Holds {
    /// A text, a number or a truth: each is read as the text that stands there.
    Text,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A word for what can be measured.
    Kind,
    /// A list of texts.
    Texts,
    /// One text, or a list of texts.
    OneOrMore,
    /// Names of the author's own or of other entries, each with a text.
    Pairs(Value),
    /// Fields that are fixed.
    Fields(&'static Mapping),
    /// A list of mappings with the same fields.
    List(&'static Mapping),
    /// Entries by id, all with the same fields.
    Section(&'static Mapping),
    /// `yes_or_no`, or a mapping with one of `measure`, `choose`, `any_of` and `table`.
    Answer(&'static Mapping),
    /// Questions, each with an answer as a person gives it: a text, ids, or the rows of a table.
    Answers,
}

/// What stands behind the names of a [`Holds::Pairs`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Value {
    Any,
    /// A chance, or a word for a strength.
    Strength,
    /// The kind of a column: a word for what can be measured.
    Kind,
}

impl Mapping {
    /// The mapping that a route from here leads to.
    pub(super) fn at(&'static self, route: &[RouteStep]) -> Option<&'static Self> {
        match route.iter().try_fold(Spot::Mapping(self), Spot::go)? {
            Spot::Mapping(mapping) => Some(mapping),
            Spot::Entries(_) | Spot::Items(_) => None,
        }
    }
}

/// Somewhere in a rule file.
#[derive(Clone, Copy)]
enum Spot {
    Mapping(&'static Mapping),
    /// Ids lead to mappings.
    Entries(&'static Mapping),
    /// Indices lead to mappings.
    Items(&'static Mapping),
}

impl Spot {
    fn go(self, step: &RouteStep) -> Option<Self> {
        match (self, step) {
            (Self::Mapping(mapping), RouteStep::Key(key)) => {
                let field = mapping.fields.iter().find(|field| field.name == key)?;
                match field.holds {
                    Holds::Fields(inner) | Holds::Answer(inner) => Some(Self::Mapping(inner)),
                    Holds::Section(entries) => Some(Self::Entries(entries)),
                    Holds::List(items) => Some(Self::Items(items)),
                    _ => None,
                }
            }
            (Self::Entries(mapping), RouteStep::Key(_))
            | (Self::Items(mapping), RouteStep::Index(_)) => Some(Self::Mapping(mapping)),
            _ => None,
        }
    }
}

impl Field {
    pub(super) const fn must(mut self) -> Self {
        self.must = true;
        self
    }
}

pub(super) const fn field(name: &'static str, holds: Holds, meaning: &'static str) -> Field {
    Field { name, must: false, holds, meaning }
}

pub(super) const fn text(name: &'static str, meaning: &'static str) -> Field {
    field(name, Holds::Text, meaning)
}

pub(super) const fn texts(name: &'static str, meaning: &'static str) -> Field {
    field(name, Holds::Texts, meaning)
}

pub(super) const fn word(
    name: &'static str,
    words: &'static [&'static str],
    meaning: &'static str,
) -> Field {
    field(name, Holds::Word(words), meaning)
}

pub(super) const fn source() -> Field {
    texts("source", "a list of sources")
}

pub(super) const fn section(name: &'static str, entries: &'static Mapping) -> Field {
    field(name, Holds::Section(entries), entries.meaning)
}
