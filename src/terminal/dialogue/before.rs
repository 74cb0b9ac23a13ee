//! What is said before a question: where the car must be, the set-up to make, what can hurt, and
//! the question itself.

use crate::interview::{Next, State, cautions_with};
use crate::quantity::{Kind, readable_unit};
use crate::rules::{AnswerForm, CautionId, Measure, Pack, Question, QuestionId};
use crate::text::{capital, spaced};

use crate::terminal::dialogue::announced::Announced;
use crate::terminal::dialogue::cautions::cautions;
use crate::terminal::screen::page::{Page, Voice};

/// All that is said before the next question is asked.
#[must_use]
pub(in crate::terminal) fn before(
    state: &State<'_>,
    next: Next,
    announced: &mut Announced,
) -> Page {
    let pack = state.pack;
    let mut page = Page::default();
    if let Some(step) = next.step
        && announced.step != Some(step)
    {
        page.add(Voice::Heading, pack.steps[step].title.as_deref().unwrap_or_default());
        announced.step = Some(step);
    }
    page.extend(car_and_setup(pack, next.question, announced));
    page.extend(asked(pack, next.question));
    page
}

/// The change of car state, the set-up to make, and the cautions. Those of a car state come again
/// with every change into it, the others the first time.
fn car_and_setup(pack: &Pack, question: QuestionId, announced: &mut Announced) -> Page {
    let asked = &pack.questions[question];
    let mut page = Page::default();
    let mut repeated = Vec::new();
    if let Some(car) = asked.car
        && announced.car != Some(car)
    {
        let state = &pack.car_states[car];
        page.add(Voice::Task, format!("Car: {}{}", state.title, minutes(state.minutes)));
        page.add(Voice::Quiet, state.how.as_deref().unwrap_or_default());
        repeated.clone_from(&state.cautions);
        announced.car = Some(car);
    }
    if let Some(setup) = asked.setup
        && announced.setup != Some(setup)
    {
        let setup = &pack.setups[setup];
        page.add(Voice::Task, format!("Set-up: {}{}", setup.title, minutes(setup.minutes)));
        page.add(Voice::Quiet, setup.how.as_deref().unwrap_or_default());
    }
    // A question of memory leaves the car as it is.
    if asked.needs_a_place() {
        announced.setup = asked.setup;
    }
    let with = cautions_with(pack, question);
    let first_time = announced.new_ones(&with);
    let said: Vec<CautionId> = with
        .into_iter()
        .filter(|caution| first_time.contains(caution) || repeated.contains(caution))
        .collect();
    page.extend(cautions(pack, &said));
    page
}

/// The question and what an answer looks like.
#[must_use]
pub(in crate::terminal) fn asked(pack: &Pack, question: QuestionId) -> Page {
    let asked = &pack.questions[question];
    let mut page = Page::of(Voice::Question, &asked.text);
    match &asked.answer {
        AnswerForm::Measure(measure) => {
            page.add(Voice::Quiet, wanted(measure, asked.repeats));
            page.add(Voice::Quiet, normal(asked));
        }
        AnswerForm::Table(columns) => {
            let names: Vec<String> = columns.iter().map(column_with_unit).collect();
            page.add(
                Voice::Quiet,
                format!(
                    "One row at a time: {}. An empty line ends the table.",
                    names.join(", then ")
                ),
            );
            page.add(Voice::Quiet, normal(asked));
        }
        AnswerForm::YesOrNo | AnswerForm::Choose(_) | AnswerForm::AnyOf(_) => {}
    }
    page
}

/// What is normal; nothing where the rules don't say.
pub(in crate::terminal) fn normal(asked: &Question) -> String {
    asked.normal.as_ref().map_or_else(String::new, |normal| format!("Normal: {normal}."))
}

/// `pressure in bar`
fn column_with_unit((column, kind): &(String, Kind)) -> String {
    let (name, unit) = (spaced(column), readable_unit(*kind));
    if unit.is_one() { name } else { format!("{name} in {unit}") }
}

/// `Gauge pressure in bar, 0 to 3 bar. 3 readings, ...`
fn wanted(measure: &Measure, repeats: usize) -> String {
    let kind = capital(&measure.kind.to_string());
    let unit = if measure.unit.is_one() {
        String::new()
    } else {
        format!(" in {}", measure.unit.symbol())
    };
    let range = measure.range().map_or_else(String::new, |range| format!(", {range}"));
    let readings = if repeats > 1 {
        format!(" {repeats} readings, one per line; an empty line ends early.")
    } else {
        String::new()
    };
    format!("{kind}{unit}{range}.{readings}")
}

/// ` (15 min)`, or nothing where it takes no time.
fn minutes(minutes: f64) -> String {
    if minutes > 0.0 { format!(" ({minutes:.0} min)") } else { String::new() }
}
