//! A file that somebody else changes while a session is open in it.

use std::fs;

use boostwright::session::{Problem, SessionFile, read_session};

use super::bench::{folder, names, text, two_rounds};

#[test]
fn a_file_that_somebody_else_changed_is_written_over_only_when_asked_again() {
    let folder = folder();
    let path = folder.path().join("b.yaml");
    let mut file = SessionFile::create(&path, two_rounds()).unwrap();
    file.session.give("needle", text("level"));
    file.save().expect("nobody else was there");
    for (turn, kept) in [(1, "b.yaml.other"), (2, "b.yaml.other2")] {
        let theirs = format!("{}# by hand, {turn}\n", fs::read_to_string(&path).unwrap());
        fs::write(&path, &theirs).unwrap();
        file.session.give("times_repaired", text(&turn.to_string()));
        let refused = file.save().unwrap_err();
        assert!(matches!(refused.problem, Problem::Changed), "{refused}");
        assert!(refused.to_string().contains("changed by somebody else"), "{refused}");
        assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
        // Theirs changed once more is not the text that was told of.
        let again = format!("{theirs}# and again\n");
        fs::write(&path, &again).unwrap();
        assert!(matches!(file.save().unwrap_err().problem, Problem::Changed));
        file.save().expect("it was told of");
        assert_eq!(read_session(&path).unwrap().0, file.session);
        assert_eq!(fs::read_to_string(folder.path().join(kept)).unwrap(), again);
    }
    assert_eq!(names(&folder), [".b.yaml.lock", "b.yaml", "b.yaml.other", "b.yaml.other2"]);
}

#[test]
fn a_session_whose_file_is_gone_is_saved_whole() {
    let folder = folder();
    let path = folder.path().join("b.yaml");
    drop(SessionFile::create(&path, two_rounds()).unwrap());
    let mut file = SessionFile::open(&path).unwrap();
    fs::remove_file(&path).unwrap();
    file.save().expect("what is gone is not written over");
    assert_eq!(read_session(&path).unwrap().0, two_rounds());
}
