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

/// How a line is meant, for whoever can colour it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    Plain,
    /// Of a warning of level stop.
    Stop,
    /// Of a warning of level danger.
    Danger,
}

/// Lines of text and how each is meant.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Toned {
    pub lines: Vec<(Tone, Clean)>,
}

impl Toned {
    /// The lines alone.
    #[must_use]
    pub fn plain(&self) -> Clean {
        let lines: Vec<&str> = self.lines.iter().map(|(_, line)| line.as_str()).collect();
        Clean::new(lines.join("\n") + "\n")
    }
}

/// The conclusion as lines of at most `width` columns, 20 at least.
#[must_use]
pub fn text(conclusion: &Conclusion, width: usize) -> Clean {
    text_in_tones(conclusion, width).plain()
}

/// The same, and how each line is meant.
#[must_use]
pub fn text_in_tones(conclusion: &Conclusion, width: usize) -> Toned {
    Page::of(&document(conclusion), width).toned
}

/// So many lines fit on one screen.
const SCREEN: usize = 45;

/// The first page alone, on one screen of 80 columns where that can be: what to mind, what is wrong,
/// what to do now. `commands` say how to go on.
#[must_use]
pub fn screen(conclusion: &Conclusion, commands: &[String], width: usize) -> Clean {
    screen_in_tones(conclusion, commands, width).plain()
}

/// The same, and how each line is meant.
#[must_use]
pub fn screen_in_tones(conclusion: &Conclusion, commands: &[String], width: usize) -> Toned {
    let page = |room: Room, more_sizes| {
        Page::of(&first_page(conclusion, commands, room, more_sizes), width).toned
    };
    let free = |page: &Toned| SCREEN.checked_sub(page.lines.len());
    let fitting = Room::ALL.into_iter().find(|room| free(&page(*room, 0)).is_some());
    let room = fitting.unwrap_or(Room::Least);
    let first = page(room, 0);
    // What is left of the screen goes to sizes; each takes a line, unless it is wrapped.
    let most = free(&first).unwrap_or(0);
    let fuller = (1..=most).rev().map(|more| page(room, more));
    fuller.into_iter().find(|page| free(page).is_some()).unwrap_or(first)
}

struct Page {
    width: usize,
    toned: Toned,
}

impl Page {
    fn of(document: &Document, width: usize) -> Self {
        let mut page = Self { width: width.max(NARROWEST), toned: Toned::default() };
        page.document(document);
        page
    }

    fn line(&mut self, line: Clean) {
        self.toned.lines.push((Tone::Plain, line));
    }

    /// What can hurt, in the tone of its level.
    fn warning(&mut self, indent: &str, level: &str, text: &str) {
        let tone = match level {
            "stop" => Tone::Stop,
            "danger" => Tone::Danger,
            _ => Tone::Plain,
        };
        let text = format!("{}: {text}", level.to_uppercase());
        let further = indent.len() + INDENT.len();
        let lines = wrapped(text, self.width, &indent.into(), further).into_iter();
        self.toned.lines.extend(lines.map(|line| (tone, line)));
    }

    fn document(&mut self, document: &Document) {
        self.paragraph("", 0, &document.title);
        self.blocks("", &document.opening);
        for section in &document.sections {
            self.line(Clean::default());
            self.paragraph("", 0, section.title.to_uppercase());
            self.blocks(INDENT, &section.blocks);
        }
    }

    fn blocks(&mut self, indent: &str, blocks: &[Block]) {
        for (place, block) in blocks.iter().enumerate() {
            let is_table = |block: &Block| matches!(block, Block::Table(_));
            if is_table(block) && place > 0 && blocks.get(place - 1).is_some_and(is_table) {
                self.line(Clean::default());
            }
            match block {
                Block::Paragraph(text) => self.paragraph(indent, indent.len(), text),
                Block::Warning { level, text } => self.warning(indent, level, text),
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
        let lines = wrapped(text, self.width, &mark.into(), further);
        lines.into_iter().for_each(|line| self.line(line));
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
            self.line(Clean::new(line.replace('\u{a0}', " ").trim_end()));
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
        lines.iter().for_each(|line| self.line(Clean::new(format!("{INDENT}{line}"))));
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
