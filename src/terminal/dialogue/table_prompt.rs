//! Asking for a table: row by row, cell by cell.

use indexmap::IndexMap;

use crate::quantity::{Kind, Unit, read_as_spelt, readable_unit};
use crate::text::spaced;

use crate::terminal::dialogue::unit_prompt::{Said, confirm, with_unit};
use crate::terminal::screen::command::{AT_A_QUESTION, Command};
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Blank, Ended, Prompter};
use crate::terminal::screen::taken::Typed;

/// One row: the cells by their columns, each with its unit.
pub(in crate::terminal) type Row = IndexMap<String, String>;

/// What came of asking for one row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::terminal) enum RowAnswer {
    Row(Row),
    /// An empty line where a row would have begun.
    End,
    Command(Command),
}

/// Asks for the rows of one table.
pub(in crate::terminal) struct TablePrompt<'a> {
    pub(in crate::terminal) columns: &'a [(String, Kind)],
    /// The columns whose usual unit the person has agreed to.
    pub(in crate::terminal) agreed: Vec<String>,
}

impl TablePrompt<'_> {
    /// Asks for the row with this index. `filled` holds what stood there before, `row` the cells that
    /// were typed before this row was left for a look at the help.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on.
    pub(in crate::terminal) fn row(
        &mut self,
        prompter: &mut dyn Prompter,
        index: usize,
        filled: Option<&Row>,
        row: &mut Row,
    ) -> Result<RowAnswer, Ended> {
        let columns = self.columns;
        while let Some((column, kind)) = columns.get(row.len()) {
            let prompt = format!("row {}, {} >", index + 1, spaced(column));
            let filled = filled.and_then(|row| row.get(column)).map_or("", String::as_str);
            let blank = Blank { prompt: &prompt, filled, commands: &AT_A_QUESTION };
            match prompter.fill_in(&blank)? {
                Typed::Command(Command::Back) if !row.is_empty() => {
                    row.pop();
                }
                Typed::Command(command) => return Ok(RowAnswer::Command(command)),
                Typed::Text(text) if text.is_empty() && row.is_empty() => {
                    return Ok(RowAnswer::End);
                }
                Typed::Text(mut text) => loop {
                    match self.cell(prompter, column, *kind, &text)? {
                        Cell::Text(text) => {
                            row.insert(column.clone(), text);
                        }
                        Cell::Instead(other) => {
                            text = other;
                            continue;
                        }
                        Cell::Again => {}
                        Cell::Command(command) => return Ok(RowAnswer::Command(command)),
                    }
                    break;
                },
            }
        }
        Ok(RowAnswer::Row(std::mem::take(row)))
    }

    fn cell(
        &mut self,
        prompter: &mut dyn Prompter,
        column: &str,
        kind: Kind,
        text: &str,
    ) -> Result<Cell, Ended> {
        let usual: Unit = readable_unit(kind);
        let entry = match read_as_spelt(text, kind, Some(&usual)) {
            Ok(entry) => entry,
            Err(error) => {
                prompter.say(&Page::of(Voice::Trouble, error.to_string()));
                return Ok(Cell::Again);
            }
        };
        if !entry.unit_supposed {
            return Ok(Cell::Text(text.to_owned()));
        }
        let whole = with_unit(text, usual.symbol());
        if self.agreed.iter().any(|known| known == column) {
            return Ok(Cell::Text(whole));
        }
        match confirm(prompter, &whole)? {
            Said::Yes => {
                self.agreed.push(column.to_owned());
                Ok(Cell::Text(whole))
            }
            Said::No => Ok(Cell::Again),
            Said::Command(command) => Ok(Cell::Command(command)),
            Said::Text(text) => Ok(Cell::Instead(text)),
        }
    }
}

enum Cell {
    Text(String),
    /// This line was typed in its place.
    Instead(String),
    Again,
    Command(Command),
}
