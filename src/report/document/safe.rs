//! Foreign text made safe, all of a document in one place, before any form lays it out.

use crate::report::drawing::{Drawing, PlotMark};

use super::block::{Block, Detail, Document, Entry, Section, Table};

/// Makes one text safe, and keeps it on one line.
pub type Safe<'a> = &'a dyn Fn(&str) -> String;

pub(super) fn made_safe(document: Document, safe: Safe<'_>) -> Document {
    Document {
        title: safe(&document.title),
        opening: blocks(document.opening, safe),
        sections: document
            .sections
            .into_iter()
            .map(|section| Section {
                title: safe(&section.title),
                blocks: blocks(section.blocks, safe),
            })
            .collect(),
    }
}

fn blocks(blocks: Vec<Block>, safe: Safe<'_>) -> Vec<Block> {
    blocks.into_iter().map(|one| block(one, safe)).collect()
}

fn block(block: Block, safe: Safe<'_>) -> Block {
    match block {
        Block::Paragraph(text) => Block::Paragraph(safe(&text)),
        Block::Warning { level, text } => Block::Warning { level: safe(&level), text: safe(&text) },
        Block::Entries(entries) => {
            Block::Entries(entries.into_iter().map(|one| entry(one, safe)).collect())
        }
        Block::Points(texts) => Block::Points(all(&texts, safe)),
        Block::Ticks(texts) => Block::Ticks(all(&texts, safe)),
        Block::Table(table) => Block::Table(Table {
            head: all(&table.head, safe),
            rows: table.rows.iter().map(|row| all(row, safe)).collect(),
        }),
        Block::Plot(drawing) => Block::Plot(Drawing {
            along: safe(&drawing.along),
            across: safe(&drawing.across),
            marks: drawing
                .marks
                .into_iter()
                .map(|mark| PlotMark { title: safe(&mark.title), ..mark })
                .collect(),
            ..drawing
        }),
    }
}

fn entry(entry: Entry, safe: Safe<'_>) -> Entry {
    Entry {
        mark: safe(&entry.mark),
        title: safe(&entry.title),
        details: entry
            .details
            .into_iter()
            .map(|detail| Detail { text: safe(&detail.text), ..detail })
            .collect(),
    }
}

fn all(texts: &[String], safe: Safe<'_>) -> Vec<String> {
    texts.iter().map(|text| safe(text)).collect()
}
