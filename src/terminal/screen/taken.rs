//! What a person chose or typed.

use crate::terminal::screen::command::Command;

/// What a person chose in a menu.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Chosen {
    /// Index of the option.
    Option(usize),
    /// Indices of options, each once, in the order typed; only of a menu that takes several, where it may be none.
    Several(Vec<usize>),
    Command(Command),
    /// A line that is none of the options, trimmed; only of a menu that takes text.
    Text(String),
}

/// What a person typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Typed {
    /// Anything but a command, trimmed; may be empty.
    Text(String),
    Command(Command),
}

impl Typed {
    /// Tells a command from other text.
    #[must_use]
    pub fn of(text: &str, commands: &[Command]) -> Self {
        match Command::of_text(text).filter(|command| commands.contains(command)) {
            Some(command) => Self::Command(command),
            None => Self::Text(text.trim().to_owned()),
        }
    }
}
