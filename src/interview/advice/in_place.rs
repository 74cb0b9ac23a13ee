//! What was set up and has to be undone before something else is done.

use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::Round;
use crate::rules::{Pack, QuestionId, SetupId};

/// Set-ups used in this round and not said to be put back, that are undone before `next`: a question that
/// wants the car in another one or none; a question of memory leaves the car as it is. With none, all.
#[must_use]
pub fn in_place(pack: &Pack, round: Option<&Round>, next: Option<QuestionId>) -> Vec<SetupId> {
    let is_back = |setup| round.is_some_and(|round| round.put_back.contains(&setup));
    let places = |question: QuestionId| {
        Some(&pack.questions[question]).filter(|asked| asked.needs_a_place())
    };
    let answers = round.into_iter().flat_map(|round| round.answers.iter().rev());
    let mut made = answers
        .filter(|(_, answer)| !matches!(answer, Answer::Later | Answer::CantSay))
        .filter_map(|(question, _)| places(*question));
    let last = made.next().and_then(|asked| asked.setup);
    let stays = next.is_some_and(|next| places(next).is_none_or(|asked| asked.setup == last));
    last.filter(|last| !stays && !is_back(*last)).into_iter().collect()
}
