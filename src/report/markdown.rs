//! The conclusion as Markdown, for a forum, a ticket or a notebook. Plots are drawn in letters:
//! few places show a picture that stands in the text itself.

use super::braille::braille;
use super::document::{Block, Detail, Document, Entry, Table, document};
use super::drawing::{Drawing, letter};
use super::model::Conclusion;
use crate::text::Clean;

/// Columns of a plot in letters.
const PLOT_COLUMNS: usize = 72;

/// The conclusion as Markdown with tables and task lists.
#[must_use]
pub fn markdown(conclusion: &Conclusion) -> Clean {
    let mut page = Page::default();
    page.document(&document(conclusion));
    Clean::new(page.parts.join("\n\n") + "\n")
}

/// Parts with an empty line between each two.
#[derive(Default)]
struct Page {
    parts: Vec<String>,
}

impl Page {
    fn document(&mut self, document: &Document) {
        self.parts.push(format!("# {}", escaped(&document.title)));
        self.blocks(&document.opening);
        for section in &document.sections {
            self.parts.push(format!("## {}", escaped(&section.title)));
            self.blocks(&section.blocks);
        }
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            let part = match block {
                Block::Paragraph(text) => escaped(text),
                Block::Warning { level, text } => {
                    format!("> **{}**: {}", inline(&level.to_uppercase()), inline(text))
                }
                Block::Points(texts) => {
                    lines(texts.iter().map(|text| format!("- {}", escaped(text))))
                }
                Block::Entries(entries) => lines(entries.iter().map(item)),
                Block::Ticks(texts) => {
                    lines(texts.iter().map(|text| format!("- [ ] {}", escaped(text))))
                }
                Block::Table(table) => self::table(table),
                Block::Plot(drawing) => plot(drawing),
            };
            if !part.is_empty() {
                self.parts.push(part);
            }
        }
    }
}

fn lines(lines: impl Iterator<Item = String>) -> String {
    lines.collect::<Vec<_>>().join("\n")
}

fn item(entry: &Entry) -> String {
    let title = escaped(&entry.title);
    let head = match entry.mark.as_str() {
        "" => format!("- {title}"),
        mark => format!("- **{}** {title}", inline(mark)),
    };
    let details = entry.details.iter().map(|detail| format!("  - {}", self::detail(detail)));
    lines(std::iter::once(head).chain(details))
}

fn detail(detail: &Detail) -> String {
    match detail.label {
        "" => escaped(&detail.text),
        _ if detail.is_formula => code(&detail.text),
        label => format!("{label}: {}", inline(&detail.text)),
    }
}

fn table(table: &Table) -> String {
    let row = |cells: &[Clean]| {
        let cells: Vec<String> = cells.iter().map(|cell| escaped(cell)).collect();
        format!("| {} |", cells.join(" | "))
    };
    let rule = format!("|{}", " --- |".repeat(table.head.len()));
    lines([row(&table.head), rule].into_iter().chain(table.rows.iter().map(|cells| row(cells))))
}

fn plot(drawing: &Drawing) -> String {
    let picture = braille(drawing, PLOT_COLUMNS);
    if picture.is_empty() {
        return String::new();
    }
    // Indented, so that no line of the plot can end it.
    let picture = lines(picture.iter().map(|line| format!("    {line}")));
    let marks = drawing.marks.iter().enumerate();
    let legend = lines(
        marks.map(|(place, mark)| format!("- **{}** {}", letter(place), inline(&mark.title))),
    );
    if legend.is_empty() { picture } else { format!("{picture}\n\n{legend}") }
}

/// A text as code, between more backticks than it has in a row.
fn code(text: &str) -> String {
    let longest = text.split(|letter| letter != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    // Spaces keep a backtick at either end apart from the fence; Markdown takes one off again.
    let space = if longest > 0 { " " } else { "" };
    format!("{fence}{space}{}{space}{fence}", text.trim())
}

/// A text at the beginning of a line that says in Markdown what it says as it stands: no heading,
/// no list, no rule.
fn escaped(text: &str) -> String {
    let text = text.trim();
    match beginning(text) {
        Some(place) => format!("{}\\{}", &text[..place], inline(&text[place..])),
        None => inline(text),
    }
}

/// The same within a line: no markup and no link.
fn inline(text: &str) -> String {
    let text = text.trim();
    let mut escaped = String::new();
    for (place, letter) in text.char_indices() {
        let is_markup = matches!(
            letter,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '^' | '&' | '$' | '@'
        );
        let makes_a_link = (letter == ':' && text[place..].starts_with("://"))
            || (letter == '.' && text[..place].to_ascii_lowercase().ends_with("www"));
        if is_markup || makes_a_link {
            escaped.push('\\');
        }
        escaped.push(letter);
    }
    escaped
}

/// The place of what would make a heading, a list or a rule at the beginning of a line.
fn beginning(text: &str) -> Option<usize> {
    let digits = text.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(text.len());
    let mut behind = text[digits..].chars();
    let (sign, next) = (behind.next()?, behind.next());
    match sign {
        // A number with a decimal point is no list.
        '.' | ')' if digits > 0 && next.is_none_or(char::is_whitespace) => Some(digits),
        '-' if digits == 0 && next.is_some_and(|next| next.is_ascii_digit()) => None,
        '#' | '-' | '+' | '=' | ':' if digits == 0 => Some(0),
        _ => None,
    }
}
