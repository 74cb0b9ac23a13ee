//! The conclusion as a document: what is said, in which order and in which words, for every form
//! that people read. The order is that of the work: what not to do, what it comes to, what is
//! wrong, what to do, and only then the numbers. How it looks is left to the forms.

mod block;
mod causes;
mod cured;
mod given;
mod numbers;
mod opening;
mod safe;
mod sources;
mod work;

use super::model::Conclusion;
use crate::quantity::typeset;
use safe::made_safe;
use sources::Sources;

pub use safe::Safe;

pub(super) use block::{Block, Detail, Document, Entry, Table};

/// All that a conclusion has to say to a person, its foreign text made safe.
pub(super) fn document(conclusion: &Conclusion, safe: Safe<'_>) -> Document {
    made_safe(written(conclusion), &|text| typeset(&safe(text)))
}

fn written(conclusion: &Conclusion) -> Document {
    let mut sources = Sources::default();
    let mut sections = Vec::new();
    sections.extend(opening::stops(conclusion));
    sections.extend(opening::internal_error(conclusion));
    sections.extend(opening::clash(conclusion));
    sections.extend(opening::in_short(conclusion));
    sections.extend(opening::after_the_repair(conclusion));
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
    Document { title: opening::title(conclusion), opening: opening::supposed(conclusion), sections }
}
