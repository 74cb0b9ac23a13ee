//! The pieces of a document.

use crate::report::drawing::Drawing;

/// What a person reads, from title to sources. Every text is one line of plain words and may come
/// from a stranger: a form makes it safe.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Document {
    pub(in crate::report) title: String,
    /// What is said before the first section.
    pub(in crate::report) opening: Vec<Block>,
    pub(in crate::report) sections: Vec<Section>,
}

#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Section {
    pub(in crate::report) title: String,
    pub(in crate::report) blocks: Vec<Block>,
}

impl Section {
    pub(super) fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), blocks: Vec::new() }
    }

    pub(super) fn say(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Paragraph(text.into()));
    }

    /// The section, unless it has nothing to say.
    pub(super) fn if_any(self) -> Option<Self> {
        (!self.blocks.is_empty()).then_some(self)
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) enum Block {
    Paragraph(String),
    /// What can hurt: the level in capitals, then the text.
    Warning {
        level: String,
        text: String,
    },
    /// A plain list.
    Points(Vec<String>),
    Entries(Vec<Entry>),
    /// Things to tick off once done.
    Ticks(Vec<String>),
    Table(Table),
    Plot(Drawing),
}

/// An item of a list, with what there is to say about it.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Entry {
    /// A number or a chance before it; may be empty.
    pub(in crate::report) mark: String,
    pub(in crate::report) title: String,
    pub(in crate::report) details: Vec<Detail>,
}

impl Entry {
    pub(super) fn new(mark: impl Into<String>, title: impl Into<String>) -> Self {
        Self { mark: mark.into(), title: title.into(), details: Vec::new() }
    }

    /// Adds a detail, unless it is empty.
    pub(super) fn detail(&mut self, label: &'static str, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() {
            self.details.push(Detail { label, text, is_formula: false });
        }
    }

    pub(super) fn formula(&mut self, text: impl Into<String>) {
        self.details.push(Detail { label: "=", text: text.into(), is_formula: true });
    }
}

/// A labelled line below an entry.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Detail {
    /// May be empty.
    pub(in crate::report) label: &'static str,
    pub(in crate::report) text: String,
    pub(in crate::report) is_formula: bool,
}

/// A table; every row has as many cells as the head.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Table {
    pub(in crate::report) head: Vec<String>,
    pub(in crate::report) rows: Vec<Vec<String>>,
}
