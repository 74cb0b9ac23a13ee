//! What a complaint says by itself, so that nobody is asked for it again.

use std::sync::Arc;

use crate::formula::{Evaluator, Formula, Input, InputValue, Node, VarId};
use crate::rules::{AnswerForm, FindingId, Pack, QuestionId, VarOwner};

/// The questions to which these findings are the answer: one option, or a yes that makes the finding
/// true whatever else is known.
pub(in crate::interview) fn told_by<'f>(
    pack: &Pack,
    findings: impl Iterator<Item = &'f FindingId>,
) -> Vec<QuestionId> {
    findings.filter_map(|finding| told(pack, &pack.findings[*finding].when)).collect()
}

fn told(pack: &Pack, when: &Formula) -> Option<QuestionId> {
    let question = |slot: VarId| match pack.owner_of(slot) {
        VarOwner::Question(question) => Some(question),
        _ => None,
    };
    match when.node {
        Node::Answered(slot) | Node::Chosen { variable: slot, .. } => question(slot),
        _ => when.node.reads().into_iter().filter_map(question).find(|question| {
            let is_yes_or_no = matches!(pack.questions[*question].answer, AnswerForm::YesOrNo);
            is_yes_or_no && holds_by_yes(pack, when, *question)
        }),
    }
}

/// Whether a truth holds once this question is answered with yes, and nothing else is known.
fn holds_by_yes(pack: &Pack, when: &Formula, question: QuestionId) -> bool {
    let mut inputs = vec![Input::default(); pack.questions.len()];
    let yes = Input { value: Some(InputValue::Bool(true)), known: true, ..Input::default() };
    let VarId(slot) = pack.question_slot(question);
    let Some(own) = inputs.get_mut(slot) else { return false };
    *own = yes;
    let evaluator = Evaluator::new(inputs, Vec::new(), &[], Arc::default());
    evaluator.weigh(when).and_then(|weight| weight.decided()).is_some_and(|chance| chance > 0.5)
}
