//! The sheet on two printed pages: the repair that is next, and of the open questions those that the
//! next steps need.

use super::doubles::without_doubles;
use super::job::{draw, next_repair};
use super::kit::kit;
use super::page::{BOX, Sheet};
use super::plan::plan_of;
use super::wanted::wanted;
use crate::interview::State;
use crate::report::document::{doubted, is_for_the_plan, worst_doubt};
use crate::report::model::{Conclusion, WorkKind};
use crate::rules::QuestionId;
use crate::text::Clean;

/// The lines of two printed pages.
const TWO_PAGES: usize = 120;

/// The sheet in lines of at most `width` columns, on two pages where what is in force and the repair
/// leave that room. `name` is the session's, `car` what the person calls the car.
#[must_use]
pub fn short_sheet(
    state: &State<'_>,
    conclusion: &Conclusion,
    called: (&str, Option<&str>),
    width: usize,
) -> Clean {
    let wanted = wanted(state, conclusion);
    let page = |questions: &[QuestionId]| {
        let plan = plan_of(state, questions);
        lines(&mut Sheet::begin(state, &plan, width), conclusion, called)
    };
    let fitting = (1..=wanted.len()).rev().filter_map(|count| wanted.get(..count)).map(page);
    let fitting = fitting.into_iter().find(|lines| lines.len() <= TWO_PAGES);
    Clean::new(fitting.unwrap_or_else(|| page(&[])).join("\n") + "\n")
}

fn lines(
    sheet: &mut Sheet<'_, '_>,
    conclusion: &Conclusion,
    (name, car): (&str, Option<&str>),
) -> Vec<Clean> {
    let job = next_repair(conclusion);
    let comes_first = is_for_the_plan(conclusion)
        || conclusion.next_work.first().is_some_and(|work| work.kind == WorkKind::Repair);
    sheet.head(name, car);
    sheet.stops();
    if job.is_none() && sheet.plan.parts.is_empty() {
        sheet.nothing_left();
        return std::mem::take(&mut sheet.lines);
    }
    before_all(sheet, conclusion);
    let own = job.iter().flat_map(|job| job.tools.iter().chain(&job.parts)).cloned();
    sheet.kit(&without_doubles(kit(sheet.plan, sheet.pack).into_iter().chain(own)));
    if let Some(job) = job.filter(|_| comes_first) {
        draw(sheet, job, conclusion);
    }
    for part in &sheet.plan.parts {
        sheet.part(part);
    }
    if let Some(job) = job.filter(|_| !comes_first) {
        draw(sheet, job, conclusion);
    }
    afterwards(sheet, name, job.is_some());
    std::mem::take(&mut sheet.lines)
}

/// What to put back before the next drive, and the answer to check again.
fn before_all(sheet: &mut Sheet<'_, '_>, conclusion: &Conclusion) {
    for set_up in &conclusion.put_back {
        sheet.line("");
        sheet.paragraph(&format!("{BOX} PUT BACK: "), set_up);
    }
    if let Some(doubt) = worst_doubt(conclusion) {
        sheet.line("");
        sheet.paragraph(&format!("{BOX} "), &doubted(doubt, true));
    }
}

/// What follows the sheet, and what stands on no page of it.
fn afterwards(sheet: &mut Sheet<'_, '_>, name: &str, repairs: bool) {
    let shown = sheet.plan.questions().filter(|own| sheet.state.open.contains(own)).count();
    if sheet.plan.parts.is_empty() {
        sheet.title("Afterwards");
    } else {
        sheet.foot(name);
    }
    if repairs {
        sheet.paragraph("  ", &format!("After the repair: `boostwright recheck {name}`."));
    }
    let left = match sheet.state.open.len().saturating_sub(shown) {
        0 => return,
        1 => "one more open question, which the next steps don't need".to_owned(),
        left => format!("{left} more open questions, which the next steps don't need"),
    };
    let text = format!(
        "Not on this sheet: {left}. With `boostwright sheet --all {name}` they are printed, too."
    );
    sheet.paragraph("  ", &text);
}
