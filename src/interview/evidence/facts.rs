//! What is known at the end of a round: the answers that hold, typical values where nobody
//! measured, and everything worked out from them.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use crate::formula::{Estimate, EvalError, Evaluator, Formula, Memo, Node, VarId, Weight};
use crate::rules::{AnswerForm, ComplaintId, Pack, QuestionId, TypedIndex, WorkingId};

use crate::interview::answers::round::{Answers, says_something};
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::inputs::input;
use crate::interview::evidence::lesson::Learnt;
use crate::interview::evidence::told::told_by;

/// What is known at one moment.
pub struct Facts<'p> {
    pub pack: &'p Pack,
    pub held: Answers,
    pub evaluator: Evaluator<'p>,
    /// What readings have taught, where there were any.
    pub learnt: Option<Arc<Learnt>>,
    /// Questions that the complaint itself answers: with yes, or one option.
    told: Vec<QuestionId>,
}

impl<'p> Facts<'p> {
    /// By answers and typical values alone.
    #[must_use]
    pub fn new(pack: &'p Pack, held: Answers, earlier: &Earlier, memo: &Arc<Memo>) -> Self {
        Self::with(pack, held, earlier, memo, None)
    }

    /// By what readings have taught as well.
    #[must_use]
    pub fn taught(
        pack: &'p Pack,
        held: Answers,
        earlier: &Earlier,
        memo: &Arc<Memo>,
        learnt: Arc<Learnt>,
    ) -> Self {
        Self::with(pack, held, earlier, memo, Some(learnt))
    }

    fn with(
        pack: &'p Pack,
        held: Answers,
        earlier: &Earlier,
        memo: &Arc<Memo>,
        learnt: Option<Arc<Learnt>>,
    ) -> Self {
        let inputs =
            pack.questions.indices().map(|question| input(pack, &held, question)).collect();
        let formulas: Vec<Cow<'p, Formula>> = pack
            .workings
            .iter()
            .map(|(_, working)| earlier.put_into(pack, &held, &working.formula))
            .collect();
        let order: Vec<usize> = pack.working_order.iter().map(|working| working.index()).collect();
        let joint = learnt.as_ref().and_then(|learnt| learnt.joint.clone());
        let besides = learnt.iter().flat_map(|learnt| &learnt.besides);
        let besides = besides.map(|(own, joint)| (pack.question_slot(*own), Arc::clone(joint)));
        let evaluator = Evaluator::conditioned(inputs, formulas, &order, Arc::clone(memo), joint)
            .judging(besides);
        Self { pack, held, evaluator, learnt, told: Vec::new() }
    }

    /// The same, where these complaints were told.
    #[must_use]
    pub(in crate::interview) fn hearing(self, complaints: &[ComplaintId]) -> Self {
        let shown = complaints.iter().flat_map(|complaint| &self.pack.complaints[*complaint].shows);
        let told = told_by(self.pack, shown);
        Self { told, ..self }
    }

    /// Whether the complaint says yes to a question, and nobody answered it since.
    #[must_use]
    pub fn is_told(&self, question: QuestionId) -> bool {
        self.told.contains(&question) && !self.held.contains_key(&question)
    }

    /// Whether a person gave an answer that says something.
    #[must_use]
    pub fn answered(&self, question: QuestionId) -> bool {
        says_something(&self.held, question)
    }

    /// What is known about a truth, if it rests on at least one answer; what rests on assumptions
    /// alone counts neither way.
    #[must_use]
    pub fn weigh(&self, formula: &Formula) -> Option<Weight> {
        if self.rests_on_answers(formula) { self.evaluator.weigh(formula) } else { None }
    }

    /// Whether a condition is more likely than not; not known is not taken. What was left
    /// unanswered decides a condition that asks for it, though it is no evidence.
    #[must_use]
    pub fn holds(&self, formula: &Formula) -> bool {
        let mut asks_what_is_known = false;
        formula.node.walk(&mut |node| asks_what_is_known |= matches!(node, Node::Known(_)));
        let weight = match asks_what_is_known {
            true => self.evaluator.weigh(formula),
            false => self.weigh(formula),
        };
        weight.is_some_and(|weight| weight.probability > 0.5)
    }

    /// Whether a finding asks whether a reading is as with a cause or as without it.
    pub(in crate::interview) fn is_judged(&self, question: QuestionId) -> bool {
        let slot = self.pack.question_slot(question);
        let mut found = false;
        self.pack.findings.iter().for_each(|(_, finding)| {
            finding.when.node.walk(&mut |part| {
                found |= matches!(part, Node::ReadsAs { reading, .. } if *reading == slot);
            });
        });
        found
    }

    fn rests_on_answers(&self, formula: &Formula) -> bool {
        self.questions_below(&formula.node).any(|question| self.answered(question))
    }

    /// The questions that a piece of a formula rests on.
    pub fn questions_below(&self, node: &Node) -> impl Iterator<Item = QuestionId> + use<> {
        self.questions_among(self.evaluator.below(node))
    }

    fn questions_among(&self, slots: BTreeSet<VarId>) -> impl Iterator<Item = QuestionId> + use<> {
        let questions = self.pack.questions.len();
        slots
            .into_iter()
            .filter(move |slot| slot.0 < questions)
            .map(|slot| QuestionId::from_index(slot.0))
    }

    /// The questions of each way to tell a piece of a formula, every one of them wanted on that way.
    #[must_use]
    pub fn ways_to_tell(&self, node: &Node) -> Vec<Vec<QuestionId>> {
        let questions = |way: BTreeSet<VarId>| {
            way.into_iter()
                .filter(|slot| slot.0 < self.pack.questions.len())
                .map(|slot| QuestionId::from_index(slot.0))
                .collect()
        };
        self.evaluator.ways_to_tell(node).into_iter().map(questions).collect()
    }

    /// A working's value with its band, where it can be worked out.
    #[must_use]
    pub fn worked(&self, working: WorkingId) -> Option<Estimate> {
        self.worked_or_why(working).ok()
    }

    /// A working's value with its band.
    ///
    /// # Errors
    /// [`EvalError`] where it can't be worked out.
    pub fn worked_or_why(&self, working: WorkingId) -> Result<Estimate, EvalError> {
        self.evaluator.estimate_at(working.index())
    }

    /// Whether a typical value stands in where nobody measured.
    #[must_use]
    pub fn assumes(&self, question: QuestionId) -> bool {
        let typical = match &self.pack.questions[question].answer {
            AnswerForm::Measure(measure) => measure.typical.is_some(),
            _ => false,
        };
        typical && !self.answered(question)
    }

    /// Which typical values a piece rests on by the branches that are taken.
    #[must_use]
    pub fn assumed(&self, node: &Node) -> Vec<QuestionId> {
        self.questions_among(self.evaluator.taken_below(node))
            .filter(|question| !self.answered(*question) && self.has_typical(*question))
            .collect()
    }

    fn has_typical(&self, question: QuestionId) -> bool {
        match &self.pack.questions[question].answer {
            AnswerForm::Measure(measure) => measure.typical.is_some(),
            _ => false,
        }
    }
}
