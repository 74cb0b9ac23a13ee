//! A conclusion proposes a check where the interview asks no more.

use boostwright::interview::{Answer, Round, Task, fold, next_work};
use boostwright::terminal::Scope;

use super::garage::{Memory, talk_on};
use crate::built_in::built_in;

/// Who comes back after the conclusion has made the check that it proposed.
#[test]
fn the_proposed_check_is_asked_where_nothing_else_is_left() {
    let pack = built_in();
    let complaints = vec![pack.complaints.find("boost_swings").unwrap()];
    let mut round = Round { complaints, ..Round::default() };
    while let Some(next) = fold(pack, std::slice::from_ref(&round), None).walk.next {
        round.give(next.question, Answer::CantSay);
    }
    let state = fold(pack, std::slice::from_ref(&round), None);
    let Task::Check(check) = next_work(&state).unwrap()[0].what else { panic!("no check") };
    let held = talk_on(pack, vec![round.clone()], Scope::Everything, Memory::default(), &["s"]);
    let asked = &pack.questions[check].text;
    assert!(held.says(asked), "{asked}:\n{}", held.said);
}
