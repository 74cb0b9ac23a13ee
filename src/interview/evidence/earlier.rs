//! What was known in earlier rounds, for workings that look back: a match keeps the observation that
//! it was made on, with all that went into it, after a repair has changed some of that.

use std::borrow::Cow;
use std::collections::HashMap;

use crate::formula::{Formula, Input, InputValue, Node, VarId};
use crate::rules::{Pack, QuestionId, RepairId, VarOwner, WorkingId};

use crate::interview::answers::round::Answers;
use crate::interview::answers::round::says_something;
use crate::interview::evidence::inputs::input;

/// The most pieces that a formula is written out to: rule files come from strangers.
const MAX_PIECES: usize = 20_000;

/// The answers that held at the end of each earlier round, and the repair that followed.
#[derive(Debug, Clone, Default)]
pub struct Earlier {
    rounds: Vec<(Answers, Option<RepairId>)>,
}

impl Earlier {
    /// The answers at the end of each earlier round, and the repair that followed.
    pub(in crate::interview) fn rounds(&self) -> &[(Answers, Option<RepairId>)] {
        &self.rounds
    }

    pub(in crate::interview) fn add(&mut self, held: Answers, repair: Option<RepairId>) {
        self.rounds.push((held, repair));
    }

    /// What held in the earlier round in which a question was last answered; none where it was
    /// answered in the present round or never, or a repair since made one of those kept stale.
    fn when_answered(
        &self,
        pack: &Pack,
        now: &Answers,
        of: QuestionId,
        kept: &[QuestionId],
    ) -> Option<&Answers> {
        let answered_in = |held: &Answers, round: usize| {
            says_something(held, of) && held.get(&of).is_some_and(|held| held.round == round)
        };
        if answered_in(now, self.rounds.len()) {
            return None;
        }
        for (round, (held, repair)) in self.rounds.iter().enumerate().rev() {
            let touches = |repair: RepairId| {
                kept.iter().any(|kept| pack.repairs[repair].invalidates.contains(kept))
            };
            if repair.is_some_and(touches) {
                return None;
            }
            if answered_in(held, round) {
                return Some(held);
            }
        }
        None
    }

    /// What held in the earlier round in which a question was first answered.
    fn when_first(&self, of: QuestionId) -> Option<&Answers> {
        let answered = |(held, _): &&(Answers, Option<RepairId>)| says_something(held, of);
        self.rounds.iter().find(answered).map(|(held, _)| held)
    }

    /// The first so many rounds alone.
    pub(in crate::interview) fn until(&self, round: usize) -> Self {
        Self { rounds: self.rounds.iter().take(round).cloned().collect() }
    }

    /// A formula in which what looks back is written out.
    pub(in crate::interview) fn put_into<'f>(
        &self,
        pack: &Pack,
        now: &Answers,
        formula: &'f Formula,
    ) -> Cow<'f, Formula> {
        let mut looks_back = false;
        formula.node.walk(&mut |part| {
            looks_back |= matches!(part, Node::AsOf { .. } | Node::AtFirst { .. })
        });
        if !looks_back || self.rounds.is_empty() {
            return Cow::Borrowed(formula);
        }
        let mut written = formula.clone();
        let mut left = MAX_PIECES;
        written.node = formula.node.replaced(&mut |part| {
            let question = |variable: VarId| match pack.owner_of(variable) {
                VarOwner::Question(question) => Some(question),
                _ => None,
            };
            let (value, of, then) = match part {
                Node::AsOf { value, of, kept } => {
                    let kept: Vec<QuestionId> = kept.iter().copied().filter_map(question).collect();
                    (value, of, self.when_answered(pack, now, question(*of)?, &kept)?)
                }
                Node::AtFirst { value, of } => (value, of, self.when_first(question(*of)?)?),
                _ => return None,
            };
            let mut past = Past {
                pack,
                then,
                now,
                of: *of,
                spreads: std::mem::take(&mut written.spreads),
                chances: written.chances,
                put: HashMap::new(),
                literals: HashMap::new(),
                inner_chances: HashMap::new(),
                touched: HashMap::new(),
                left,
            };
            let found = past.as_then(value, None);
            left = past.left;
            (written.spreads, written.chances) = (past.spreads, past.chances);
            Some(found)
        });
        Cow::Owned(written)
    }
}

/// One formula on its way into the past.
struct Past<'a> {
    pack: &'a Pack,
    then: &'a Answers,
    now: &'a Answers,
    of: VarId,
    /// The literals with `±` of the formula that is written.
    spreads: Vec<(f64, f64)>,
    chances: usize,
    /// What was put for a question: the same uncertain number wherever it is read.
    put: HashMap<QuestionId, Node>,
    /// By working and index there: the index here.
    literals: HashMap<(WorkingId, usize), usize>,
    inner_chances: HashMap<(WorkingId, usize), usize>,
    touched: HashMap<WorkingId, bool>,
    left: usize,
}

impl Past<'_> {
    /// A piece as it was then; `owner` is the working that it is written in, if it isn't the
    /// formula's own.
    fn as_then(&mut self, node: &Node, owner: Option<WorkingId>) -> Node {
        node.replaced(&mut |part| {
            self.left = self.left.saturating_sub(1);
            if self.left == 0 {
                return Some(Node::LeftOut);
            }
            self.other(part, owner)
        })
    }

    fn other(&mut self, part: &Node, owner: Option<WorkingId>) -> Option<Node> {
        match part {
            Node::Read(variable) => match self.pack.owner_of(*variable) {
                VarOwner::Question(question) => self.number_then(question),
                VarOwner::Working(working) => self.working_then(working),
                VarOwner::CurveVariable => None,
            },
            Node::Answered(variable) => Some(match self.changed(*variable)?.value {
                Some(InputValue::Bool(truth)) => Node::Bool(truth),
                _ => Node::LeftOut,
            }),
            Node::Chosen { variable, option } => Some(match self.changed(*variable)?.value {
                Some(InputValue::Option(chosen)) => Node::Bool(chosen == *option),
                _ => Node::LeftOut,
            }),
            Node::Known(variable) => Some(Node::Bool(self.changed(*variable)?.known)),
            // A table of then has no place in a formula.
            Node::Interpolate { table, .. } => self.changed(*table).map(|_| Node::LeftOut),
            Node::Spread { value, uncertainty, index } => {
                let key = (owner?, *index);
                let (value, uncertainty) = (*value, *uncertainty);
                let index = *self.literals.entry(key).or_insert_with(|| {
                    self.spreads.push((value, uncertainty));
                    self.spreads.len() - 1
                });
                Some(Node::Spread { value, uncertainty, index })
            }
            Node::Chance { value, lower, upper, index } => {
                let key = (owner?, *index);
                let mut limit = |limit: &Option<Box<Node>>| {
                    limit.as_ref().map(|limit| Box::new(self.as_then(limit, owner)))
                };
                let (lower, upper) = (limit(lower), limit(upper));
                let value = Box::new(self.as_then(value, owner));
                let index = *self.inner_chances.entry(key).or_insert_with(|| {
                    self.chances += 1;
                    self.chances - 1
                });
                Some(Node::Chance { value, lower, upper, index })
            }
            _ => None,
        }
    }

    /// What stood in a question's variable then, if that isn't what stands there now.
    fn changed(&self, variable: VarId) -> Option<Input> {
        let VarOwner::Question(question) = self.pack.owner_of(variable) else { return None };
        let then = input(self.pack, self.then, question);
        (then != input(self.pack, self.now, question)).then_some(then)
    }

    fn number_then(&mut self, question: QuestionId) -> Option<Node> {
        if let Some(known) = self.put.get(&question) {
            return Some(known.clone());
        }
        let then = self.changed(self.pack.question_slot(question))?;
        let node = match then.value {
            Some(InputValue::Number { value, uncertainty }) if uncertainty > 0.0 => {
                self.spreads.push((value, uncertainty));
                Node::Spread { value, uncertainty, index: self.spreads.len() - 1 }
            }
            Some(InputValue::Number { value, .. }) => Node::Number(value),
            _ => Node::LeftOut,
        };
        self.put.insert(question, node.clone());
        Some(node)
    }

    /// A working's formula as it was then; none where nothing below it has changed, or it looks back
    /// to the same moment itself.
    fn working_then(&mut self, working: WorkingId) -> Option<Node> {
        let written = &self.pack.workings[working].formula.node;
        if matches!(written, Node::AsOf { of, .. } if *of == self.of) {
            return None;
        }
        self.is_touched(working).then(|| self.as_then(written, Some(working)))
    }

    /// Whether an answer below a working has changed since.
    fn is_touched(&mut self, working: WorkingId) -> bool {
        if let Some(known) = self.touched.get(&working) {
            return *known;
        }
        let reads = self.pack.workings[working].formula.node.reads();
        let touched = reads.into_iter().any(|variable| match self.pack.owner_of(variable) {
            VarOwner::Question(_) => self.changed(variable).is_some(),
            VarOwner::Working(below) => self.is_touched(below),
            VarOwner::CurveVariable => false,
        });
        self.touched.insert(working, touched);
        touched
    }
}
