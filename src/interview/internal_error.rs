//! What can't happen, and yet did: a slip of this program. It is said as such, so that nobody looks for it
//! among the answers or takes an empty list for an answer.

use std::fmt;

use crate::ranking::Refusal;

/// A slip of this program: neither the person nor the rules are to blame.
#[derive(Debug, Clone, PartialEq)]
pub struct InternalError {
    doing: &'static str,
    refusal: Refusal,
}

impl InternalError {
    /// What was being done, as the subject of "can't be done": "ranking the causes"; and what stood in
    /// the way.
    pub(in crate::interview) fn new(doing: &'static str, refusal: Refusal) -> Self {
        Self { doing, refusal }
    }
}

impl fmt::Display for InternalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { doing, refusal } = self;
        write!(
            f,
            "{doing} failed inside this program ({refusal}). That should never happen, and no answer is at \
             fault. Please report it, with the answers as they are saved and what `boostwright --version` \
             prints."
        )
    }
}

impl std::error::Error for InternalError {}
