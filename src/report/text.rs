//! The conclusion as text for a terminal or a printer.

use textwrap::WordSplitter;

use super::braille::braille;
use super::columns::columns;
use super::document::{Block, Document, Entry, Safe, Table, document};
use super::drawing::{Drawing, letter};
use super::model::Conclusion;

/// On a narrower page details go to the left, so that they keep some room.
const NARROW: usize = 60;
/// No page is narrower.
const NARROWEST: usize = 20;
const INDENT: &str = "  ";
/// Between two columns of a table.
const GAP: &str = "  ";

/// The conclusion as lines of at most `width` columns, 20 at least. `safe` makes foreign text
/// safe.
#[must_use]
pub fn text(conclusion: &Conclusion, width: usize, safe: Safe<'_>) -> String {
    let mut page = Page { width: width.max(NARROWEST), lines: Vec::new() };
    page.document(&document(conclusion, safe));
    page.lines.join("\n") + "\n"
}

struct Page {
    width: usize,
    lines: Vec<String>,
}

impl Page {
    fn document(&mut self, document: &Document) {
        self.paragraph("", "", &document.title);
        self.blocks("", &document.opening);
        for section in &document.sections {
            self.lines.push(String::new());
            self.paragraph("", "", &section.title.to_uppercase());
            self.blocks(INDENT, &section.blocks);
        }
    }

    fn blocks(&mut self, indent: &str, blocks: &[Block]) {
        for block in blocks {
            match block {
                Block::Paragraph(text) => self.paragraph(indent, indent, text),
                Block::Warning { level, text } => {
                    let level = level.to_uppercase();
                    self.paragraph(
                        indent,
                        &format!("{indent}{INDENT}"),
                        &format!("{level}: {text}"),
                    );
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
    fn paragraph(&mut self, first: &str, further: &str, text: &str) {
        let options = textwrap::Options::new(self.width)
            .initial_indent(first)
            .subsequent_indent(further)
            .word_splitter(WordSplitter::NoHyphenation);
        let wrapped = textwrap::wrap(text, options);
        // The spaces that hold a number and its unit together have done their work.
        self.lines
            .extend(wrapped.iter().map(|line| line.replace('\u{a0}', " ").trim_end().to_owned()));
    }

    /// A paragraph behind a mark, its further lines under the text.
    fn marked(&mut self, mark: &str, text: &str) {
        let under = " ".repeat(columns(mark));
        self.paragraph(mark, &under, text);
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
                self.paragraph(&indent, &format!("{indent}  "), &format!("{label}{}", detail.text));
            }
        }
    }

    /// Columns side by side where they fit, else each row as a line of its own.
    fn table(&mut self, table: &Table) {
        let rows = || std::iter::once(&table.head).chain(&table.rows);
        let widths: Vec<usize> = (0..table.head.len())
            .map(|column| rows().map(|row| width_wanted(row, column)).max().unwrap_or(0))
            .collect();
        let fits = widths.iter().map(|width| width + GAP.len()).sum::<usize>() <= self.width;
        for row in rows() {
            let cells = row.iter().zip(&widths).map(|(cell, width)| match fits {
                true => format!("{cell}{}", " ".repeat(width.saturating_sub(columns(cell)))),
                false => cell.clone(),
            });
            let line = cells.collect::<Vec<_>>().join(GAP);
            let under = " ".repeat(INDENT.len() * 2);
            self.paragraph(INDENT, &under, line.trim_end());
        }
    }

    fn plot(&mut self, drawing: &Drawing) {
        let lines = braille(drawing, self.width - INDENT.len());
        self.lines.extend(lines.iter().map(|line| format!("{INDENT}{line}")));
        for (place, mark) in drawing.marks.iter().enumerate() {
            self.marked(&format!("{INDENT}{}  ", letter(place)), &mark.title);
        }
    }
}

/// What a cell asks of its column. The last one of a row may run on to the right.
fn width_wanted(row: &[String], column: usize) -> usize {
    let runs_on = column > 0 && row.iter().skip(column + 1).all(String::is_empty);
    if runs_on && column + 1 < row.len() {
        0
    } else {
        row.get(column).map_or(0, |cell| columns(cell))
    }
}
