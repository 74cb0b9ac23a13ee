//! What could not be worked out on the way, and why.

use crate::formula::{EvalError, Node};
use crate::interview::Answer;
use crate::physics::Refusal;
use crate::quantity::print_value;
use crate::report::model::{GapCode, RefusedLine};
use crate::rules::{QuestionId, VarOwner, WorkingId};
use crate::text::{listed, spaced};

use super::ConclusionBuilder;
use super::figures::kind_of;

/// The most missing answers that are named.
const MAX_MISSING: usize = 3;

/// Why there is no number, for a program.
pub(super) fn gap_code(gap: &EvalError) -> GapCode {
    match gap {
        EvalError::Unknown => GapCode::Unknown,
        EvalError::Refused(_) => GapCode::Refused,
    }
}

/// What is at fault and why.
pub(super) fn in_words(refusal: &Refusal) -> String {
    format!("{}: {}", spaced(refusal.quantity), refusal.reason)
}

impl ConclusionBuilder<'_, '_> {
    /// The workings of the steps on the way that gave no result, in the order of the steps.
    pub(super) fn refused(&self) -> Vec<RefusedLine> {
        let mut seen: Vec<WorkingId> = Vec::new();
        let mut lines = Vec::new();
        for working in &self.state.walk.named {
            if seen.contains(working) {
                continue;
            }
            seen.push(*working);
            if let Some((code, reason)) = self.why_not(*working) {
                lines.push(RefusedLine {
                    id: self.pack.workings.id(*working).to_owned(),
                    title: self.pack.working_title(*working),
                    code,
                    reason,
                });
            }
        }
        lines
    }

    /// Why a working has no result; none where it has one, or where nobody came as far as to want
    /// it.
    fn why_not(&self, working: WorkingId) -> Option<(GapCode, String)> {
        match self.state.facts.worked_or_why(working).err()? {
            EvalError::Refused(refusal) => {
                let reason = in_words(&refusal);
                let reason = match refusal.above {
                    Some(limit) => format!("above {}; {reason}", self.limit(working, limit)),
                    None => reason,
                };
                Some((GapCode::Refused, reason))
            }
            EvalError::Unknown => Some((GapCode::Unknown, self.missing(working)?)),
        }
    }

    /// A limit in the unit of a working.
    fn limit(&self, working: WorkingId, si: f64) -> String {
        let unit = &self.pack.workings[working].unit;
        print_value(si, 0.0, unit, kind_of(unit))
    }

    /// What is missing for a working that rests on at least one answer, once it was asked for or
    /// nothing more will be.
    fn missing(&self, working: WorkingId) -> Option<String> {
        let facts = &self.state.facts;
        let node = &self.pack.workings[working].formula.node;
        let unsaid = |question: &QuestionId| {
            facts.held.get(question).is_some_and(|held| held.answer == Answer::CantSay)
        };
        let optional = self.optional(node);
        let (spare, needed): (Vec<QuestionId>, Vec<QuestionId>) = facts
            .questions_below(node)
            .filter(|question| !facts.answered(*question) && !facts.assumes(*question))
            .partition(|question| optional.contains(question));
        let missing = if needed.is_empty() { spare } else { needed };
        let is_wanted = self.state.walk.next.is_none() || missing.iter().any(unsaid);
        if missing.is_empty() || !is_wanted || !self.rests_on_answers(node) {
            return None;
        }
        let mut named: Vec<String> =
            missing.iter().take(MAX_MISSING).map(|question| self.short_title(*question)).collect();
        let more = missing.len() - named.len();
        if more > 0 {
            named.push(format!("{more} more"));
        }
        let be = if missing.len() == 1 { "is" } else { "are" };
        Some(format!("{} {be} not known", listed(&named)))
    }

    /// The questions that a formula does without: it asks whether they are known.
    fn optional(&self, node: &Node) -> Vec<QuestionId> {
        let mut found = Vec::new();
        let mut wanted: Vec<WorkingId> = Vec::new();
        let mut look = |node: &Node, wanted: &mut Vec<WorkingId>| {
            node.walk(&mut |part| {
                if let Node::Known(slot) = part
                    && let VarOwner::Question(question) = self.pack.owner_of(*slot)
                {
                    found.push(question);
                }
            });
            for slot in node.reads() {
                if let VarOwner::Working(working) = self.pack.owner_of(slot)
                    && !wanted.contains(&working)
                {
                    wanted.push(working);
                }
            }
        };
        look(node, &mut wanted);
        let mut next = 0;
        while let Some(working) = wanted.get(next).copied() {
            look(&self.pack.workings[working].formula.node, &mut wanted);
            next += 1;
        }
        found
    }
}
