//! Kinds that follow from other answers: who gives the diameter of a port in the turbine housing has
//! told that the gate is an internal one.

use crate::formula::Node;
use crate::rules::{AnswerForm, Pack, QuestionId};

use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::says_something;
use crate::interview::answers::round::{Answers, Held};

/// Puts the options that are implied by what other questions ask of the car among the answers, as if
/// they had been chosen. `since` tells the round from which on answers count for a choice: a repair may
/// have changed the part.
pub(in crate::interview) fn imply_kinds(
    pack: &Pack,
    held: &mut Answers,
    since: &dyn Fn(QuestionId) -> usize,
) {
    let mut implied: Vec<(QuestionId, usize, usize)> = Vec::new();
    for (question, given) in held.iter().filter(|(question, _)| says_something(held, **question)) {
        let Some(fits) = &pack.questions[*question].fits else { continue };
        for (choice, option) in demanded(pack, &fits.node) {
            if !says_something(held, choice) && given.round >= since(choice) {
                implied.push((choice, option, given.round));
            }
        }
    }
    for (choice, option, round) in &implied {
        let mut others = implied.iter().filter(|(other, ..)| other == choice);
        // Answers that contradict one another imply nothing.
        if others.all(|(_, other, _)| other == option) && !says_something(held, *choice) {
            held.insert(*choice, Held { answer: Answer::Option(*option), round: *round });
        }
    }
}

/// The options that a condition demands, each with its question; no more than is plain.
fn demanded(pack: &Pack, condition: &Node) -> Vec<(QuestionId, usize)> {
    match condition {
        Node::Chosen { variable, option } => {
            let question =
                pack.questions.indices().find(|own| pack.question_slot(*own) == *variable);
            let choices = question.filter(|question| {
                matches!(pack.questions[*question].answer, AnswerForm::Choose(_))
            });
            choices.map(|question| (question, *option)).into_iter().collect()
        }
        Node::And(left, right) => {
            let mut found = demanded(pack, left);
            found.extend(demanded(pack, right));
            found
        }
        _ => Vec::new(),
    }
}
