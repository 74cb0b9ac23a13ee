//! A number typed without its unit takes the usual one only once the person has seen which and
//! said yes.

use super::command::AT_A_CHOICE;
use super::command::Command;
use super::menu::Menu;
use super::page::{Page, Voice};
use super::prompter::{Chosen, Ended, Prompter};

/// What a person said to a unit that was supposed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Said {
    Yes,
    No,
    Command(Command),
    /// Another line in place of the number.
    Text(String),
}

/// The number with its unit behind it: `24 ± 0.2` becomes `24 ± 0.2 mm`, and `24 ± 2 %`
/// `24 mm ± 2 %`.
#[must_use]
pub(super) fn with_unit(text: &str, unit: &str) -> String {
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
pub(super) fn confirm(prompter: &mut dyn Prompter, with_unit: &str) -> Result<Said, Ended> {
    prompter.say(&Page::of(Voice::Question, format!("No unit was typed. Is it {with_unit}?")));
    match prompter.choose(&Menu::yes_or_no(&AT_A_CHOICE).taking_text())? {
        Chosen::Option(0) => Ok(Said::Yes),
        Chosen::Option(_) | Chosen::Command(Command::Back) => Ok(Said::No),
        Chosen::Command(command) => Ok(Said::Command(command)),
        Chosen::Text(text) => Ok(Said::Text(text)),
    }
}
