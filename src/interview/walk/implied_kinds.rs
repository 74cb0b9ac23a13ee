//! What follows from other answers: who gives the diameter of a port in the turbine housing has told that
//! the gate is an internal one, and who tells what a noise sounds like that there is one.

use crate::formula::{Node, VarId};
use crate::rules::{AnswerForm, Pack, QuestionId, VarOwner};

use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::says_something;
use crate::interview::answers::round::{Answers, Held};

/// Puts the options and the yeses that are implied by what other questions ask of the car among the
/// answers, as if they had been given. An answer to the question itself comes first, and "can't say" does if
/// it was given later: so whatever is implied can be taken back. `since` tells the round from which on answers count for a choice: a repair may
/// have changed the part.
pub(in crate::interview) fn imply_kinds(
    pack: &Pack,
    held: &mut Answers,
    since: &dyn Fn(QuestionId) -> usize,
) {
    let mut implied: Vec<(QuestionId, Answer, usize)> = Vec::new();
    for (at, (question, given)) in held.iter().enumerate() {
        let Some(fits) = &pack.questions[*question].fits else { continue };
        if !says_something(held, *question) || pack.questions[*question].list.is_some() {
            continue;
        }
        for (demanded, answer) in demanded(pack, &fits.node) {
            let since_unsaid = held.get_index_of(&demanded).is_some_and(|unsaid| unsaid > at);
            let open = !says_something(held, demanded) && !since_unsaid;
            if open && given.round >= since(demanded) && implies(&answer, &given.answer) {
                implied.push((demanded, answer, given.round));
            }
        }
    }
    for (question, answer, round) in &implied {
        let mut others = implied.iter().filter(|(other, ..)| other == question);
        // Answers that contradict one another imply nothing.
        if others.all(|(_, other, _)| other == answer) && !says_something(held, *question) {
            held.insert(*question, Held { answer: answer.clone(), round: *round });
        }
    }
}

/// Whether an answer implies this: a kind whatever it says, a yes only where it tells of the thing itself.
/// Of a choice one option is often that there is no such thing.
fn implies(this: &Answer, given: &Answer) -> bool {
    match (this, given) {
        (Answer::Truth(_), Answer::Picked(picked)) => !picked.is_empty(),
        (Answer::Truth(_), Answer::Number(_) | Answer::Table(_) | Answer::Truth(true)) => true,
        (Answer::Truth(_), _) => false,
        _ => true,
    }
}

/// The answers that a condition demands, each with its question; no more than is plain.
fn demanded(pack: &Pack, condition: &Node) -> Vec<(QuestionId, Answer)> {
    let question = |variable: &VarId| match pack.owner_of(*variable) {
        VarOwner::Question(question) => Some(&pack.questions[question]).zip(Some(question)),
        _ => None,
    };
    match condition {
        Node::Chosen { variable, option } => question(variable)
            .filter(|(asked, _)| matches!(asked.answer, AnswerForm::Choose(_)))
            .map(|(_, question)| (question, Answer::Option(*option)))
            .into_iter()
            .collect(),
        Node::Answered(variable) => question(variable)
            .filter(|(asked, _)| matches!(asked.answer, AnswerForm::YesOrNo))
            .map(|(_, question)| (question, Answer::Truth(true)))
            .into_iter()
            .collect(),
        Node::And(left, right) => {
            let mut found = demanded(pack, left);
            found.extend(demanded(pack, right));
            found
        }
        _ => Vec::new(),
    }
}
