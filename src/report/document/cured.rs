//! What is left to say once the complaint is gone: what to keep an eye on.

use crate::quantity::print_chance;
use crate::report::model::Conclusion;
use crate::text::{capital, listed};

use super::block::Section;

/// A cause this likely in spite of the cure is where to look first, should it come back.
const WORTH_WATCHING: f64 = 0.1;
const MAX_WATCHED: usize = 3;

/// Whether the last repair cured it, and no answers clash.
pub(super) fn is_cured(conclusion: &Conclusion) -> bool {
    let cured = conclusion.verdict.as_ref().is_some_and(|verdict| verdict.verdict == "cured");
    cured && conclusion.contradiction.is_none()
}

pub(super) fn to_watch(conclusion: &Conclusion) -> Option<Section> {
    let verdict = conclusion.verdict.as_ref()?;
    let mut points = Vec::new();
    let title = verdict.judged_by_title.as_deref().map(capital);
    match (title, &verdict.before, &verdict.after) {
        (Some(title), Some(before), Some(after)) => points.push(format!(
            "{title}: {} now, {} before. Read it again on the next few drives. If it drifts back, \
             the fault is still there.",
            after.shown.best, before.shown.best
        )),
        _ => points.push(
            "Watch for the old trouble on the next few drives. If it comes back, the fault is \
             still there."
                .to_owned(),
        ),
    }
    let suspects: Vec<String> = conclusion
        .causes
        .iter()
        .filter(|cause| cause.probability >= WORTH_WATCHING)
        .take(MAX_WATCHED)
        .map(|cause| format!("{} ({})", cause.title, print_chance(cause.probability)))
        .collect();
    if !suspects.is_empty() {
        points.push(format!(
            "Not ruled out, and the first thing to look at if it does: {}.",
            listed(&suspects)
        ));
    }
    let mut section = Section::new("What to keep an eye on");
    section.points(points);
    section.if_any()
}
