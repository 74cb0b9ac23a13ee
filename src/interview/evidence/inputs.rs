//! What a question gives to formulas: its answer, else the typical value.

use crate::formula::{Input, InputValue, stream};
use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::Answers;
use crate::rules::{AnswerForm, Pack, QuestionId};

/// What a question gives to formulas, with these answers.
pub(in crate::interview) fn input(pack: &Pack, held: &Answers, question: QuestionId) -> Input {
    let asked = &pack.questions[question];
    let options = match &asked.answer {
        AnswerForm::Choose(options) => options.len(),
        _ => 0,
    };
    let value = match held.get(&question).map(|held| &held.answer) {
        Some(Answer::Truth(truth)) => Some(InputValue::Bool(*truth)),
        Some(Answer::Option(option)) => Some(InputValue::Option(*option)),
        Some(Answer::Picked(picked)) => Some(InputValue::Bool(!picked.is_empty())),
        Some(Answer::Number(reading)) => {
            Some(InputValue::Number { value: reading.value, uncertainty: reading.uncertainty })
        }
        Some(Answer::Table(rows)) => Some(InputValue::Table(rows.clone())),
        Some(Answer::CantSay | Answer::Later) | None => None,
    };
    let known = value.is_some();
    let sure = if is_unpicked(held, question, asked.list) {
        asked.right_unpicked()
    } else {
        asked.right()
    };
    let value = value.or_else(|| match &asked.answer {
        AnswerForm::Measure(measure) => {
            measure.typical.map(|(value, uncertainty)| InputValue::Number { value, uncertainty })
        }
        _ => None,
    });
    let stream = stream(pack.questions.id(question));
    let is_positive = !known && is_positive(&asked.answer);
    Input { value, known, sure, options, stream, is_positive, taught: None }
}

/// Whether a question is an option that was left out when its list was answered.
fn is_unpicked(held: &Answers, question: QuestionId, list: Option<QuestionId>) -> bool {
    let answer = |question: QuestionId| held.get(&question).map(|held| &held.answer);
    let list = list.and_then(answer);
    answer(question) == Some(&Answer::Truth(false))
        && matches!(list, Some(Answer::Picked(picked)) if !picked.contains(&question))
}

/// A typical value that may be off by more than this share, and can't be below 0, is taken to scatter
/// by a factor.
const BY_FACTOR: f64 = 0.2;

/// Whether the typical value of a question can't fall below 0, however far it scatters.
fn is_positive(answer: &AnswerForm) -> bool {
    let AnswerForm::Measure(measure) = answer else { return false };
    let from_zero = measure.from.is_some_and(|from| from >= 0.0);
    from_zero && measure.typical.is_some_and(|(value, uncertainty)| uncertainty > BY_FACTOR * value)
}
