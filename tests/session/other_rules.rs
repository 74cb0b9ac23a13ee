//! A session that is opened with other rules than it was held with.

use std::fs;

use boostwright::session::{SessionFile, read_session, take};

use super::bench::{folder, pack, text, two_rounds};

#[test]
fn the_same_rules_take_everything() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let mut file = SessionFile::create(&path, two_rounds()).unwrap();
    let taken = file.rounds(&pack()).unwrap();
    assert!(!taken.other_rules);
    assert_eq!(taken.rounds[0].answers.len(), 6);
    assert_eq!(taken.rounds[1].answers.len(), 1);
}

#[test]
fn what_other_rules_do_not_know_is_reported_and_kept() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let mut older = two_rounds();
    older.pack.as_mut().unwrap().digest = "0000000000000000".to_owned();
    older.give("hose_was_new", text("yes"));
    drop(SessionFile::create(&path, older).unwrap());
    let mut file = SessionFile::open(&path).unwrap();
    let taken = file.rounds(&pack()).unwrap();
    assert!(taken.other_rules);
    assert_eq!(taken.rounds[1].answers.len(), 1);
    let told = taken.left_out.draw(false).join("\n");
    assert!(told.contains("these rules have no question hose_was_new"), "{told}");
    let line = fs::read_to_string(&path)
        .unwrap()
        .lines()
        .position(|line| line.contains("hose_was_new"))
        .unwrap();
    assert_eq!(taken.left_out.positions()[0].line, line + 1);
    file.save().unwrap();
    drop(file);
    // Still there, and still no mistake of the person's.
    let (session, source) = read_session(&path).unwrap();
    assert_eq!(session.rounds[1].answers["hose_was_new"], text("yes"));
    assert!(take(&session, &source, &pack()).unwrap().other_rules);
}

#[test]
fn a_session_that_other_rules_take_whole_is_theirs_from_then_on() {
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    let mut older = two_rounds();
    older.pack.as_mut().unwrap().digest = "0000000000000000".to_owned();
    let mut file = SessionFile::create(&path, older).unwrap();
    assert!(file.rounds(&pack()).unwrap().other_rules);
    assert!(!file.rounds(&pack()).unwrap().other_rules);
}

#[test]
fn rules_that_know_no_complaint_of_the_session_are_refused() {
    let mut older = two_rounds();
    older.pack.as_mut().unwrap().digest = "0000000000000000".to_owned();
    older.rounds[0].complaints = vec!["boost_too_low".to_owned()];
    let folder = folder();
    let path = folder.path().join("boost.yaml");
    drop(SessionFile::create(&path, older).unwrap());
    let faults = SessionFile::open(&path).unwrap().rounds(&pack()).unwrap_err();
    assert!(faults.any_error());
}
