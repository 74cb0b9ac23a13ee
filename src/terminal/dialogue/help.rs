//! What may be typed, for one who asks.

use crate::terminal::screen::command::Command;
use crate::terminal::screen::page::{Page, Voice};

/// All that may be typed where these commands are taken.
pub(in crate::terminal) fn help(commands: &[Command]) -> Page {
    let mut page = Page::of(Voice::Heading, "What may be typed");
    page.add(
        Voice::Plain,
        "A menu: type the number, or move with the arrow keys; then Enter. A value: the number with its unit, 0.85 bar or 12 psi; a comma does for the point; behind ± one standard uncertainty, if you know it.",
    );
    for line in Command::explained(commands) {
        page.add(Voice::Quiet, line);
    }
    page
}
