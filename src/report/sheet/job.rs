//! The repair that is next: how it is done, by which numbers, and what it should bring.

use super::page::{BLANK, BOX, Sheet};
use crate::report::document::is_for_the_plan;
use crate::report::model::{Conclusion, SizeLine, WorkKind, WorkLine};
use crate::report::words::duration;
use crate::text::capital;

/// What is planned where a plan is all that was asked for; else the first repair of the work ahead.
pub(super) fn next_repair(conclusion: &Conclusion) -> Option<&WorkLine> {
    if is_for_the_plan(conclusion) {
        return conclusion.planned.first();
    }
    let repair = conclusion.next_work.iter().find(|work| work.kind == WorkKind::Repair);
    repair.or(conclusion.planned.first())
}

/// Draws a repair, with room to sign that it was done.
pub(super) fn draw(sheet: &mut Sheet<'_, '_>, job: &WorkLine, conclusion: &Conclusion) {
    sheet.title(&format!("{} ({})", job.title, duration(job.minutes)));
    for (level, text) in cautions(job, conclusion) {
        sheet.paragraph(&format!("  {level}: "), text);
    }
    if let Some(check) = &job.after_check {
        sheet.paragraph("  Only once this is checked: ", &check.text);
    }
    for question in &job.missing {
        sheet.paragraph("  Measure this first: ", &question.text);
    }
    let plain = [("How", job.how.clone().unwrap_or_default()), ("Expect", job.expect.clone())];
    for (name, text) in plain.iter().filter(|(_, text)| !text.is_empty()) {
        sheet.paragraph(&format!("  {name}: "), text);
    }
    for size in &job.sizes {
        sheet.paragraph(&format!("  {BOX} "), &sized(size));
    }
    sheet.line("");
    sheet.line(&format!("  {BOX} Done {BLANK}"));
}

/// Its cautions by level and text; what is in force stands at the top of the sheet.
fn cautions<'c>(
    job: &'c WorkLine,
    conclusion: &'c Conclusion,
) -> impl Iterator<Item = (String, &'c str)> {
    let own = conclusion.cautions.iter().filter(|caution| job.cautions.contains(&caution.id));
    own.filter(|caution| !caution.in_force)
        .map(|caution| (caution.level.to_uppercase(), caution.text.as_str()))
}

fn sized(size: &SizeLine) -> String {
    let band = size.shown.band.as_ref().map_or_else(String::new, |band| format!(" ({band})"));
    format!("{}: {}{band}", capital(&size.title), size.shown.best)
}
