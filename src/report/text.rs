//! The conclusion as text for a terminal or a printer.

use super::braille::braille;
use super::document::{Block, Document, Entry, Room, Table, document, first_page};
use super::drawing::{Drawing, letter};
use super::model::Conclusion;
use crate::text::{Clean, columns, wrapped};

/// On a narrower page details go to the left, so that they keep some room.
const NARROW: usize = 60;
/// No page is narrower.
const NARROWEST: usize = 20;
const INDENT: &str = "  ";
/// A first column of a table that is wrapped keeps so many columns at least.
const MIN_ROOM: usize = 24;
/// The head over the first column is wrapped to so many columns at least.
const SHORTEST: usize = 8;
/// Between two columns of a table.
const GAP: &str = "  ";

/// The conclusion as lines of at most `width` columns, 20 at least.
#[must_use]
pub fn text(conclusion: &Conclusion, width: usize) -> Clean {
    let mut page = Page { width: width.max(NARROWEST), lines: Vec::new() };
    page.document(&document(conclusion));
    Clean::new(page.lines.join("\n") + "\n")
}

/// So many lines fit on one screen.
const SCREEN: usize = 45;

/// The first page alone, on one screen of 80 columns where that can be: what to mind, what is wrong,
/// what to do now. `commands` say how to go on.
#[must_use]
pub fn screen(conclusion: &Conclusion, commands: &[String], width: usize) -> Clean {
    let page = |room: &Room| {
        let mut page = Page { width: width.max(NARROWEST), lines: Vec::new() };
        page.document(&first_page(conclusion, commands, *room));
        page
    };
    let fits = |page: &Page| page.lines.len() <= SCREEN;
    let found = Room::ALL.iter().map(page).find(fits).unwrap_or_else(|| page(&Room::Scarce));
    Clean::new(found.lines.join("\n") + "\n")
}

struct Page {
    width: usize,
    lines: Vec<Clean>,
}

impl Page {
    fn document(&mut self, document: &Document) {
        self.paragraph("", 0, &document.title);
        self.blocks("", &document.opening);
        for section in &document.sections {
            self.lines.push(Clean::default());
            self.paragraph("", 0, section.title.to_uppercase());
            self.blocks(INDENT, &section.blocks);
        }
    }

    fn blocks(&mut self, indent: &str, blocks: &[Block]) {
        for (place, block) in blocks.iter().enumerate() {
            let is_table = |block: &Block| matches!(block, Block::Table(_));
            if is_table(block) && place > 0 && blocks.get(place - 1).is_some_and(is_table) {
                self.lines.push(Clean::default());
            }
            match block {
                Block::Paragraph(text) => self.paragraph(indent, indent.len(), text),
                Block::Warning { level, text } => {
                    let text = format!("{}: {text}", level.to_uppercase());
                    self.paragraph(indent, indent.len() + INDENT.len(), text);
                }
                Block::Points(texts) => {
                    for text in texts {
                        self.marked(&format!("{indent}- "), text);
                    }
                }
                Block::Entries(entries) => self.entries(entries),
                Block::Ticks(texts) => {
                    for text in texts {
                        self.marked(&format!("{indent}[ ] "), text);
                    }
                }
                Block::Table(table) => self.table(table),
                Block::Plot(drawing) => self.plot(drawing),
            }
        }
    }

    /// A paragraph, wrapped.
    fn paragraph(&mut self, mark: &str, further: usize, text: impl Into<Clean>) {
        self.lines.extend(wrapped(text, self.width, &mark.into(), further));
    }

    /// A paragraph behind a mark, its further lines under the text.
    fn marked(&mut self, mark: &str, text: &Clean) {
        self.paragraph(mark, columns(mark), text);
    }

    fn entries(&mut self, entries: &[Entry]) {
        let widest = entries.iter().map(|entry| columns(&entry.mark)).max().unwrap_or(0);
        for entry in entries {
            let gap =
                if widest == 0 { String::new() } else { format!("{:>1$}  ", entry.mark, widest) };
            let mark = format!("{INDENT}{gap}");
            self.marked(&mark, &entry.title);
            let under = if self.width < NARROW { INDENT.len() * 2 } else { columns(&mark).max(4) };
            for detail in &entry.details {
                let indent = " ".repeat(under);
                let label = match detail.label {
                    "" => String::new(),
                    label if detail.is_formula => format!("{label} "),
                    label => format!("{label}: "),
                };
                self.paragraph(&indent, under + 2, format!("{label}{}", detail.text));
            }
        }
    }

    /// Columns side by side where they fit; else with the first one wrapped, where that leaves it
    /// room; else each row by itself.
    fn table(&mut self, table: &Table) {
        let rows = || std::iter::once(&table.head).chain(&table.rows);
        let widths: Vec<usize> = (0..table.head.len())
            .map(|column| rows().map(|row| width_wanted(row, column)).max().unwrap_or(0))
            .collect();
        let Some((first, others)) = widths.split_first() else { return };
        let behind = others.iter().map(|width| GAP.len() + width).sum::<usize>();
        let room = self.width.saturating_sub(INDENT.len() + behind);
        let names = table.rows.iter().map(|row| width_wanted(row, 0)).max().unwrap_or(0);
        if room >= names.clamp(SHORTEST, MIN_ROOM) {
            rows().for_each(|row| self.side_by_side(row, &widths, room.min(*first)));
        } else {
            self.by_itself(&table.head);
            table.rows.iter().for_each(|row| self.by_itself(row));
        }
    }

    fn side_by_side(&mut self, row: &[Clean], widths: &[usize], room: usize) {
        let Some((first, others)) = row.split_first() else { return };
        let cells = others.iter().zip(widths.iter().skip(1));
        let behind: String =
            cells.map(|(cell, width)| format!("{GAP}{}", filled(cell, *width))).collect();
        for (place, line) in wrapped(first, room.max(1), &Clean::default(), 0).iter().enumerate() {
            let behind = if place == 0 { behind.as_str() } else { "" };
            let line = format!("{INDENT}{}{behind}", filled(line, room));
            self.lines.push(Clean::new(line.replace('\u{a0}', " ").trim_end()));
        }
    }

    /// On one line where it fits, else what stands behind the first cell below it.
    fn by_itself(&mut self, row: &[Clean]) {
        let under = INDENT.len() * 2;
        let line = row.join(GAP);
        match row.split_first() {
            Some((first, others)) if INDENT.len() + columns(&line) > self.width => {
                self.paragraph(INDENT, INDENT.len(), first);
                self.paragraph(&" ".repeat(under), under, others.join(GAP).trim_end());
            }
            _ => self.paragraph(INDENT, under, line.trim_end()),
        }
    }

    fn plot(&mut self, drawing: &Drawing) {
        let lines = braille(drawing, self.width - INDENT.len());
        self.lines.extend(lines.iter().map(|line| Clean::new(format!("{INDENT}{line}"))));
        for (place, mark) in drawing.marks.iter().enumerate() {
            self.marked(&format!("{INDENT}{}  ", letter(place)), &mark.title);
        }
    }
}

/// A text with spaces behind it up to so many columns.
fn filled(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(columns(text))))
}

/// What a cell asks of its column. The last one of a row may run on to the right.
fn width_wanted(row: &[Clean], column: usize) -> usize {
    let runs_on = column > 0 && row.iter().skip(column + 1).all(|cell| cell.is_empty());
    if runs_on && column + 1 < row.len() {
        0
    } else {
        row.get(column).map_or(0, |cell| columns(cell))
    }
}
