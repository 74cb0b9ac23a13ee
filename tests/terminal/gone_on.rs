//! A file that is gone on with says which car, complaint and round it is, and need not be named.

use std::fs;

use tempfile::{TempDir, tempdir};

use super::desk::{CTRL_C, Desk, command};

fn begun() -> TempDir {
    let folder = tempdir().unwrap();
    let session = "complaint: too_high\ncar: an invented estate\nanswers:\n  hose_sound: yes\n";
    fs::write(folder.path().join("boost.yaml"), session).unwrap();
    folder
}

#[test]
fn whoever_goes_on_reads_which_car_and_complaint_it_is() {
    for verb in ["ask", "recheck"] {
        let folder = begun();
        let mut desk = Desk::start(80, command(folder.path(), &[verb]));
        desk.sees("boost.yaml, an invented estate: Boost too high, round 1");
        desk.wait_for_prompt().press(CTRL_C);
        assert_eq!(desk.end(), 130, "{verb}: {}", desk.shown());
    }
}

/// Who comes back after the conclusion has made the check that it proposed.
#[test]
fn the_proposed_check_is_asked_where_nothing_else_is_left() {
    let pack = crate::built_in::pack();
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
