//! A person written down beforehand: takes the answers from a list and keeps all that was said.
//! For tests and for recorded interviews.

use std::collections::VecDeque;

use console::Key;

use crate::terminal::screen::menu::{Marking, Menu, Pressed, no_such_word};
use crate::terminal::screen::page::Page;
use crate::terminal::screen::prompter::{Blank, Ended, Prompter};
use crate::terminal::screen::taken::{Chosen, Typed};

/// Answers from a list.
#[derive(Debug, Default)]
pub struct Script {
    lines: VecDeque<String>,
    columns: usize,
    /// All that was said and answered, as a screen would have shown it.
    pub transcript: String,
}

impl Script {
    /// A person who gives these answers, in front of a screen of so many columns: what would be
    /// typed in a line, or the keys pressed in a menu.
    #[must_use]
    pub fn new<T: Into<String>>(lines: impl IntoIterator<Item = T>, columns: usize) -> Self {
        let lines = lines.into_iter().map(Into::into).collect();
        Self { lines, columns, transcript: String::new() }
    }

    /// How many answers were not asked for.
    #[must_use]
    pub fn left(&self) -> usize {
        self.lines.len()
    }

    fn next(&mut self) -> Result<String, Ended> {
        self.lines.pop_front().ok_or(Ended::Gone)
    }

    fn note(&mut self, line: &str) {
        self.transcript.push_str(line.trim_end());
        self.transcript.push('\n');
    }
}

impl Prompter for Script {
    fn say(&mut self, page: &Page) {
        self.transcript.push_str(&page.text(self.columns));
    }

    /// Lines that mean nothing are told so, and the next line is tried.
    fn choose(&mut self, menu: &Menu) -> Result<Chosen, Ended> {
        self.say(&menu.page());
        let mut marking = Marking::new(menu);
        loop {
            let line = self.next()?;
            self.note(&format!("> {line}"));
            for key in line.chars().map(Key::Char).chain([Key::Enter]) {
                match marking.press(&key) {
                    Pressed::Taken(chosen) => return Ok(chosen),
                    Pressed::NoSuchWord(word) => self.say(&no_such_word(&word)),
                    Pressed::Marked | Pressed::Nothing => {}
                }
            }
        }
    }

    fn fill_in(&mut self, blank: &Blank<'_>) -> Result<Typed, Ended> {
        let line = self.next()?;
        self.note(&format!("{} {line}", blank.prompt));
        Ok(Typed::of(&line, blank.commands))
    }
}
