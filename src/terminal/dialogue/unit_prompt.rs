//! A number typed without its unit takes the usual one only once the person has seen which and
//! said yes.

use crate::terminal::screen::command::AT_A_CHOICE;
use crate::terminal::screen::command::Command;
use crate::terminal::screen::menu::Menu;
use crate::terminal::screen::page::{Page, Voice};
use crate::terminal::screen::prompter::{Ended, Prompter};
use crate::terminal::screen::taken::Chosen;

/// What a person said to a unit that was supposed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::terminal) enum Said {
    Yes,
    No,
    Command(Command),
    /// Another line in place of the number.
    Text(String),
}

/// The number with its unit behind it: `24 ± 0.2` becomes `24 ± 0.2 mm`, and `24 ± 2 %`
/// `24 mm ± 2 %`.
#[must_use]
pub(in crate::terminal) fn with_unit(text: &str, unit: &str) -> String {
    match text.split_once('±').or_else(|| text.split_once("+/-")).or_else(|| text.split_once("+-"))
    {
        Some((number, spread)) if spread.contains('%') => {
            format!("{} {unit} ± {}", number.trim(), spread.trim())
        }
        _ => format!("{} {unit}", text.trim()),
    }
}

/// Asks whether the unit that was left out is the usual one.
///
/// # Errors
/// [`Ended`] where the conversation can't go on.
pub(in crate::terminal) fn confirm(
    prompter: &mut dyn Prompter,
    with_unit: &str,
) -> Result<Said, Ended> {
    prompter.say(&Page::of(Voice::Question, format!("No unit given. Is it {with_unit}?")));
    match prompter.choose(&Menu::yes_or_no(&AT_A_CHOICE).taking_text())? {
        Chosen::Option(0) => Ok(Said::Yes),
        Chosen::Option(_) | Chosen::Several(_) | Chosen::Command(Command::Back) => Ok(Said::No),
        Chosen::Command(command) => Ok(Said::Command(command)),
        Chosen::Text(text) => Ok(Said::Text(text)),
    }
}
