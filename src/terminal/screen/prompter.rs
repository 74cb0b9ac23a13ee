//! Who puts a question to the person: a terminal, or a script in its place.

use crate::terminal::screen::command::Command;
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::Page;
use crate::terminal::screen::taken::{Chosen, Typed};

/// The conversation can't go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// Ctrl-C, or told to end by the system.
    Interrupted,
    /// Nobody is there any more: the terminal was closed, or the script is at its end.
    Gone,
}

/// A line to be typed.
#[derive(Debug, Clone, Copy)]
pub struct Blank<'a> {
    /// Stands before the line; short.
    pub prompt: &'a str,
    /// Stands in the line already: kept by Enter, changed by Backspace or an arrow key, replaced by
    /// typing.
    pub filled: &'a str,
    pub commands: &'a [Command],
}

/// Puts questions to a person. What was typed before a prompt shows does not answer it.
pub trait Prompter {
    /// Says something.
    fn say(&mut self, page: &Page);

    /// Lets one option be chosen. The options were not said before.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on.
    fn choose(&mut self, menu: &Menu) -> Result<Chosen, Ended>;

    /// Lets a line be typed.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on.
    fn fill_in(&mut self, blank: &Blank<'_>) -> Result<Typed, Ended>;
}
