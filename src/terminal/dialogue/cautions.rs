//! Cautions as paragraphs, the worst first; levels are told apart in words.

use crate::rules::{CautionId, Level, Pack};

use crate::terminal::screen::page::{Page, Voice};

/// The cautions in the order given.
#[must_use]
pub(in crate::terminal) fn cautions(pack: &Pack, list: &[CautionId]) -> Page {
    let mut page = Page::default();
    for caution in list {
        let caution = &pack.cautions[*caution];
        let voice = match caution.level {
            Level::Stop => Voice::Stop,
            Level::Danger => Voice::Danger,
            Level::Care => Voice::Care,
        };
        page.add(voice, &caution.text);
    }
    page
}
