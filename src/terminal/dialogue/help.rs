//! What you can type, for one who asks.

use crate::terminal::screen::command::Command;
use crate::terminal::screen::page::{Page, Voice};

/// All that may be typed where these commands are taken.
pub(in crate::terminal) fn help(commands: &[Command]) -> Page {
    let mut page = Page::of(Voice::Heading, "What you can type");
    page.add(
        Voice::Plain,
        "In a menu, type the number or use the arrow keys, then press Enter. For a value, type the \
         number with its unit, such as 0.85 bar or 12 psi; a decimal comma will do. If you know \
         its standard uncertainty, add it after ±.",
    );
    for line in Command::explained(commands) {
        page.add(Voice::Quiet, line);
    }
    page
}
