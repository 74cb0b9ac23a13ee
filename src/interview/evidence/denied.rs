//! Answers that deny the complaint itself. A misread gauge is commoner than a complaint about
//! nothing, so that these are worth a second look before they count.

use crate::rules::{ComplaintId, FindingId, QuestionId};

use crate::interview::state::State;

/// A finding with odds of three to one against it is ruled out. Readings that may slip seldom speak
/// more clearly: two of them leave a tenth either way.
const RULED_OUT: f64 = 0.25;

/// What a complaint shows, and answers rule out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Denied {
    pub complaint: ComplaintId,
    pub finding: FindingId,
    /// The answers that rule it out.
    pub answers: Vec<QuestionId>,
}

impl State<'_> {
    /// What the complaints show and the answers of the first round rule out. None in later rounds:
    /// after a repair it is what everybody hopes for.
    #[must_use]
    pub fn denied(&self) -> Vec<Denied> {
        let pack = self.pack;
        let mut found: Vec<Denied> = Vec::new();
        for complaint in self.complaints.iter().filter(|_| self.round == 1) {
            for finding in &pack.complaints[*complaint].shows {
                let when = &pack.findings[*finding].when;
                let chance = self.facts.weigh(when).and_then(|weight| weight.decided());
                let known = found.iter().any(|denied| denied.finding == *finding);
                if known || chance.is_none_or(|chance| chance >= RULED_OUT) {
                    continue;
                }
                let below = self.facts.questions_below(&when.node);
                let answered = below.filter(|question| self.facts.answered(*question));
                let mut answers: Vec<QuestionId> =
                    answered.map(|question| pack.asked_with(question)).collect();
                answers.dedup();
                found.push(Denied { complaint: *complaint, finding: *finding, answers });
            }
        }
        found
    }
}
