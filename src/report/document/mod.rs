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

pub(super) use block::{Block, Detail, Document, Entry, Section, Table};
pub(super) use causes::{doubted, is_for_the_plan, worst_doubt};
pub(super) use first_page::first_page;
pub(super) use room::Room;

/// All that a conclusion has to say to a person.
pub(super) fn document(conclusion: &Conclusion) -> Document {
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
        sections.extend(causes_and_work(conclusion));
        sections.extend(work::put_back(conclusion));
    }
    let mut sources = Sources::default();
    sections.extend(basis(conclusion, &mut sources));
    sections.extend(cautions(conclusion));
    sections.extend(sources.section());
    Document {
        title: set(opening::title(conclusion)),
        opening: opening::supposed(conclusion),
        sections,
    }
}

/// What is said behind the first page, on paper that can be folded.
pub(super) struct Details {
    /// Causes, work and cautions.
    pub(super) open: Vec<Section>,
    /// What it all rests on.
    pub(super) folded: Vec<Section>,
}

/// All that the first page leaves out.
pub(super) fn details(conclusion: &Conclusion) -> Details {
    let mut open: Vec<Section> = work::planned(conclusion, None).into_iter().collect();
    if !cured::is_cured(conclusion) {
        open.extend(causes_and_work(conclusion));
    }
    open.extend(cautions(conclusion));
    let mut sources = Sources::default();
    let mut folded = basis(conclusion, &mut sources);
    folded.extend(sources.section());
    Details { open, folded }
}

fn causes_and_work(conclusion: &Conclusion) -> impl Iterator<Item = Section> {
    [causes::causes(conclusion), work::next(conclusion)].into_iter().flatten()
}

fn cautions(conclusion: &Conclusion) -> impl Iterator<Item = Section> {
    work::cautions(conclusion).into_iter().chain([work::the_law()])
}

/// Numbers, answers and assumptions, with the sources they cite.
fn basis(conclusion: &Conclusion, sources: &mut Sources) -> Vec<Section> {
    let mut sections = Vec::new();
    sections.extend(numbers::at_a_glance(conclusion));
    sections.extend(numbers::workings(conclusion, sources));
    sections.extend(numbers::refused(conclusion));
    sections.extend(numbers::curves(conclusion, sources));
    sections.extend(given::answers(conclusion));
    sections.extend(given::assumptions(conclusion, sources));
    sections.extend(given::not_known(conclusion));
    sections
}
