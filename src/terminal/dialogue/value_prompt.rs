//! Asking for a measurement: one line, or one line a reading where it is to be repeated.

use crate::interview::{AnswerError, read_measure};
use crate::rules::{Measure, Pack};

use crate::terminal::dialogue::unit_prompt::{Said, confirm, with_unit};
use crate::terminal::screen::command::{AT_A_QUESTION, Command};
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Blank, Ended, Prompter};
use crate::terminal::screen::taken::Typed;

/// What came of asking for one reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::terminal) enum TypedReading {
    /// With its unit.
    Text(String),
    /// An empty line.
    Nothing,
    Command(Command),
}

/// Asks for readings of one quantity.
pub(in crate::terminal) struct ValuePrompt<'a> {
    pub(in crate::terminal) pack: &'a Pack,
    pub(in crate::terminal) measure: &'a Measure,
    /// How many readings are wanted, at least 1.
    pub(in crate::terminal) repeats: usize,
    /// The unit to take where none is typed, once the person has agreed to it.
    pub(in crate::terminal) agreed: Option<String>,
    /// The unit to ask back with in place of the usual one, which the person has used before.
    pub(in crate::terminal) used_before: Option<String>,
}

impl ValuePrompt<'_> {
    /// Asks for the reading with this index until it can be taken. `filled` stands in the line.
    ///
    /// # Errors
    /// [`Ended`] where the conversation can't go on.
    pub(in crate::terminal) fn reading(
        &mut self,
        prompter: &mut dyn Prompter,
        index: usize,
        filled: &str,
    ) -> Result<TypedReading, Ended> {
        let prompt = match self.repeats {
            0 | 1 => ">".to_owned(),
            repeats => format!("{}/{repeats} >", index + 1),
        };
        let mut filled = filled;
        loop {
            let blank = Blank { prompt: &prompt, filled, commands: &AT_A_QUESTION };
            let mut text = match prompter.fill_in(&blank)? {
                Typed::Command(command) => return Ok(TypedReading::Command(command)),
                Typed::Text(text) if text.is_empty() => return Ok(TypedReading::Nothing),
                Typed::Text(text) => text,
            };
            loop {
                match self.taken(prompter, &text)? {
                    Taken::Text(text) => return Ok(TypedReading::Text(text)),
                    Taken::Instead(other) => text = other,
                    Taken::Command(command) => return Ok(TypedReading::Command(command)),
                    Taken::Again => break,
                }
            }
            filled = "";
        }
    }

    /// A line is taken where it reads as a plausible value with a unit.
    fn taken(&mut self, prompter: &mut dyn Prompter, text: &str) -> Result<Taken, Ended> {
        match read_measure(self.pack, self.measure, text) {
            Ok(_) => Ok(Taken::Text(text.to_owned())),
            Err(AnswerError::NoUnit { usual, .. }) => self.without_unit(prompter, text, &usual),
            Err(error) => {
                prompter.say(&trouble(&error));
                Ok(Taken::Again)
            }
        }
    }

    fn without_unit(
        &mut self,
        prompter: &mut dyn Prompter,
        text: &str,
        usual: &str,
    ) -> Result<Taken, Ended> {
        let used_before = self.used_before.clone();
        let usual = used_before.as_deref().unwrap_or(usual);
        let unit = self.agreed.as_deref().unwrap_or(usual);
        let whole = with_unit(text, unit);
        if let Err(error) = read_measure(self.pack, self.measure, &whole) {
            prompter.say(&trouble(&error));
            return Ok(Taken::Again);
        }
        if self.agreed.is_some() {
            return Ok(Taken::Text(whole));
        }
        match confirm(prompter, &whole)? {
            Said::Yes => {
                self.agreed = Some(usual.to_owned());
                Ok(Taken::Text(whole))
            }
            Said::No => {
                prompter.say(&Page::of(Voice::Plain, "Then type the number with its unit."));
                Ok(Taken::Again)
            }
            Said::Command(command) => Ok(Taken::Command(command)),
            Said::Text(text) => Ok(Taken::Instead(text)),
        }
    }

    /// What to type, for a line left empty.
    #[must_use]
    pub(in crate::terminal) fn hint(&self) -> Page {
        let unit = self.used_before.as_deref().unwrap_or(self.measure.unit.symbol());
        let what = if self.measure.unit.is_one() {
            "Type a number".to_owned()
        } else {
            format!("Type a number with its unit, {unit} or another of the same kind")
        };
        Page::of(Voice::Trouble, format!("{what}. Or type c if you can't say, l for later."))
    }
}

enum Taken {
    Text(String),
    /// This line was typed in its place.
    Instead(String),
    Again,
    Command(Command),
}

fn trouble(error: &AnswerError) -> Page {
    Page::of(Voice::Trouble, error.to_string())
}
