//! Where an interview stands: what the fold gives.

use crate::interview::advice::danger::Danger;
use crate::interview::evidence::factors::Evidence;
use crate::interview::evidence::facts::Facts;
use crate::interview::internal_error::InternalError;
use crate::interview::walk::choose::Valuation;
use crate::interview::walk::clear_lead::standing_clear;
use crate::interview::walk::known::Known;
use crate::interview::walk::walker::Walk;
use crate::ranking::{Belief, Posterior};
use crate::rules::{CauseId, ComplaintId, Pack, QuestionId, SetupId, TypedIndex};

/// Where an interview stands.
pub struct State<'p> {
    pub pack: &'p Pack,
    pub complaints: Vec<ComplaintId>,
    /// The number of the present round, from 1.
    pub round: usize,
    /// What was known at the end of each earlier round.
    pub before: Vec<Facts<'p>>,
    /// What is known now.
    pub facts: Facts<'p>,
    /// What the earlier rounds leave behind.
    pub belief: Belief,
    /// This round's evidence.
    pub evidence: Vec<Evidence>,
    pub ranked: Ranked,
    pub danger: Danger,
    /// The complaint is gone since the last repair: nothing is left to ask or to mend.
    pub cured: bool,
    pub walk: Walk,
    /// Questions that may still come up.
    pub open: Vec<QuestionId>,
    /// What questions are worth, as far as the walk had to know it.
    pub(super) valued: Valuation,
    /// Set-ups that are still in place, and in the way of what the walk asks next.
    pub in_place: Vec<SetupId>,
}

/// The causes by what is known.
pub enum Ranked {
    Causes(Posterior),
    /// What was answered can't all be true: the answers that clash.
    Contradiction(Vec<QuestionId>),
    /// A slip of this program kept them from being ranked.
    Failed(InternalError),
}

impl Ranked {
    /// Chance of each cause, by index; empty where they could not be ranked.
    #[must_use]
    pub fn probabilities(&self) -> &[f64] {
        self.posterior().map_or(&[], Posterior::probabilities)
    }

    /// Chance of one cause; 0 where they could not be ranked.
    #[must_use]
    pub fn probability(&self, cause: CauseId) -> f64 {
        self.probabilities().get(cause.index()).copied().unwrap_or_default()
    }

    /// The posterior, where the causes could be ranked.
    #[must_use]
    pub fn posterior(&self) -> Option<&Posterior> {
        match self {
            Self::Causes(posterior) => Some(posterior),
            Self::Contradiction(_) | Self::Failed(_) => None,
        }
    }
}

impl State<'_> {
    /// What went wrong in this program itself, if anything did.
    #[must_use]
    pub fn internal_error(&self) -> Option<&InternalError> {
        match &self.ranked {
            Ranked::Failed(error) => Some(error),
            Ranked::Causes(_) | Ranked::Contradiction(_) => None,
        }
    }

    /// Whether the car may have what a question asks about.
    #[must_use]
    pub fn fits(&self, question: QuestionId) -> bool {
        Known::fits(&self.facts, question)
    }

    /// Whether the lead stands clear of the other causes.
    #[must_use]
    pub fn is_clear(&self) -> bool {
        !self.standing_clear().is_empty()
    }

    /// The causes that stand clear, the likeliest first: one, or several that are present together.
    #[must_use]
    pub fn standing_clear(&self) -> Vec<CauseId> {
        let clear = self.ranked.posterior().map(standing_clear).unwrap_or_default();
        clear.into_iter().map(CauseId::from_index).collect()
    }
}
