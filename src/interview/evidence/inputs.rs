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
        Some(Answer::Number(reading)) => {
            Some(InputValue::Number { value: reading.value, uncertainty: reading.uncertainty })
        }
        Some(Answer::Table(rows)) => Some(InputValue::Table(rows.clone())),
        Some(Answer::CantSay | Answer::Later) | None => None,
    };
    let known = value.is_some();
    let value = value.or_else(|| match &asked.answer {
        AnswerForm::Measure(measure) => {
            measure.typical.map(|(value, uncertainty)| InputValue::Number { value, uncertainty })
        }
        _ => None,
    });
    let stream = stream(pack.questions.id(question));
    Input { value, known, sure: asked.right(), options, stream }
}
