//! A round with readings in it: all that was known with them, and what each comes to. A fold looks at
//! the same round once for each that follows; as long as nothing more is known of it, once will do.

use std::sync::Arc;

use crate::formula::{Memo, VarId};
use crate::interview::answers::answer::{Answer, Reading};
use crate::interview::answers::round::Answers;
use crate::interview::evidence::earlier::Earlier;
use crate::interview::evidence::facts::Facts;
use crate::rules::{Pack, ReadingId};

/// A condition less likely than this makes its answer no reading.
const UNLIKELY: f64 = 0.05;

/// What is known of the engine as it was in a round, and its readings.
pub(super) struct ReadRound<'p> {
    pub(super) facts: Facts<'p>,
    pub(super) read: Vec<Read>,
}

/// An answer that is a reading.
pub(super) struct Read {
    pub(super) rule: ReadingId,
    pub(super) value: f64,
    /// Of the answer and the formula together.
    pub(super) uncertainty: f64,
    /// How likely it is one, 0 to 1.
    pub(super) holds: f64,
    /// Stands for the formula of what it should be, and all that this rests on.
    pub(super) formula: u64,
    pub(super) below: Vec<VarId>,
}

impl<'p> ReadRound<'p> {
    /// `round` counts from 0.
    pub(super) fn new(facts: Facts<'p>, round: usize) -> Self {
        let rules = facts.pack.readings.iter();
        let read = rules.filter_map(|(rule, _)| Read::of(&facts, rule, round)).collect();
        Self { facts, read }
    }
}

impl Read {
    /// None where the rule's answer is no reading, or was not given in this round.
    fn of(facts: &Facts<'_>, id: ReadingId, round: usize) -> Option<Self> {
        let rule = &facts.pack.readings[id];
        let answer = number_of(&facts.held, facts.pack, id, round)?;
        let holds = match &rule.when {
            Some(when) => facts.evaluator.weigh(when).map_or(0.0, |weight| weight.probability),
            None => 1.0,
        };
        if holds < UNLIKELY || facts.evaluator.value(&rule.should_be).is_err() {
            return None;
        }
        Some(Self {
            rule: id,
            value: answer.value,
            uncertainty: answer.uncertainty.hypot(rule.good_to.of(answer.value)),
            holds,
            formula: facts.evaluator.fingerprint(&rule.should_be),
            below: facts.evaluator.uncertain_below(&rule.should_be.node),
        })
    }
}

/// The number that was read in a round.
fn number_of<'h>(
    held: &'h Answers,
    pack: &Pack,
    rule: ReadingId,
    round: usize,
) -> Option<&'h Reading> {
    match held.get(&pack.readings[rule].of).filter(|held| held.round == round).map(|h| &h.answer) {
        Some(Answer::Number(number)) => Some(number),
        _ => None,
    }
}

/// Whether a round has anything that may be a reading.
pub(super) fn any_read(pack: &Pack, held: &Answers, round: usize) -> bool {
    pack.readings.indices().any(|rule| number_of(held, pack, rule, round).is_some())
}

/// The rounds that were looked at so far in a fold, by number.
#[derive(Default)]
pub(in crate::interview) struct ReadRounds<'p> {
    known: Vec<Option<Arc<ReadRound<'p>>>>,
}

impl<'p> ReadRounds<'p> {
    /// A round with these answers, which are all that is known of it.
    pub(super) fn round(
        &mut self,
        pack: &'p Pack,
        then: Answers,
        (earlier, round): (&Earlier, usize),
        memo: &Arc<Memo>,
    ) -> Arc<ReadRound<'p>> {
        if let Some(Some(known)) = self.known.get(round)
            && known.facts.held == then
        {
            return Arc::clone(known);
        }
        let facts = Facts::new(pack, then, &earlier.until(round), memo);
        let found = Arc::new(ReadRound::new(facts, round));
        if self.known.len() <= round {
            self.known.resize_with(round + 1, || None);
        }
        self.known[round] = Some(Arc::clone(&found));
        found
    }
}
