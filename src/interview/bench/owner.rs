//! The owner of a drawn car, who answers questions: by its answers, with a wrong word or a slip as often
//! as the pack says. What is read off altogether is so once, for all that rests on it.

use rand::RngExt;
use rand_xoshiro::Xoshiro256PlusPlus;

use crate::formula::InputValue;
use crate::rules::{AnswerForm, Measure, QuestionId, TypedIndex};

use crate::interview::answers::answer::{Answer, Reading, usual_uncertainty};
use crate::interview::bench::frame::Frame;
use crate::interview::bench::showing::{Values, deviation};

/// What the owner says to a question; what the car hasn't got, and tables, can't be said.
pub(in crate::interview) fn answer(
    frame: &Frame<'_>,
    values: &Values,
    question: QuestionId,
    chance: &mut Xoshiro256PlusPlus,
) -> Answer {
    let asked = &frame.pack.questions[question];
    let fits = asked.fits.as_ref();
    if fits.is_some_and(|fits| frame.plain(values).holds(fits) == Ok(false)) {
        return Answer::CantSay;
    }
    if let AnswerForm::AnyOf(options) = &asked.answer {
        let mut picked = options.clone();
        picked.retain(|option| {
            let truth = values[option.index()] == Some(InputValue::Bool(true));
            let seldom = asked.overlooked.filter(|_| truth).unwrap_or(1.0 - asked.right());
            let wrong = chance.random::<f64>() < seldom;
            truth != wrong
        });
        return Answer::Picked(picked);
    }
    let wrong = chance.random::<f64>() >= asked.right();
    match (&asked.answer, &values[question.index()]) {
        (AnswerForm::YesOrNo, Some(InputValue::Bool(truth))) => Answer::Truth(*truth != wrong),
        (AnswerForm::Choose(options), Some(InputValue::Option(option))) => {
            let others = options.len() - 1;
            let shift = if wrong && others > 0 { 1 + chance.random_range(0..others) } else { 0 };
            Answer::Option((option + shift) % options.len())
        }
        (AnswerForm::Measure(measure), Some(InputValue::Number { value, .. })) => {
            Answer::Number(reading(frame, measure, *value, wrong, chance))
        }
        _ => Answer::CantSay,
    }
}

/// A reading of a value; a slip is anywhere in the plausible range.
fn reading(
    frame: &Frame<'_>,
    measure: &Measure,
    value: f64,
    slips: bool,
    chance: &mut Xoshiro256PlusPlus,
) -> Reading {
    let read = match (measure.from, measure.to) {
        (Some(from), Some(to)) if slips => from + chance.random::<f64>() * (to - from),
        _ => value + usual_uncertainty(frame.pack, measure, value) * deviation(chance),
    };
    let read = measure.from.map_or(read, |from| read.max(from));
    let value = measure.to.map_or(read, |to| read.min(to));
    let uncertainty = usual_uncertainty(frame.pack, measure, value);
    Reading { value, uncertainty, unit: measure.unit.clone() }
}
