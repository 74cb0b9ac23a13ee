//! After a repair: which questions are due again, and no others.

use crate::rules::{Holds, QuestionId, RepairId, VarOwner};

use crate::interview::advice::verdict::told;
use crate::interview::answers::answer::Answer;
use crate::interview::answers::round::Round;
use crate::interview::answers::round::says_something;
use crate::interview::evidence::facts::Facts;
use crate::interview::state::State;
use crate::interview::walk::choose::Chooser;
use crate::interview::walk::walker::{Next, Reason, Walker};

/// The next question that the last repair made due again: what was answered and is stale by it,
/// what tells whether it helped, and what has to be known before one of these. None in the first
/// round, and where nothing of that kind is left.
#[must_use]
pub fn due_after_repair(state: &State<'_>, rounds: &[Round]) -> Option<Next> {
    let repair = rounds.last()?.repair?;
    let past = state.before.last()?;
    let pool = reopened(state, past, repair);
    let chooser = Chooser::by_facts(&state.facts, state.ranked.posterior());
    let walker = Walker::new(&state.facts, &state.danger, &state.complaints, &chooser);
    // What kind of car it is, a repair doesn't change: who wasn't asked so far isn't asked now.
    let holds_for_the_car =
        |question: QuestionId| state.pack.questions[question].holds == Holds::Car;
    let fresh = walker
        .askable(&pool)
        .first()
        .map(|askable| if holds_for_the_car(askable.due) { askable.wanted } else { askable.due });
    let put_off = || {
        let mut put_off = state.facts.put_off().into_iter();
        put_off.find(|question| {
            pool.contains(question) && !state.danger.forbids_question(state.pack, *question)
        })
    };
    let untold = || told_by(state).into_iter().find(|question| is_untold(state, *question));
    match fresh {
        Some(question) => Some(Next { question, step: None, reason: Reason::AfterRepair }),
        None => put_off().or_else(untold).map(|question| Next {
            question,
            step: None,
            reason: Reason::PutOff,
        }),
    }
}

/// The questions by which the person tells whether the trouble is gone.
fn told_by(state: &State<'_>) -> Vec<QuestionId> {
    let complaints = state.complaints.iter();
    let mut found: Vec<QuestionId> = Vec::new();
    for question in complaints.filter_map(|own| state.pack.complaints[*own].told_by) {
        if !found.contains(&question) {
            found.push(question);
        }
    }
    found
}

/// Answered with what is no verdict: not driven since. That is as good as put off.
fn is_untold(state: &State<'_>, question: QuestionId) -> bool {
    let chosen =
        matches!(state.facts.held.get(&question).map(|held| &held.answer), Some(Answer::Option(_)));
    chosen && told(&state.facts, question).is_none()
}

/// What to ask again: first whether the trouble itself is gone, then what the repair disturbed, then
/// the readings it is judged by.
fn reopened(state: &State<'_>, past: &Facts<'_>, repair: RepairId) -> Vec<QuestionId> {
    let pack = state.pack;
    let written = &pack.repairs[repair];
    let disturbed = written
        .invalidates
        .iter()
        .copied()
        .filter(|question| says_something(&past.held, *question));
    let weather = state
        .complaints
        .iter()
        .flat_map(|complaint| pack.complaints[*complaint].comparable_within.iter())
        .map(|(question, _)| *question)
        .filter(|question| pack.questions[*question].is_of_one_run())
        .filter(|question| says_something(&past.held, *question));
    let mut judged: Vec<QuestionId> =
        written.predicts.iter().map(|(question, _)| *question).collect();
    if judged.iter().all(|question| !pack.questions[*question].is_of_one_run()) {
        judged.extend(judged_by(state, past));
    }
    let mut pool: Vec<QuestionId> = Vec::new();
    let told = told_by(state);
    for question in told.into_iter().chain(disturbed).chain(weather).chain(judged) {
        if !pool.contains(&question) {
            pool.push(question);
        }
    }
    let beside = readings_beside(state, &pool);
    pool.extend(beside);
    pool
}

/// What is read together with a reading that is due, where the number that the complaint is judged by
/// needs both.
fn readings_beside(state: &State<'_>, pool: &[QuestionId]) -> Vec<QuestionId> {
    let pack = state.pack;
    let follows = |question: &QuestionId| {
        pack.questions[*question].is_of_one_run()
            && !pool.contains(question)
            && pack.questions[*question].not_before.iter().any(|before| pool.contains(before))
    };
    let mut found: Vec<QuestionId> = below_the_judge(state).into_iter().filter(follows).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// The readings of one run below the number that the complaint is judged by, as far as there were any.
fn judged_by(state: &State<'_>, past: &Facts<'_>) -> Vec<QuestionId> {
    let mut found = below_the_judge(state);
    found.retain(|question| {
        state.pack.questions[*question].is_of_one_run() && says_something(&past.held, *question)
    });
    found
}

fn below_the_judge(state: &State<'_>) -> Vec<QuestionId> {
    let pack = state.pack;
    let slots = state
        .complaints
        .iter()
        .filter_map(|complaint| pack.complaints[*complaint].judged_by)
        .map(|slot| pack.owner_of(slot));
    let mut found = Vec::new();
    for named in slots {
        match named {
            VarOwner::Question(question) => found.push(question),
            VarOwner::Working(working) => {
                found.extend(state.facts.questions_below(&pack.workings[working].formula.node));
            }
            VarOwner::CurveVariable => {}
        }
    }
    found
}
