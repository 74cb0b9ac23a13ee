//! The conclusion as a document: what is said, in which order and in which words, for every form
//! that people read. The order is that of the work: what not to do, what it comes to, what is
//! wrong, what to do, and only then the numbers. How it looks is left to the forms.

mod block;
mod causes;
mod cured;
mod first_page;
mod given;
mod numbers;
mod opening;
mod room;
mod sources;
mod work;

use super::model::Conclusion;
use crate::report::words::set;
use sources::Sources;

pub(super) use block::{Block, Detail, Document, Entry, Table};
pub(super) use first_page::first_page;
pub(super) use room::Room;

/// All that a conclusion has to say to a person.
pub(super) fn document(conclusion: &Conclusion) -> Document {
    let mut sources = Sources::default();
    let mut sections = Vec::new();
    sections.extend(opening::stops(conclusion));
    sections.extend(opening::internal_error(conclusion));
    sections.extend(opening::clash(conclusion));
    sections.extend(opening::in_short(conclusion));
    sections.extend(opening::after_the_repair(conclusion));
    sections.extend(work::planned(conclusion, None));
    if cured::is_cured(conclusion) {
        sections.extend(work::put_back(conclusion));
        sections.extend(cured::to_watch(conclusion));
    } else {
        sections.extend(causes::causes(conclusion));
        sections.extend(work::next(conclusion));
        sections.extend(work::put_back(conclusion));
    }
    sections.extend(numbers::at_a_glance(conclusion));
    sections.extend(numbers::workings(conclusion, &mut sources));
    sections.extend(numbers::refused(conclusion));
    sections.extend(numbers::curves(conclusion, &mut sources));
    sections.extend(given::answers(conclusion));
    sections.extend(given::assumptions(conclusion, &mut sources));
    sections.extend(given::not_known(conclusion));
    sections.extend(work::cautions(conclusion));
    sections.push(work::the_law());
    sections.extend(sources.section());
    Document {
        title: set(opening::title(conclusion)),
        opening: opening::supposed(conclusion),
        sections,
    }
}
