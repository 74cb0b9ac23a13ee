//! The pieces of a document.

use crate::report::drawing::Drawing;
use crate::report::words::set;
use crate::text::Clean;

/// What a person reads, from title to sources. Every text is one line of plain words, safe to
/// show; a form's own markup is escaped by the form.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Document {
    pub(in crate::report) title: Clean,
    /// What is said before the first section.
    pub(in crate::report) opening: Vec<Block>,
    pub(in crate::report) sections: Vec<Section>,
}

#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Section {
    pub(in crate::report) title: Clean,
    pub(in crate::report) blocks: Vec<Block>,
}

impl Section {
    pub(super) fn new(title: impl AsRef<str>) -> Self {
        Self { title: set(title), blocks: Vec::new() }
    }

    pub(super) fn say(&mut self, text: impl AsRef<str>) {
        self.blocks.push(Block::Paragraph(set(text)));
    }

    pub(super) fn warn(&mut self, level: &str, text: &str) {
        self.blocks.push(Block::Warning { level: set(level), text: set(text) });
    }

    pub(super) fn points<T: AsRef<str>>(&mut self, texts: impl IntoIterator<Item = T>) {
        self.blocks.push(Block::Points(all_set(texts)));
    }

    pub(super) fn table(&mut self, head: [&str; 3], rows: impl IntoIterator<Item = [String; 3]>) {
        let rows = rows.into_iter().map(all_set).collect();
        self.blocks.push(Block::Table(Table { head: all_set(head), rows }));
    }

    /// The section, unless it has nothing to say.
    pub(super) fn if_any(self) -> Option<Self> {
        (!self.blocks.is_empty()).then_some(self)
    }
}

pub(super) fn all_set<T: AsRef<str>>(texts: impl IntoIterator<Item = T>) -> Vec<Clean> {
    texts.into_iter().map(set).collect()
}

#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) enum Block {
    Paragraph(Clean),
    /// What can hurt: the level in capitals, then the text.
    Warning {
        level: Clean,
        text: Clean,
    },
    /// A plain list.
    Points(Vec<Clean>),
    Entries(Vec<Entry>),
    /// Things to tick off once done.
    Ticks(Vec<Clean>),
    Table(Table),
    Plot(Drawing),
}

/// An item of a list, with what there is to say about it.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Entry {
    /// A number or a chance before it; may be empty.
    pub(in crate::report) mark: Clean,
    pub(in crate::report) title: Clean,
    pub(in crate::report) details: Vec<Detail>,
}

impl Entry {
    pub(super) fn new(mark: impl AsRef<str>, title: impl AsRef<str>) -> Self {
        Self { mark: set(mark), title: set(title), details: Vec::new() }
    }

    /// Adds a detail, unless it is empty.
    pub(super) fn detail(&mut self, label: &'static str, text: impl AsRef<str>) {
        let text = set(text);
        if !text.is_empty() {
            self.details.push(Detail { label, text, is_formula: false });
        }
    }

    pub(super) fn formula(&mut self, text: impl AsRef<str>) {
        self.details.push(Detail { label: "=", text: set(text), is_formula: true });
    }
}

/// A labelled line below an entry.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Detail {
    /// May be empty.
    pub(in crate::report) label: &'static str,
    pub(in crate::report) text: Clean,
    pub(in crate::report) is_formula: bool,
}

/// A table; every row has as many cells as the head.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Table {
    pub(in crate::report) head: Vec<Clean>,
    pub(in crate::report) rows: Vec<Vec<Clean>>,
}
