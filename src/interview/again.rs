//! After a repair: which questions are due again, and no others.

use crate::rules::{Holds, Named, Pack, QuestionId, RepairId};

use super::choose::Chooser;
use super::facts::{Facts, says_something};
use super::fold::State;
use super::round::Round;
use super::walk::{Next, Reason, Walker};

/// The next question that the last repair made due again: what was answered and is stale by it,
/// what tells whether it helped, and what has to be known before one of these. None in the first
/// round, and where nothing of that kind is left.
#[must_use]
pub fn due_again(state: &State<'_>, rounds: &[Round]) -> Option<Next> {
    let repair = rounds.last()?.repair?;
    let past = state.before.last()?;
    let pool = reopened(state, past, repair);
    let chooser = Chooser::by_facts(&state.facts, state.ranked.posterior());
    let walker = Walker::new(&state.facts, &state.danger, &state.complaints, &chooser);
    let fresh = walker.askable(&pool).first().map(|askable| askable.due);
    let put_off = || {
        let mut put_off = state.facts.put_off().into_iter();
        put_off.find(|question| {
            pool.contains(question) && !state.danger.forbids_question(state.pack, *question)
        })
    };
    match fresh {
        Some(question) => Some(Next { question, step: None, reason: Reason::AfterRepair }),
        None => put_off().map(|question| Next { question, step: None, reason: Reason::PutOff }),
    }
}

/// What to ask again: first what the repair disturbed, then the readings it is judged by.
fn reopened(state: &State<'_>, past: &Facts<'_>, repair: RepairId) -> Vec<QuestionId> {
    let pack = state.pack;
    let written = &pack.repairs[repair];
    let disturbed =
        written.stales.iter().copied().filter(|question| says_something(&past.held, *question));
    let weather = state
        .complaints
        .iter()
        .flat_map(|complaint| pack.complaints[*complaint].comparable_within.iter())
        .map(|(question, _)| *question)
        .filter(|question| holds_one_run(pack, *question))
        .filter(|question| says_something(&past.held, *question));
    let predicted: Vec<QuestionId> =
        written.predicts.iter().map(|(question, _)| *question).collect();
    let judged = if predicted.is_empty() { judged_by(state, past) } else { predicted };
    let mut pool: Vec<QuestionId> = Vec::new();
    for question in disturbed.chain(weather).chain(judged) {
        if !pool.contains(&question) {
            pool.push(question);
        }
    }
    pool
}

/// The readings of one run below the number that the complaint is judged by.
fn judged_by(state: &State<'_>, past: &Facts<'_>) -> Vec<QuestionId> {
    let pack = state.pack;
    let slots = state
        .complaints
        .iter()
        .filter_map(|complaint| pack.complaints[*complaint].judged_by)
        .map(|slot| pack.named(slot));
    let mut found = Vec::new();
    for named in slots {
        match named {
            Named::Question(question) => found.push(question),
            Named::Working(working) => {
                found.extend(state.facts.questions_below(&pack.workings[working].formula.node));
            }
            Named::CurveVariable => {}
        }
    }
    found
        .retain(|question| holds_one_run(pack, *question) && says_something(&past.held, *question));
    found
}

fn holds_one_run(pack: &Pack, question: QuestionId) -> bool {
    pack.questions[question].holds == Holds::EachRun
}
